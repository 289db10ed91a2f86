package polymer

import (
	"fmt"
	"math"
	"strings"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/source"
)

// Value is one thing known about one material, from one source.
type Value struct {
	Polymer  string        // "PLA"
	Grade    string        // "annealed", "homopolymer"; empty for the usual grade
	Property Property      // what it is
	Value    float64       // SI, the median of what to draw
	Low      float64       // SI: 10 % of what is out there lies below
	High     float64       // SI: 10 % of what is out there lies above
	Kind     quantity.Kind // of the three numbers
	At       string        // condition: "23 °C, 50 %RH", "210 °C, 2.16 kg"
	Source   source.Ref    // whose number it is; empty for a shop's own
	Mark     Mark          // how far to trust it
	Note     Note          // what to bear in mind; may be empty
}

// Note is what to bear in mind of a value.
type Note string

// The notes.
const (
	UsualScatter Note = "usual scatter" // one number in the source; its range is the usual scatter of this property, a judgement
	StandIn      Note = "stand-in"      // nobody entered this; the wide range of an unknown material stands in
)

// OffError says that a value cannot be right.
type OffError struct {
	Value
	Lo, Hi float64 // the plausible band
}

// Error names the value, for logs.
func (e *OffError) Error() string {
	return fmt.Sprintf("%s %s: %g", e.Polymer, e.Property, e.Value.Value)
}

// Disordered reports whether low, value and high do not rise.
func (e *OffError) Disordered() bool { return !(e.Low <= e.Value.Value && e.Value.Value <= e.High) }

// Own builds a shop's own value from SI numbers, ready for [Table.With]. Give
// low = high = 0 where only the value is known: the property's usual scatter
// stands in and the note says so.
func Own(material string, p Property, value, low, high float64, mark Mark, at string) (Value, error) {
	v := Value{Polymer: material, Property: p, Value: value, Low: low, High: high, Mark: mark, At: at}
	d, ok := p.Description()
	if !ok {
		return Value{}, fmt.Errorf("%q is no property of a material", string(p))
	}
	v.Kind = d.Kind
	if low == 0 && high == 0 {
		v.judgeRange(d)
	}
	if !mark.own() {
		return Value{}, fmt.Errorf("%s of %s: an own value is %q or %q, not %q", p, material, MeasuredHere, Entered, mark)
	}
	return v, v.Check()
}

// judgeRange fills Low and High from the property's usual scatter.
func (v *Value) judgeRange(d Description) {
	v.Low, v.High = d.span(v.Value)
	v.Low, v.High = math.Max(v.Low, d.Lo), math.Min(v.High, d.Hi) // a usual scatter does not leave what is plausible
	v.Low, v.High = math.Min(v.Low, v.Value), math.Max(v.High, v.Value)
	if d.Shape != Exact {
		v.Note = UsualScatter
	}
}

// Check reports what is wrong with the value, or nil: name, unit, order of the
// range, plausible band, mark and source.
func (v Value) Check() error {
	d, ok := v.Property.Description()
	switch {
	case squeeze(v.Polymer) == "":
		return fmt.Errorf("a value has no material: name one")
	case !ok:
		return fmt.Errorf("%s: %q is no property of a material", v.Polymer, string(v.Property))
	}
	switch {
	case v.Kind != d.Kind:
		return fmt.Errorf("%s of %s is in %s but belongs in %s", v.Property, v.Polymer, v.Kind.SI(), d.Kind.SI())
	case !(v.Low <= v.Value && v.Value <= v.High), v.Low < d.Lo || v.High > d.Hi:
		return &OffError{v, d.Lo, d.Hi}
	case !v.Mark.Known():
		return fmt.Errorf("%s of %s: the mark %q is none of the known ones", v.Property, v.Polymer, v.Mark)
	}
	if err := v.Mark.Fit(v.Source.Key); err != nil {
		return fmt.Errorf("%s of %s: %w", v.Property, v.Polymer, err)
	}
	return nil
}

// Figure turns the value into an explained number.
func (v Value) Figure() figure.Figure {
	f := figure.Figure{
		Key: string(v.Property), Name: v.Property.Name(), About: v.Polymer, At: v.under(), Kind: v.Kind,
		Value: v.Value, Low: v.Low, High: v.High, Basis: v.basis(), How: fact.TermCode("known", string(v.Mark)),
	}
	if v.Source.Key != "" {
		f.Sources = []source.Ref{v.Source}
	}
	if v.standIn() {
		f.Warnings = []string{fact.TermCode("at", string(v.Note))}
	}
	if who := v.Lender(); who != "" {
		f.Warnings = append(f.Warnings, fact.TermCode("lent", who))
	}
	return f
}

// Vouch gives a figure that repeats the value its basis and its source.
func (v Value) Vouch(f figure.Figure) figure.Figure {
	f.Basis = v.basis()
	if v.Source.Key == "" {
		return f
	}
	return f.Cite(v.Source.Key, v.Source.Place)
}

// basis is the figure's word for the mark.
func (v Value) basis() figure.Basis {
	switch {
	case v.Polymer == Unknown || v.standIn():
		return figure.Assumed
	case v.Mark == MeasuredHere:
		return figure.Measured
	case v.Mark == Entered:
		return figure.Entered
	}
	return figure.Books
}

// under says for which grade and condition it holds, and what to bear in mind: parts
// that package say words one by one.
func (v Value) under() string {
	var all []string
	for _, part := range []string{v.Grade, v.At, string(v.Note)} {
		if part != "" {
			all = append(all, part)
		}
	}
	return strings.Join(all, "; ")
}
