package lineage

import (
	"fmt"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/process/colour"
	"hopperful/shop"
)

// LotColour is what a lot looks like: as somebody took it, or mixed from its
// parents. A lot of which any part has no colour on record has none.
type LotColour struct {
	Answer   string           `json:"answer"` // one sentence
	Lot      shop.LotID       `json:"lot"`
	Basis    ColourBasis      `json:"basis"`
	Mixed    *Shade           `json:"mixed,omitempty"`    // melted into one; nil where nobody knows
	Unmixed  *Shade           `json:"unmixed,omitempty"`  // side by side, as granules and streaks
	Apart    *figure.Figure   `json:"apart,omitempty"`    // colour difference between the two
	Doubt    *figure.Figure   `json:"doubt,omitempty"`    // how far the true colour of the melt may be off
	Seen     *SeenColour      `json:"seen,omitempty"`     // the colour taken, nil where none holds
	Forecast *Shade           `json:"forecast,omitempty"` // by the parents, where the lot itself was looked at too
	Off      *figure.Figure   `json:"off,omitempty"`      // colour difference between what was seen and that forecast
	Parts    []ColourPart     `json:"parts"`              // the lots whose colours stand behind it, the largest first
	Learned  []string         `json:"learned"`            // what melted mixes taught of its parts, a sentence each
	Doubts   []answer.Finding `json:"doubts"`             // what can hardly be true
	Missing  []shop.LotID     `json:"missing"`            // the lots whose colour has to be taken first
	Notes    []string         `json:"notes"`
}

// SeenColour is the colour somebody took of a lot.
type SeenColour struct {
	Shade
	How    shop.ColourWay `json:"how"`
	Melted bool           `json:"melted"` // of the melt, else of grains side by side
	Record shop.RecordID  `json:"record"`
	Errs   float64        `json:"errs"` // how far such a colour is off, in the colour difference, root mean square [1]
}

// ColourPart is a lot whose own colour stands behind that of another.
type ColourPart struct {
	Lot     shop.LotID    `json:"lot"`
	Name    string        `json:"name"`
	Share   float64       `json:"share"` // by mass [1]
	Shade   Shade         `json:"shade"`
	Basis   ColourBasis   `json:"basis"`
	Scatter figure.Figure `json:"scatter"` // how strongly it scatters light against the others
}

// ColourBasis is where a colour comes from.
type ColourBasis string

// The bases of a colour.
const (
	ColourTaken   ColourBasis = "taken"  // a record says so
	ColourPicked  ColourBasis = "picked" // a code typed when it came
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

// ColourOf derives the colour of a lot from the one taken of it, else from its
// parents.
func ColourOf(s *shop.State, id shop.LotID) (LotColour, error) { return NewTinter(s).ColourOf(id) }

// ColourOf is what a lot looks like, with all that stands behind it.
func (w *Tinter) ColourOf(id shop.LotID) (LotColour, error) {
	c := LotColour{Lot: id, Missing: []shop.LotID{}, Notes: []string{}, Parts: []ColourPart{}, Learned: []string{}, Doubts: []answer.Finding{}}
	lot, ok := w.s.Lot(id)
	if !ok {
		return c, NoLot(id)
	}
	t, err := w.Of(lot)
	if err != nil {
		return c, err
	}
	c.Basis, c.Missing = t.Basis, append(c.Missing, t.missing...)
	if t.Basis != ColourUnknown {
		if err := w.show(&c, lot, t); err != nil {
			return c, err
		}
	}
	if all := w.s.ColoursTaken(id); lot.Taken == nil && len(all) > 0 {
		c.Notes = append(c.Notes, fmt.Sprintf("The colour of record %d no longer holds: material of another colour, or of one nobody named, came in or was sorted out since.", all[0].ID))
	}
	c.answer()
	return c, nil
}

// show turns both ends into shades, and tells what stands behind them.
func (w *Tinter) show(c *LotColour, lot *shop.Lot, t Tints) error {
	mixed, err := ShadeOf(t.Mixed)
	if err != nil {
		return err
	}
	unmixed, err := ShadeOf(t.Unmixed)
	if err != nil {
		return err
	}
	d, _, err := w.Drawn([]Portion{{lot, 1}})
	if err != nil {
		return err
	}
	apart, err := d.Apart()
	if err != nil {
		return err
	}
	doubt, err := d.Doubt()
	if err != nil {
		return err
	}
	c.Mixed, c.Unmixed, c.Apart, c.Doubt = &mixed, &unmixed, &apart, &doubt
	if err := w.compare(c, lot, t); err != nil {
		return err
	}
	if err := w.tellParts(c, t); err != nil {
		return err
	}
	w.note(c, t)
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
