package traceability

import (
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/colour"
	"hopperful/shop"
)

// LotColour is what a lot looks like: as somebody took it, or mixed from its
// parents. A lot of which any part has no colour on record has none.
type LotColour struct {
	answer.Document
	Lot      shop.LotID
	Basis    ColourBasis
	Mixed    *Shade           // melted into one; nil where nobody knows
	Unmixed  *Shade           // side by side, as granules and streaks
	Apart    *figure.Figure   // colour difference between the two
	Doubt    *figure.Figure   // how far the true colour of the melt may be off
	Seen     *SeenColour      // the colour taken, nil where none holds
	Forecast *Shade           // by the parents, where the lot itself was looked at too
	Off      *figure.Figure   // colour difference between what was seen and that forecast
	Parts    []ColourPart     // the lots whose colours stand behind it, the largest first
	Learned  []fact.Saying    // what melted mixes taught of its parts
	Doubts   []answer.Finding // what can hardly be true
	Missing  []shop.LotID     // the lots whose colour has to be taken first
	Notes    []fact.Saying
}

// SeenColour is the colour somebody took of a lot.
type SeenColour struct {
	Shade
	How    shop.ColourWay
	Melted bool // of the melt, else of grains side by side
	Record shop.RecordID
	Errs   float64 // how far such a colour is off, in the colour difference, root mean square [1]
}

// ColourPart is a lot whose own colour stands behind that of another.
type ColourPart struct {
	Lot     shop.LotID
	Name    string
	Share   float64 // by mass [1]
	Shade   Shade
	Basis   ColourBasis
	Scatter figure.Figure // how strongly it scatters light against the others
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
	c := LotColour{Lot: id}
	lot, ok := w.s.Lot(id)
	if !ok {
		return c, shop.NoLot("lot", id)
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
		c.Notes = append(c.Notes, fact.Say("colour.no_longer_holds", fact.Name("record", strconv.FormatInt(int64(all[0].ID), 10))))
	}
	c.document()
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
