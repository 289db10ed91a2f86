package desk

import (
	"sync"

	"hopperful/internal/web/drawing"
	"hopperful/plan/traceability"
	"hopperful/process/colour"
	"hopperful/shop"
)

// Palette keeps the colours of the lots of one state of the shop: every page
// draws them, and a state never changes. A later state starts anew, but for the
// codes already turned into curves, which takes longest.
type Palette struct {
	mu     sync.Mutex
	state  *shop.State
	tinter *traceability.Tinter
	paints map[shop.LotID]*drawing.RGB // nil: not known
}

// at turns to a state.
func (p *Palette) at(s *shop.State) {
	switch {
	case p.state == s:
		return
	case p.tinter == nil:
		p.tinter = traceability.NewTinter(s)
	default:
		p.tinter = p.tinter.After(s)
	}
	p.state, p.paints = s, map[shop.LotID]*drawing.RGB{}
}

// paint is the colour a lot has by the records, false when they do not say: of
// granulate what it looks like in the bin, of prints the melt.
func (p *Palette) paint(s *shop.State, l *shop.Lot) (drawing.RGB, bool) {
	if p == nil {
		return drawing.RGB{}, false
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.at(s)
	c, done := p.paints[l.ID]
	if !done {
		c = p.find(l)
		p.paints[l.ID] = c
	}
	if c == nil {
		return drawing.RGB{}, false
	}
	return *c, true
}

// find reckons the colour; a past that cannot be reckoned has none.
func (p *Palette) find(l *shop.Lot) *drawing.RGB {
	t, err := p.tinter.Of(l)
	if err != nil || t.Basis == traceability.ColourUnknown {
		return nil
	}
	curve := t.Unmixed
	if l.Class == shop.Print {
		curve = t.Mixed
	}
	screen, err := colour.ScreenOf(curve)
	if err != nil {
		return nil
	}
	code, _ := screen.Hex()
	c, ok := drawing.ParseHex(code)
	if !ok {
		return nil
	}
	return &c
}

// ColourOf is all that is known of a lot's colour.
func (p *Palette) ColourOf(s *shop.State, id shop.LotID) (traceability.LotColour, error) {
	if p == nil {
		return traceability.ColourOf(s, id)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.at(s)
	return p.tinter.ColourOf(id)
}

// Paint is the colour a lot is drawn in: by its records, else by its word.
func (d *Desk) Paint(l *shop.Lot) drawing.RGB {
	if c, ok := d.Palette.paint(d.State, l); ok {
		return c
	}
	return drawing.ColourOf(l.RGB, l.Colour)
}

// PaintOf is the colour a lot of that label is drawn in.
func (d *Desk) PaintOf(id shop.LotID) drawing.RGB {
	if l, ok := d.State.Lot(id); ok {
		return d.Paint(l)
	}
	return drawing.NoColour
}
