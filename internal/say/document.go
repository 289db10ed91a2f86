package say

import (
	"math"
	"slices"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/shop"
)

// Document is an answer in words. The terminal prints it, a page shows it and
// --json writes it, so that all three hold the same.
type Document struct {
	Answer   string          `json:"answer"` // the head in words
	Head     Finding         `json:"head"`
	Verdict  answer.Verdict  `json:"verdict,omitempty"`
	Steps    []Action        `json:"steps"`
	Spoilers []Finding       `json:"spoilers"` // worst first
	Cautions []Finding       `json:"cautions"`
	Figures  []figure.Figure `json:"figures"` // the handful a person acts on
	Limits   []Bound         `json:"limits"`
	Tables   []Table         `json:"tables"`
	Charts   []answer.Chart  `json:"charts"`
	Reasons  []Section       `json:"reasons"`
}

// Line is a saying in words, with its code and facts beside it.
type Line struct {
	Say   string         `json:"say"`
	Code  string         `json:"code"`
	Facts map[string]any `json:"facts,omitempty"`

	Saying fact.Saying `json:"-"` // for what leads on from it
}

// Finding is one thing found, with what would change it.
type Finding struct {
	Line
	Lots     []shop.LotID `json:"lots,omitempty"`
	Weight   float64      `json:"weight,omitempty"`
	Remedies []Line       `json:"remedies,omitempty"`
}

// Action is one thing to do.
type Action struct {
	Line
	Why   *Line          `json:"why,omitempty"`
	Takes *figure.Figure `json:"takes,omitempty"`
}

// Bound is a figure with its limit.
type Bound struct {
	Figure figure.Figure `json:"figure"`
	Holds  string        `json:"holds,omitempty"` // the word for how well it is kept; absent where nothing was drawn
	Binds  bool          `json:"binds"`
	Relax  *Line         `json:"relax,omitempty"`
}

// Table is a table in words.
type Table struct {
	Key     string           `json:"key"`
	Title   string           `json:"title"`
	Leads   bool             `json:"leads,omitempty"` // it is the answer
	Columns []Column         `json:"columns"`
	Rows    [][]string       `json:"rows"`
	Facts   []map[string]any `json:"facts"` // of each row, by the column's key
	Notes   []Line           `json:"notes,omitempty"`
}

// Column is the heading of a column.
type Column struct {
	Key     string `json:"key"`
	Name    string `json:"name"`
	Numbers bool   `json:"numbers,omitempty"`
}

// Section is a part of the reasons.
type Section struct {
	Key     string          `json:"key"`
	Title   string          `json:"title"`
	Notes   []Line          `json:"notes,omitempty"`
	Figures []figure.Figure `json:"figures,omitempty"`
	Tables  []Table         `json:"tables,omitempty"`
}

// Document words an answer.
func (p *Printer) Document(d answer.Document) Document {
	t := Document{Head: p.Finding(d.Head), Verdict: d.Verdict, Steps: []Action{}, Spoilers: p.Findings(d.Spoilers), Cautions: p.Findings(d.Cautions),
		Figures: append([]figure.Figure{}, p.Figures(d.Figures)...), Limits: []Bound{}, Tables: []Table{}, Charts: p.Charts(d.Charts), Reasons: []Section{}}
	t.Answer = t.Head.Say
	for _, a := range d.Steps {
		t.Steps = append(t.Steps, p.Action(a))
	}
	for _, b := range d.Limits {
		t.Limits = append(t.Limits, p.bound(b))
	}
	for _, x := range d.Tables {
		t.Tables = append(t.Tables, p.Table(x))
	}
	for _, s := range d.Reasons {
		section := Section{Key: s.Key, Title: p.Line("section." + s.Key), Notes: p.lines(s.Notes), Figures: p.Figures(s.Figures)}
		for _, x := range s.Tables {
			section.Tables = append(section.Tables, p.Table(x))
		}
		t.Reasons = append(t.Reasons, section)
	}
	return t
}

// AllFigures are the figures of an answer in reading order, each once.
func (d Document) AllFigures() []figure.Figure {
	all := slices.Clone(d.Figures)
	for _, b := range d.Limits {
		all = append(all, b.Figure)
	}
	tables := slices.Clone(d.Tables)
	for _, s := range d.Reasons {
		all, tables = append(all, s.Figures...), append(tables, s.Tables...)
	}
	for _, t := range tables {
		all = append(all, t.figures()...)
	}
	var once []figure.Figure
	seen := map[string]bool{}
	for _, f := range all {
		if of := f.Key + " " + f.About; !seen[of] {
			seen[of], once = true, append(once, f)
		}
	}
	return once
}

// figures are those of its cells that stand behind others: what a cell shows of a
// figure is not unfolded twice.
func (t Table) figures() (all []figure.Figure) {
	for _, row := range t.Facts {
		for _, c := range t.Columns {
			if f, ok := row[c.Key].(figure.Figure); ok && len(f.Inputs)+len(f.Sources) > 0 {
				all = append(all, f)
			}
		}
	}
	return all
}

// Sentence is a saying in words, with its code and facts.
func (p *Printer) Sentence(s fact.Saying) Line {
	return Line{Say: p.Say(s), Code: s.Code, Facts: p.facts(s.Facts), Saying: s}
}

func (p *Printer) lines(all []fact.Saying) []Line {
	var lines []Line
	for _, s := range all {
		if !s.Empty() {
			lines = append(lines, p.Sentence(s))
		}
	}
	return lines
}

func (p *Printer) line(s fact.Saying) *Line {
	if s.Empty() {
		return nil
	}
	l := p.Sentence(s)
	return &l
}

// Finding words one finding.
func (p *Printer) Finding(f answer.Finding) Finding {
	return Finding{Line: p.Sentence(f.Saying), Lots: f.Lots, Weight: f.Weight, Remedies: p.lines(f.Remedies)}
}

// Findings words several.
func (p *Printer) Findings(all []answer.Finding) []Finding {
	worded := []Finding{}
	for _, f := range all {
		worded = append(worded, p.Finding(f))
	}
	return worded
}

// Action words one thing to do.
func (p *Printer) Action(a answer.Action) Action {
	t := Action{Line: p.Sentence(a.Do), Why: p.line(a.Why)}
	if a.Takes != nil {
		takes := p.Figure(*a.Takes)
		t.Takes = &takes
	}
	return t
}

func (p *Printer) bound(b answer.Bound) Bound {
	t := Bound{Figure: p.Figure(b.Figure), Binds: b.Binds, Relax: p.line(b.Relax)}
	if l := b.Figure.Limit; l != nil && !math.IsNaN(l.Holds) {
		t.Holds = p.Verdict(answer.Held(l.Holds))
	}
	return t
}

// Table words a table.
func (p *Printer) Table(x answer.Table) Table {
	t := Table{Key: x.Key, Leads: x.Leads, Title: p.Line("table." + x.Key), Rows: [][]string{}, Facts: []map[string]any{}, Notes: p.lines(x.Notes)}
	for _, c := range x.Columns {
		t.Columns = append(t.Columns, Column{c.Key, p.Line("column." + c.Key), c.Numbers})
	}
	for _, row := range x.Rows {
		cells, facts := []string{}, map[string]any{}
		for i, f := range row {
			cells = append(cells, p.Fact(f))
			facts[x.Columns[i].Key] = p.plain(f)
		}
		t.Rows, t.Facts = append(t.Rows, cells), append(t.Facts, facts)
	}
	return t
}

// Chart words a chart, whose titles and names are codes, or names as they are.
func (p *Printer) Chart(c answer.Chart) answer.Chart {
	c.Title, c.Summary = p.Word(c.Title, c.Facts...), p.Word(c.Summary, c.Facts...)
	c.XName, c.YName = p.Word(c.XName), p.Word(c.YName)
	c.Curves, c.Lines, c.Points = slices.Clone(c.Curves), slices.Clone(c.Lines), slices.Clone(c.Points)
	for i := range c.Curves {
		c.Curves[i].Name = p.Word(c.Curves[i].Name, c.Facts...)
	}
	for i := range c.Lines {
		c.Lines[i].Name = p.Word(c.Lines[i].Name, c.Facts...)
	}
	for i := range c.Points {
		c.Points[i].Name = p.Word(c.Points[i].Name, c.Facts...)
	}
	return c
}

// Charts words several.
func (p *Printer) Charts(all []answer.Chart) []answer.Chart {
	worded := []answer.Chart{}
	for _, c := range all {
		worded = append(worded, p.Chart(c))
	}
	return worded
}

// facts are the facts of a saying as scripts read them, by name.
func (p *Printer) facts(all []fact.Fact) map[string]any {
	if len(all) == 0 {
		return nil
	}
	m := map[string]any{}
	for _, f := range all {
		m[f.Name] = p.plain(f)
	}
	return m
}

// amount is a quantity as scripts read it.
type amount struct {
	Value float64 `json:"value"` // SI
	Unit  string  `json:"unit"`
	Shown string  `json:"shown"`
}

func (p *Printer) plain(f fact.Fact) any {
	switch f.Sort {
	case fact.IsFigure:
		return p.Figure(*f.Figure)
	case fact.IsQuantity:
		return amount{f.Value, f.Kind.SI(), p.quantity(f)}
	case fact.IsCount:
		return int(f.Value)
	case fact.IsTime:
		return f.Time.Format(time.RFC3339)
	case fact.IsParts:
		lines := p.lines(f.Parts)
		if lines == nil {
			lines = []Line{}
		}
		return lines
	}
	return f.Text
}
