package polymer

import (
	"fmt"
	"math"

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
	Note     string        // what to bear in mind, such as a judged range
}

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
		return Value{}, fmt.Errorf("%s of %s: an own value is %q or %q, not %q", d.Name, material, MeasuredHere, Entered, mark)
	}
	return v, v.Check()
}

// judgeRange fills Low and High from the property's usual scatter.
func (v *Value) judgeRange(d Description) {
	v.Low, v.High = d.span(v.Value)
	v.Low, v.High = math.Max(v.Low, d.Lo), math.Min(v.High, d.Hi) // a usual scatter does not leave what is plausible
	v.Low, v.High = math.Min(v.Low, v.Value), math.Max(v.High, v.Value)
	if d.Shape != Exact {
		v.Note = "one number in the source; its range is the usual scatter of this property, a judgement"
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
	fail := func(format string, a ...any) error {
		return fmt.Errorf("%s of %s: %w", d.Name, v.Polymer, fmt.Errorf(format, a...))
	}
	switch {
	case v.Kind != d.Kind:
		return fail("is in %s but belongs in %s", v.Kind.SI(), d.Kind.SI())
	case !(v.Low <= v.Value && v.Value <= v.High):
		return fail("low, value and high are not in order: %g, %g, %g %s", v.Low, v.Value, v.High, d.Kind.SI())
	case v.Low < d.Lo || v.High > d.Hi:
		return fail("%g to %g %s leaves the plausible %g to %g: look for a wrong unit", v.Low, v.High, d.Kind.SI(), d.Lo, d.Hi)
	case !v.Mark.Known():
		return fail("the mark %q is none of the known ones", v.Mark)
	}
	if err := v.Mark.Fit(v.Source.Key); err != nil {
		return fail("%w", err)
	}
	return nil
}

// Figure turns the value into an explained number.
func (v Value) Figure() figure.Figure {
	f := figure.Figure{
		Key: string(v.Property), Name: v.Property.String() + " of " + v.Polymer, Kind: v.Kind,
		Value: v.Value, Low: v.Low, High: v.High, Basis: v.basis(), How: v.how(),
	}
	if v.Source.Key != "" {
		f.Sources = []source.Ref{v.Source}
	}
	if v.standIn() {
		f.Warnings = []string{v.Note}
	}
	return f
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

// how says in one line where the number was taken and how far to trust it.
func (v Value) how() string {
	text := "table of materials, " + string(v.Mark)
	if v.Mark.own() {
		text = "own value, " + string(v.Mark)
	}
	if v.Grade != "" {
		text += ", " + v.Grade
	}
	if v.At != "" {
		text += "; " + v.At
	}
	if v.Note != "" {
		text += "; " + v.Note
	}
	return text
}
