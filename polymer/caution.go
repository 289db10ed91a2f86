package polymer

import (
	"fmt"

	"hopperful/fact"
	"hopperful/source"
)

// anyMaterial stands in a table of cautions or pairs for every material.
const anyMaterial = "any"

// CautionKind says what a caution is about.
type CautionKind string

// The kinds of caution.
const (
	Refuse   CautionKind = "refuse"   // do not take it in
	Fumes    CautionKind = "fumes"    // what leaves the melt
	Grinding CautionKind = "grinding" // what to mind at the mill
	Drying   CautionKind = "drying"   // what to mind in the dryer
)

// Caution is one piece of care about a material. It is advice, never a
// measure of safety; local rules and licensed people come first.
type Caution struct {
	Polymer string // "any" for every material
	Kind    CautionKind
	Code    string // of its wording
	Source  source.Ref
	Mark    Mark
}

// Says is the caution as a finding.
func (c Caution) Says() fact.Saying { return fact.Saying{Code: c.Code} }

// addCaution takes a line of cautions.csv.
func (t *Table) addCaution(f []string) error {
	c := Caution{Polymer: f[0], Kind: CautionKind(f[1]), Code: "caution." + f[2], Source: source.Ref{Key: f[3], Place: f[4]}, Mark: Mark(f[5])}
	switch c.Kind {
	case Refuse, Fumes, Grinding, Drying:
	default:
		return fmt.Errorf("column kind: %q is no kind of caution", f[1])
	}
	if _, ok := t.words[c.Polymer]; !ok && c.Polymer != anyMaterial {
		return fmt.Errorf("%q is not listed in names.csv", c.Polymer)
	}
	if f[2] == "" {
		return fmt.Errorf("column caution is empty")
	}
	if err := c.Mark.Fit(c.Source.Key); err != nil {
		return err
	}
	t.cautions[c.Polymer] = append(t.cautions[c.Polymer], c)
	return nil
}

// Cautions returns what to mind with the material, its own first, then those
// that hold for every material.
func (p Polymer) Cautions() []Caution {
	if p.table == nil {
		return nil
	}
	return append(append([]Caution(nil), p.table.cautions[p.Name]...), p.table.cautions[anyMaterial]...)
}

// Refused returns the reason why the material must not be ground or melted, and
// whether there is one.
func (p Polymer) Refused() (Caution, bool) {
	for _, c := range p.Cautions() {
		if c.Kind == Refuse {
			return c, true
		}
	}
	return Caution{}, false
}
