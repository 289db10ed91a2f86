package say

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
)

// data is what the template of a line is filled with.
func (p *Printer) data(facts []fact.Fact) map[string]any {
	data := map[string]any{}
	for _, f := range facts {
		data[f.Name] = p.value(f)
	}
	return data
}

// value is a fact as a line shows it. What may be empty is a plain text, so that
// a line can ask for it with if.
func (p *Printer) value(f fact.Fact) any {
	switch f.Sort {
	case fact.IsFigure:
		return shownFigure{p, *f.Figure}
	case fact.IsQuantity:
		return p.quantity(f)
	case fact.IsCount:
		return int(f.Value)
	case fact.IsLot:
		return shownLot{f.Text, f.Called}
	case fact.IsTime:
		return p.Moment(f)
	case fact.IsParts:
		return p.joined(p.All(f.Parts), cmp.Or(f.Called, "list.and"))
	}
	return p.sized(f.Text)
}

// size is a length that serves as a name, such as a sieve's.
var size = regexp.MustCompile(`^[0-9]+\.[0-9]+ (mm|µm)$`)

// sized is a name; a length that serves as one has the language's decimal sign.
func (p *Printer) sized(name string) string {
	if size.MatchString(name) {
		return p.Number(name)
	}
	return name
}

// Fact is a fact as a table or a list shows it.
func (p *Printer) Fact(f fact.Fact) string {
	if f.Sort == fact.IsName {
		return p.sized(p.Word(f.Text))
	}
	return fmt.Sprint(p.value(f))
}

func (p *Printer) quantity(f fact.Fact) string {
	switch f.Style {
	case fact.Shown:
		return p.Number(f.Kind.Show(f.Value))
	case fact.Rough:
		return p.Number(f.Kind.Rough(f.Value))
	case fact.Scale:
		return p.Number(quantity.OnScale(f.Value))
	case fact.Bare:
		return p.Number(f.Kind.Bare(f.Value))
	case fact.Whole:
		return p.Number(f.Kind.Fine(f.Value))
	}
	return p.Number(f.Kind.Plain(f.Value))
}

// Moment is a point in time as the language writes it.
func (p *Printer) Moment(f fact.Fact) string {
	if f.Time.IsZero() {
		return ""
	}
	return f.Time.Format(p.Line("time.moment"))
}

// units are the parts of a shown quantity that a language writes its own way.
var units = []struct{ shown, code string }{
	{" to ", "unit.to"}, {" per ", "unit.per"}, {" rpm", "unit.rpm"}, {" %RH", "unit.humidity"},
}

// Decimal puts a bare number, and nothing else, into the language's decimal sign.
func (p *Printer) Decimal(number string) string {
	if p.comma {
		return quantity.Comma(number)
	}
	return number
}

// Typed is a number as a person would type it into a field with that unit.
func (p *Printer) Typed(k quantity.Kind, si float64, unit string) string {
	return p.Decimal(k.Typed(si, unit))
}

// Weighed is a mass as a scale shows it.
func (p *Printer) Weighed(kg float64) string { return p.Number(quantity.OnScale(kg)) }

// Number puts a shown quantity, and nothing else, into the language's decimal
// sign and units.
func (p *Printer) Number(shown string) string {
	shown = p.Decimal(shown)
	if p.minus {
		shown = quantity.Minus(shown)
	}
	if p.Language == languages[0].String() {
		return shown
	}
	for _, u := range units {
		if strings.Contains(shown, u.shown) {
			word := p.Line(u.code)
			if u.shown[len(u.shown)-1] == ' ' {
				word += " "
			}
			shown = strings.ReplaceAll(shown, u.shown, " "+word)
		}
	}
	return shown
}

// List joins texts as a sentence does: "a, b and c".
func (p *Printer) List(texts []string) string { return p.joined(texts, "list.and") }

func (p *Printer) joined(texts []string, last string) string {
	if len(texts) < 2 {
		return strings.Join(texts, "")
	}
	n := len(texts) - 1
	return strings.Join(texts[:n], ", ") + " " + p.Line(last) + " " + texts[n]
}

// shownFigure is a figure in a line: its value, or on demand its range.
type shownFigure struct {
	p *Printer
	f figure.Figure
}

// String is the value with its unit.
func (s shownFigure) String() string { return s.p.Number(s.f.Shown()) }

// Range is its 10–90 % range; "" of what has none.
func (s shownFigure) Range() string { return s.p.Number(s.f.ShownRange()) }

// Name is what it is.
func (s shownFigure) Name() string { return s.p.Word(s.f.Name, fact.Name("about", s.f.About)) }

// Origin is the quiet word for where it comes from.
func (s shownFigure) Origin() string { return s.p.Origin(s.f) }

// With is the value with its range in brackets.
func (s shownFigure) With() string { return s.p.WithRange(s.f) }

// shownLot is a lot in a line: its label with its name, or one of them.
type shownLot struct{ Label, Called string }

// String is the label with the name in brackets.
func (l shownLot) String() string {
	if l.Called == "" {
		return l.Label
	}
	return l.Label + " (" + l.Called + ")"
}

// WithRange is a figure on one line: "1.2 kg (1.1–1.4 kg)".
func (p *Printer) WithRange(f figure.Figure) string {
	shown := p.Number(f.Shown())
	if r := f.ShownRange(); r != "" {
		shown += " (" + p.Number(r) + ")"
	}
	return shown
}

// Origin is the quiet word beside a figure for where it comes from.
func (p *Printer) Origin(f figure.Figure) string {
	if f.Basis == figure.Learned && f.Runs > 0 {
		return p.Line("basis.runs", fact.Count("runs", f.Runs))
	}
	return p.Line("basis." + snake(string(f.Standing())))
}

// Bound is a figure's limit: "at most 62 °C", "at most 240 °C, a guess"; "" where it has none. What
// stands beside the figure itself is not said again.
func (p *Printer) Bound(f figure.Figure) string {
	if f.Limit == nil {
		return ""
	}
	bare := f
	bare.Limit = &figure.Limit{Value: f.Limit.Value}
	bound := p.Line("side."+snake(string(f.Limit.Side))) + " " + p.Number(strings.TrimSpace(bare.ShownLimit()))
	if f.Limit.Basis != "" && f.Limit.Basis != f.Standing() {
		bound += ", " + p.Line("basis."+snake(string(f.Limit.Basis)))
	}
	return bound
}

// Verdict is the word for how sure something is.
func (p *Printer) Verdict(v answer.Verdict) string { return p.Line("verdict." + snake(string(v))) }

func snake(text string) string { return strings.ReplaceAll(text, " ", "_") }

// Figure is a figure with its name, formula, limit and warnings in words. Where
// one of them is no code of the catalogue, as in a formula that is the same in
// every language, it stays.
func (p *Printer) Figure(f figure.Figure) figure.Figure {
	about, at := fact.Name("about", p.sized(p.Word(f.About))), fact.Name("at", p.Conditions(f.At))
	f.Name, f.How = p.Word(f.Name, about), p.Word(f.How, about, at)
	if f.Limit != nil {
		limit := *f.Limit
		limit.Name = p.Word(limit.Name, about)
		f.Limit = &limit
	}
	warnings := f.Warnings
	f.Warnings = nil
	for _, w := range warnings {
		f.Warnings = append(f.Warnings, p.Word(w, about))
	}
	f.Inputs = p.Figures(f.Inputs)
	if len(f.Sources) > 0 {
		f.Sources = slices.Clone(f.Sources)
		for i := range f.Sources {
			f.Sources[i].Place = p.Word(f.Sources[i].Place, about)
		}
	}
	return f
}

// Figures words several figures.
func (p *Printer) Figures(all []figure.Figure) []figure.Figure {
	if all == nil {
		return nil
	}
	worded := make([]figure.Figure, len(all))
	for i, f := range all {
		worded[i] = p.Figure(f)
	}
	return worded
}

// Conditions words what a value holds under, part by part: what has no line, such
// as a temperature, is a number and stays.
func (p *Printer) Conditions(at string) string {
	parts := strings.Split(at, "; ")
	for i, part := range parts {
		if code := fact.TermCode("at", part); p.Has(code) {
			parts[i] = p.Line(code)
			continue
		}
		fine := strings.Split(part, ", ")
		for k, one := range fine {
			if code := fact.TermCode("at", one); p.Has(code) {
				fine[k] = p.Line(code)
			} else {
				fine[k] = p.Number(one)
			}
		}
		parts[i] = strings.Join(fine, ", ")
	}
	return strings.Join(parts, "; ")
}
