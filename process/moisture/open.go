package moisture

// How long dry granulate may stand in the open.

import "hopperful/process"

// Standing is what becomes of granulate in the open.
type Standing string

// What can become of it.
const (
	WillPass  Standing = "passes" // after Open.Time
	StaysDry  Standing = "stays"  // for any time in this air
	PassedNow Standing = "above"  // dry it first
)

// Open is how long granulate may stand in the open.
type Open struct {
	Standing    Standing
	Time        float64 // until the limit is passed [s]; 0 unless WillPass
	Equilibrium float64 // water after a long time, per mass of plastic [–]
}

// OpenTime returns how long granulate may stand in open air until it passes its
// moisture limit again.
//
//	p     the plastic, see its fields
//	g     the grains, see its fields
//	room  the air, see its fields; below softening
//	w     moisture now and the limit, see its fields; Now may be below Limit
//
// Equation: M(t) = (w_limit − w_0)/(w_e − w_0), solved for t.
// Holds for: grains spread thin, each in the air: the shortest it can be. A closed or deep container lasts longer.
// Source: own derivation.
// Errors: TooHotError at or above softening, RangeError for arguments out of range.
// Checks: OpenTime rows of checks.csv (own derivation).
func OpenTime(p Plastic, g Grains, room Dryer, w Need) (Open, error) {
	for _, err := range [...]error{
		p.Check(), g.Check(), room.Check(),
		process.Within("moisture now", w.Now, 0, 0.3, "", judged),
		process.Within("moisture limit", w.Limit, 1e-7, 0.3, "", judged),
	} {
		if err != nil {
			return Open{}, err
		}
	}
	if room.Temperature >= p.Softening {
		return Open{}, &TooHotError{room.Temperature, p.Softening}
	}
	out := Open{Standing: WillPass, Equilibrium: p.sorption().at(room.Vapour / saturation(room.Temperature))}
	switch {
	case w.Now > w.Limit:
		out.Standing = PassedNow
		return out, nil
	case out.Equilibrium <= w.Limit*(1+1e-9):
		out.Standing = StaysDry
		return out, nil
	}
	lot, err := lotIn(p, g, room.Temperature)
	if err != nil {
		return out, err
	}
	out.Time, err = lot.Time((w.Limit - w.Now) / (out.Equilibrium - w.Now))
	return out, err
}
