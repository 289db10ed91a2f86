package lineage

import (
	"fmt"

	"hopperful/plan/answer"
	"hopperful/process/colour"
	"hopperful/quantity"
	"hopperful/shop"
)

// LotColour is what a lot looks like: as picked from a photo, or mixed from its
// parents. A lot of which any part has no colour on record has none.
type LotColour struct {
	Answer  string       `json:"answer"` // one sentence
	Lot     shop.LotID   `json:"lot"`
	Basis   ColourBasis  `json:"basis"`
	Mixed   *Shade       `json:"mixed,omitempty"`   // melted into one; nil where nobody knows
	Unmixed *Shade       `json:"unmixed,omitempty"` // side by side, as granules and streaks
	Apart   *float64     `json:"apart,omitempty"`   // colour difference between the two [1]
	Missing []shop.LotID `json:"missing"`           // the lots whose colour has to be picked first
	Notes   []string     `json:"notes"`
}

// ColourBasis is where a colour comes from.
type ColourBasis string

// The bases of a colour.
const (
	ColourPicked  ColourBasis = "picked"
	ColourParents ColourBasis = "from its parents"
	ColourUnknown ColourBasis = "not known"
)

// Shade is one colour as people and machines read it.
type Shade struct {
	Name    string       `json:"name"`  // in plain words
	RGB     string       `json:"rgb"`   // as a screen shows it
	Exact   bool         `json:"exact"` // a screen can show it
	Lab     [3]float64   `json:"lab"`   // L*, a*, b* under daylight
	Curve   []float64    `json:"curve"` // share of light sent back, every 10 nm from 380 nm
	reflect colour.Curve // the same
}

// ColourOf derives the colour of a lot from the one picked for it, else from
// its parents.
func ColourOf(s *shop.State, id shop.LotID) (LotColour, error) {
	lot, ok := s.Lot(id)
	if !ok {
		return LotColour{}, NoLot(id)
	}
	w := NewTinter(s)
	ends, err := w.Of(lot)
	if err != nil {
		return LotColour{}, err
	}
	c := LotColour{Lot: id, Basis: ends.Basis, Missing: append([]shop.LotID{}, ends.missing...), Notes: []string{}}
	if ends.Basis != ColourUnknown {
		if err := c.show(ends); err != nil {
			return c, err
		}
	}
	c.answer()
	return c, nil
}

// show turns both ends into shades.
func (c *LotColour) show(e Tints) error {
	mixed, err := ShadeOf(e.Mixed)
	if err != nil {
		return err
	}
	unmixed, err := ShadeOf(e.Unmixed)
	if err != nil {
		return err
	}
	apart, err := colour.Difference(LabOf(mixed), LabOf(unmixed))
	if err != nil {
		return err
	}
	c.Mixed, c.Unmixed, c.Apart = &mixed, &unmixed, &apart
	c.Notes = append(c.Notes, "A colour picked from a photo is off by 5 to 10 in the colour difference through its light alone.")
	if e.lifted {
		c.Notes = append(c.Notes, "A photo cannot tell how black the darkest part is; in a mix that decides how much it darkens.")
	}
	return nil
}

// ShadeOf says how a curve looks.
func ShadeOf(c colour.Curve) (Shade, error) {
	look, err := colour.LookOf(c)
	if err != nil {
		return Shade{}, err
	}
	s := Shade{Name: look.Name, Lab: [3]float64{look.Lab.L, look.Lab.A, look.Lab.B}, Curve: append([]float64{}, c[:]...), reflect: c}
	s.RGB, s.Exact = look.Screen.Hex()
	return s, nil
}

// LabOf is a shade's L*a*b*.
func LabOf(s Shade) colour.Lab { return colour.Lab{L: s.Lab[0], A: s.Lab[1], B: s.Lab[2]} }

// answer says the colour in a sentence.
func (c *LotColour) answer() {
	switch {
	case c.Basis == ColourUnknown:
		words := make([]string, 0, 4)
		for _, id := range c.Missing[:min(3, len(c.Missing))] {
			words = append(words, string(id))
		}
		if len(c.Missing) > 3 {
			words = append(words, fmt.Sprintf("%d more", len(c.Missing)-3))
		}
		c.Answer = fmt.Sprintf("Nobody has picked the colour of %s; pick that of %s from a photo beside a white card.", c.Lot, answer.List(words))
	case c.Basis == ColourPicked:
		c.Answer = fmt.Sprintf("%s is %s (%s), as picked.", c.Lot, c.Mixed.Name, c.Mixed.RGB)
	case *c.Apart < 1: // nobody sees it side by side
		c.Answer = fmt.Sprintf("%s is %s (%s), by its parents.", c.Lot, c.Mixed.Name, c.Mixed.RGB)
	default:
		c.Answer = fmt.Sprintf("%s is %s (%s) once melted well, %s (%s) side by side; %s apart.", c.Lot,
			c.Mixed.Name, c.Mixed.RGB, c.Unmixed.Name, c.Unmixed.RGB, quantity.Number.Rough(*c.Apart))
	}
}
