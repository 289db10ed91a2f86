package traceability

import (
	"slices"

	"hopperful/process/colour"
	"hopperful/shop"
)

// Tints is the colour of a lot between its two ends.
type Tints struct {
	Basis          ColourBasis
	Mixed, Unmixed colour.Curve
	Body           colour.Body   // of the melt, against one scattering for the whole shop
	forecast       *colour.Curve // by its parents, of what was looked at: the melt, or grains side by side
	parts          []tintPart    // the lots of known colour it is melted from; itself where its own counts
	from           []tintPart    // those its parents are made of
	grains         bool          // the colour taken is of grains side by side
	lifted         bool          // a part is darker or whiter than a photo can tell
	missing        []shop.LotID  // lots without a colour, each once
}

// tintPart is a lot of known colour in another.
type tintPart struct {
	lot   shop.LotID
	share float64 // by mass [1]
}

// Tinter derives colours; known remembers lots already reckoned, own the colours
// already turned into curves, which takes longest.
type Tinter struct {
	s       *shop.State
	known   map[shop.LotID]Tints
	own     map[shop.LotID]*ownTint
	curves  map[string]ownTint
	ratios  map[mixSeen]mixTold
	began   map[shop.LotID][]tintPart // the lots a lot's plastics began in
	learned *scatters                 // nil until it was learned
	plain   bool                      // learns nothing: all lots scatter alike
}

// NewTinter derives the colours of a shop's lots, each once, and learns from
// melted mixes how strongly their parts tint. It is for one goroutine at a time.
func NewTinter(s *shop.State) *Tinter { return newTinter(s, false) }

// After derives the colours of another state of the shop; codes already turned
// into curves and mixes already looked at are not reckoned again.
func (w *Tinter) After(s *shop.State) *Tinter {
	next := NewTinter(s)
	if len(w.curves)+len(w.ratios) < mostCurves {
		next.curves, next.ratios = w.curves, w.ratios
	}
	return next
}

// mostCurves bounds what is kept from state to state: a page's worth of memory,
// and far more colours than a shop has.
const mostCurves = 2000

func newTinter(s *shop.State, plain bool) *Tinter {
	return &Tinter{s: s, plain: plain, known: map[shop.LotID]Tints{}, own: map[shop.LotID]*ownTint{}, curves: map[string]ownTint{}, ratios: map[mixSeen]mixTold{},
		began: map[shop.LotID][]tintPart{}}
}

// Of is the colour of a lot: taken, else picked, else that of its parents by
// mass, as long as all that came into it has one.
func (w *Tinter) Of(l *shop.Lot) (Tints, error) {
	if done, ok := w.known[l.ID]; ok {
		return done, nil
	}
	if err := w.learn(); err != nil {
		return Tints{}, err
	}
	t, err := w.find(l)
	if err != nil {
		return t, err
	}
	w.known[l.ID] = t
	return t, nil
}

// find weighs what was seen of a lot against what its parents say.
func (w *Tinter) find(l *shop.Lot) (Tints, error) {
	t, err := w.parents(l)
	if err != nil {
		return t, err
	}
	own, err := w.ownOf(l, t)
	if err != nil || own == nil {
		return t, err
	}
	made := t.Basis != ColourUnknown
	if made && len(t.from) > 1 && own.grains() { // of a heap of grains the melt is still a forecast
		side := t.Unmixed
		t.Unmixed, t.forecast, t.grains, t.lifted = own.curve, &side, true, t.lifted || own.lifted
		return t, nil
	}
	mine := Tints{Basis: own.basis, Mixed: own.curve, Unmixed: own.curve, lifted: own.lifted, parts: []tintPart{{l.ID, 1}}}
	if made && own.taken != nil {
		melt := t.Mixed
		mine.from, mine.forecast = t.from, &melt
		if len(t.from) > 1 {
			mine.Unmixed = t.Unmixed
		}
	}
	mine.Body, err = bodyOf(own.curve, w.scatter(l))
	return mine, err
}

// parents mixes the parents both ways.
func (w *Tinter) parents(l *shop.Lot) (Tints, error) {
	t := Tints{Basis: ColourParents}
	if outsideOf(l) > 0 || len(l.Parents) == 0 {
		return Tints{Basis: ColourUnknown, missing: []shop.LotID{l.ID}}, nil
	}
	whole := wholeOf(l)
	var curves []colour.Curve
	var shares []float64
	for _, e := range l.Parents {
		p, err := w.Of(w.s.Lots.At(e.Lot))
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
		share := e.Mass / whole
		for b := range t.Body.K {
			t.Body.K[b] += share * p.Body.K[b]
			t.Body.S[b] += share * p.Body.S[b]
		}
		for _, x := range p.parts {
			t.from = addPart(t.from, tintPart{x.lot, x.share * share})
		}
		curves, shares = append(curves, p.Unmixed), append(shares, share)
		t.lifted = t.lifted || p.lifted
	}
	if t.Basis == ColourUnknown {
		return Tints{Basis: ColourUnknown, missing: t.missing}, nil
	}
	t.parts = t.from
	var err error
	if t.Mixed, err = colour.Mixed([]colour.Body{t.Body}, []float64{1}, colour.PhotoSurface()); err != nil {
		return t, err
	}
	t.Unmixed, err = colour.Unmixed(curves, shares)
	return t, err
}

// addPart adds a part to a list in which each lot stands once.
func addPart(list []tintPart, p tintPart) []tintPart {
	if i := slices.IndexFunc(list, func(x tintPart) bool { return x.lot == p.lot }); i >= 0 {
		list[i].share += p.share
		return list
	}
	return append(list, p)
}

// scatter is how strongly a lot scatters [1]: as the plastics it was mixed from, by
// mass, each as it was learned, 1 where nothing was.
func (w *Tinter) scatter(l *shop.Lot) float64 {
	sum := 0.0
	for _, p := range w.origins(l) {
		sum += p.share * w.learned.strength(p.lot)
	}
	return sum
}

// origins are the lots a lot's plastics began in: those from outside, and heaps
// sorted out of a bin by their colour. Their shares are 1 together.
func (w *Tinter) origins(l *shop.Lot) []tintPart {
	if done, ok := w.began[l.ID]; ok {
		return done
	}
	var list []tintPart
	whole := wholeOf(l)
	if out := outsideOf(l); whole == 0 || len(l.Parents) == 0 || w.sortedByColour(l) {
		list = []tintPart{{l.ID, 1}}
	} else {
		if out > 0 {
			list = addPart(list, tintPart{l.ID, out / whole})
		}
		for _, e := range l.Parents {
			for _, p := range w.origins(w.s.Lots.At(e.Lot)) {
				list = addPart(list, tintPart{p.lot, p.share * e.Mass / whole})
			}
		}
	}
	w.began[l.ID] = list
	return list
}

// sortedByColour says that a lot is a heap that was picked out of lots called by
// another colour: not a mixture of what was in them.
func (w *Tinter) sortedByColour(l *shop.Lot) bool {
	if l.Class == shop.Blend || l.Class == shop.Print || l.Colour == "" {
		return false
	}
	for _, e := range l.Parents {
		if w.s.Lots.At(e.Lot).Colour == l.Colour {
			return false
		}
	}
	return true
}
