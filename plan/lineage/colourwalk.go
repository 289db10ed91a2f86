package lineage

import (
	"slices"

	"hopperful/process/colour"
	"hopperful/shop"
)

// Tints is the colour of a lot between its two ends.
type Tints struct {
	Basis          ColourBasis
	Mixed, Unmixed colour.Curve
	lifted         bool         // a part is darker or whiter than a photo can tell
	missing        []shop.LotID // lots without a colour, each once
}

// Tinter derives colours; known remembers lots already reckoned, picked the
// codes already turned into curves, which takes longest.
type Tinter struct {
	s      *shop.State
	known  map[shop.LotID]Tints
	picked map[string]Tints
}

// NewTinter derives the colours of a shop's lots, each once.
func NewTinter(s *shop.State) *Tinter {
	return &Tinter{s: s, known: map[shop.LotID]Tints{}, picked: map[string]Tints{}}
}

// Of is the colour of a lot: picked, else that of its parents by mass, as long
// as all that came into it has one.
func (w *Tinter) Of(l *shop.Lot) (Tints, error) {
	if done, ok := w.known[l.ID]; ok {
		return done, nil
	}
	var t Tints
	var err error
	switch {
	case l.RGB != "":
		t, err = w.pick(l.RGB)
	case outsideOf(l) > 0 || len(l.Parents) == 0:
		t = Tints{Basis: ColourUnknown, missing: []shop.LotID{l.ID}}
	default:
		t, err = w.parents(l)
	}
	if err != nil {
		return t, err
	}
	w.known[l.ID] = t
	return t, nil
}

// pick is a colour picked from a photo.
func (w *Tinter) pick(code string) (Tints, error) {
	if done, ok := w.picked[code]; ok {
		return done, nil
	}
	rgb, err := colour.ParseHex(code)
	if err != nil {
		return Tints{}, err
	}
	curve, lifted, err := colour.FromPhoto(rgb)
	if err != nil {
		return Tints{}, err
	}
	t := Tints{Basis: ColourPicked, Mixed: curve, Unmixed: curve, lifted: lifted > 0}
	w.picked[code] = t
	return t, nil
}

// parents mixes the parents both ways.
func (w *Tinter) parents(l *shop.Lot) (Tints, error) {
	t := Tints{Basis: ColourParents}
	whole := wholeOf(l)
	var bodies []colour.Body
	var curves []colour.Curve
	var shares []float64
	for _, e := range l.Parents {
		p, err := w.Of(w.s.Lots[e.Lot])
		if err != nil {
			return t, err
		}
		if p.Basis == ColourUnknown {
			t.Basis = ColourUnknown
			for _, id := range p.missing {
				if !slices.Contains(t.missing, id) {
					t.missing = append(t.missing, id)
				}
			}
			continue
		}
		body, err := colour.BodyOf(p.Mixed, 1, colour.PhotoSurface())
		if err != nil {
			return t, err
		}
		bodies, curves, shares = append(bodies, body), append(curves, p.Unmixed), append(shares, e.Mass/whole)
		t.lifted = t.lifted || p.lifted
	}
	if t.Basis == ColourUnknown {
		return t, nil
	}
	var err error
	if t.Mixed, err = colour.Mixed(bodies, shares, colour.PhotoSurface()); err != nil {
		return t, err
	}
	t.Unmixed, err = colour.Unmixed(curves, shares)
	return t, err
}
