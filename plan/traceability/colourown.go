package traceability

import (
	"fmt"

	"hopperful/process/colour"
	"hopperful/shop"
)

// ownTint is the colour somebody saw of a lot.
type ownTint struct {
	basis  ColourBasis
	curve  colour.Curve
	lifted bool
	taken  *shop.Coloured // nil: a code typed when the lot came
}

// grains says that it is the colour of grains side by side.
func (o *ownTint) grains() bool { return o.taken != nil && !o.taken.OfMelt() }

// How far a colour is off by the way it was taken, in the colour difference
// [1], as a root mean square. A photo errs by 5 to 10 through its light; an
// instrument by its port, the gloss and the grains. Judgement.
const (
	photoErrs      = 7.5
	eyeErrs        = 12.0
	instrumentErrs = 2.0
)

// errs is how far it is off.
func (o *ownTint) errs() float64 {
	switch {
	case o.taken == nil || o.taken.How == shop.ByEye:
		return eyeErrs
	case o.taken.How == shop.Instrument:
		return instrumentErrs
	}
	return photoErrs
}

// ownOf is what somebody saw of a lot itself, nil when nobody did: the newest
// colour taken, else the code typed for it. A code that only came along from its
// parents counts where theirs are not known.
func (w *Tinter) ownOf(l *shop.Lot, family Tints) (*ownTint, error) {
	if l.Taken == nil && (l.RGB == "" || family.Basis != ColourUnknown && w.inherited(l)) {
		return nil, nil
	}
	if done, ok := w.own[l.ID]; ok {
		return done, nil
	}
	o, err := w.see(l)
	if err != nil {
		return nil, err
	}
	w.own[l.ID] = &o
	return &o, nil
}

// see turns what was written down into a curve.
func (w *Tinter) see(l *shop.Lot) (ownTint, error) {
	b, key := l.Taken, l.RGB
	o := ownTint{basis: ColourTaken, taken: b}
	if b == nil {
		b, o.basis = &shop.Coloured{RGB: l.RGB}, ColourPicked
	} else if key = b.RGB; b.Lab != nil {
		key = fmt.Sprint(*b.Lab)
	}
	if done, ok := w.curves[key]; ok && len(b.Curve) == 0 {
		o.curve, o.lifted = done.curve, done.lifted
		return o, nil
	}
	var err error
	if o.curve, o.lifted, err = b.Reflectance(); err != nil {
		return o, err
	}
	if len(b.Curve) == 0 {
		w.curves[key] = o
	}
	return o, nil
}

// The light a plastic sends back in a band, as far as a mix can be reckoned with
// it: none at all has no absorption, and the surface keeps some (judgement).
const (
	darkest  = 1e-4
	lightest = 0.95
)

// bodyOf is how a plastic of a colour absorbs and scatters in the melt.
func bodyOf(c colour.Curve, scatter float64) (colour.Body, error) {
	for i, r := range c {
		c[i] = min(lightest, max(darkest, r))
	}
	return colour.BodyOf(c, scatter, colour.PhotoSurface())
}

// inherited says that a lot's code is its parents': ground and printed lots never
// have one of their own, others have when it differs.
func (w *Tinter) inherited(l *shop.Lot) bool {
	if l.Class == shop.Regrind || l.Class == shop.Print {
		return true
	}
	for _, e := range l.Parents {
		if w.s.Lots.At(e.Lot).RGB != l.RGB {
			return false
		}
	}
	return true
}
