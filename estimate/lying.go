package estimate

import "math"

// Lying is what lies in a mill from run to run, by its masses alone: the one book that all
// ask before the models have spoken.
type Lying struct {
	now        remainder
	most, dust float64 // what the chamber takes [kg], share of what came out that is lost
	charge     float64 // the latest that is believed, a common one before that [kg]
	doubted    bool    // the latest run was in doubt
}

// NewLying is an empty mill with a chamber [m³].
func NewLying(chamber float64) *Lying {
	book := Prior()
	return &Lying{most: chamber * book[GrainBulk].Median, dust: book[Dust].Median, charge: UsualCharge * chamber}
}

// LittleOut is the share of a charge below which little came out.
const LittleOut = 0.5

// Doubted takes a run that nothing is learned from: its masses are in doubt, that it ran is
// not. No more went in than usual, whatever its record says, and what came out did, where
// it is no less than half of that. The mill was emptied before it, or not.
func (l *Lying) Doubted(charge float64, product *float64, emptied bool) {
	if emptied {
		l.now = remainder{}
	}
	charge = math.Min(charge, l.charge)
	in := l.now.mean + charge
	left := in
	if product != nil && *product >= LittleOut*charge && *product <= in {
		left -= *product
	}
	l.now, l.doubted = remainder{mean: math.Min(left, l.most)}, true
}

// Meet takes a run and says what it met [kg]; after runs in doubt it is told that it met
// anything up to all that was in them.
func (l *Lying) Meet(r *Run) float64 {
	if l.doubted {
		r.Found(l.now.mean/2, l.now.mean/math.Sqrt(12))
	}
	met := l.now
	switch {
	case !r.Follows:
		met = remainder{}
	case r.lay != nil:
		met = *r.lay
	}
	met = r.afterBreak(met)
	l.now.mean, l.now.spread = r.remains(met, l.dust, nil, l.most)
	l.charge, l.doubted = r.Charge, false
	return met.mean
}

// afterBreak reckons with the mill having been emptied in a long break before a run.
func (r *Run) afterBreak(lay remainder) remainder {
	if !r.LongAfter || lay.mean <= 0 {
		return lay
	}
	return remainder{kept * lay.mean, math.Hypot(math.Sqrt(kept)*lay.spread, math.Sqrt(kept*(1-kept))*lay.mean)}
}
