package plan

import (
	"slices"

	"hopperful/process/colour"
	"hopperful/shop"
)

// tints is the colour of a lot between its two ends.
type tints struct {
	basis          ColourBasis
	mixed, unmixed colour.Curve
	lifted         bool         // a part is darker or whiter than a photo can tell
	missing        []shop.LotID // lots without a colour, each once
}

// tinter derives colours; known remembers lots already reckoned, picked the
// codes already turned into curves, which takes longest.
type tinter struct {
	s      *shop.State
	known  map[shop.LotID]tints
	picked map[string]tints
}

func newTinter(s *shop.State) *tinter {
	return &tinter{s: s, known: map[shop.LotID]tints{}, picked: map[string]tints{}}
}

// of is the colour of a lot: picked, else that of its parents by mass, as long
// as all that came into it has one.
func (w *tinter) of(l *shop.Lot) (tints, error) {
	if done, ok := w.known[l.ID]; ok {
		return done, nil
	}
	var t tints
	var err error
	switch {
	case l.RGB != "":
		t, err = w.pick(l.RGB)
	case outsideOf(l) > 0 || len(l.Parents) == 0:
		t = tints{basis: ColourUnknown, missing: []shop.LotID{l.ID}}
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
func (w *tinter) pick(code string) (tints, error) {
	if done, ok := w.picked[code]; ok {
		return done, nil
	}
	rgb, err := colour.ParseHex(code)
	if err != nil {
		return tints{}, err
	}
	curve, lifted, err := colour.FromPhoto(rgb)
	if err != nil {
		return tints{}, err
	}
	t := tints{basis: ColourPicked, mixed: curve, unmixed: curve, lifted: lifted > 0}
	w.picked[code] = t
	return t, nil
}

// parents mixes the parents both ways.
func (w *tinter) parents(l *shop.Lot) (tints, error) {
	t := tints{basis: ColourParents}
	whole := wholeOf(l)
	var bodies []colour.Body
	var curves []colour.Curve
	var shares []float64
	for _, e := range l.Parents {
		p, err := w.of(w.s.Lots[e.Lot])
		if err != nil {
			return t, err
		}
		if p.basis == ColourUnknown {
			t.basis = ColourUnknown
			for _, id := range p.missing {
				if !slices.Contains(t.missing, id) {
					t.missing = append(t.missing, id)
				}
			}
			continue
		}
		body, err := colour.BodyOf(p.mixed, 1, colour.PhotoSurface())
		if err != nil {
			return t, err
		}
		bodies, curves, shares = append(bodies, body), append(curves, p.unmixed), append(shares, e.Mass/whole)
		t.lifted = t.lifted || p.lifted
	}
	if t.basis == ColourUnknown {
		return t, nil
	}
	var err error
	if t.mixed, err = colour.Mixed(bodies, shares, colour.PhotoSurface()); err != nil {
		return t, err
	}
	t.unmixed, err = colour.Unmixed(curves, shares)
	return t, err
}
