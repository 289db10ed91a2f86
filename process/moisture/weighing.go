package moisture

// Loss on drying: what two weighings say, and what the scale cannot see.

import "hopperful/process"

// Weighing is a sample weighed before and after drying, without its dish.
type Weighing struct {
	Before     float64 // [kg], above 10 Resolution, to 1e3
	After      float64 // [kg], above 10 Resolution, to 1e3
	Resolution float64 // last digit the scale shows [kg], 1e-9 to 1
}

// DryingLoss is what a pair of weighings says.
type DryingLoss struct {
	Wet        float64 // loss per mass as weighed first [–], below 0 for a gain
	Dry        float64 // loss per mass as weighed last [–]
	Low, High  float64 // ends of Wet that rounding of the two readings allows [–]
	Detectable float64 // smallest loss per mass this weighing can tell from none [–]
	Seen       bool    // the difference is more than rounding can make
}

// CanSee reports whether a moisture [–] would have shown in this weighing.
func (l DryingLoss) CanSee(moisture float64) bool { return moisture > l.Detectable }

// LossOnDrying returns the moisture two weighings tell, with what the scale's
// last digit leaves open.
//
//	w  the weighings, see its fields
//
// Equation: wet basis (m0 − m1)/m0, dry basis (m0 − m1)/m1; each reading may be off by half a digit d, so ends 1 − (m1 ± d/2)/(m0 ∓ d/2); a loss below d/m0 cannot be told from none.
// Holds for: drying to constant mass where nothing but water leaves. Drift, buoyancy and warm samples come on top.
// Source: own derivation.
// Errors: RangeError for weighings out of range, or lighter than ten digits of the scale.
// Checks: LossOnDrying rows of checks.csv (own derivation).
func LossOnDrying(w Weighing) (DryingLoss, error) {
	if err := process.Within("resolution of the scale", w.Resolution, 1e-9, 1, "kg", judged); err != nil {
		return DryingLoss{}, err
	}
	for _, m := range [...]float64{w.Before, w.After} {
		if err := process.Within("mass of the sample", m, 10*w.Resolution, 1e3, "kg", judged); err != nil {
			return DryingLoss{}, err
		}
	}
	half, loss := w.Resolution/2, w.Before-w.After
	return DryingLoss{
		Wet:        loss / w.Before,
		Dry:        loss / w.After,
		Low:        1 - (w.After+half)/(w.Before-half),
		High:       1 - (w.After-half)/(w.Before+half),
		Detectable: w.Resolution / w.Before,
		// A loss of exactly one digit may be none; rounding of the subtraction is far below a digit.
		Seen: loss > w.Resolution*(1+1e-6) || -loss > w.Resolution*(1+1e-6),
	}, nil
}

// SampleFor returns the least sample in which a scale sees a moisture limit with
// a third of it to spare [kg].
//
//	resolution  last digit of the scale [kg], 1e-9 to 1
//	limit       moisture that has to be seen [–], 1e-7 to 1
//
// Equation: m = 3 d/w.
// Holds for: rounding only. 1 g and 250 ppm need 12 kg: a kitchen scale cannot see this.
// Source: judgement, the factor of 3.
// Errors: RangeError for arguments out of range.
// Checks: SampleFor row of checks.csv (own derivation).
func SampleFor(resolution, limit float64) (float64, error) {
	if err := process.Within("resolution of the scale", resolution, 1e-9, 1, "kg", judged); err != nil {
		return 0, err
	}
	if err := process.Within("moisture limit", limit, 1e-7, 1, "", judged); err != nil {
		return 0, err
	}
	return 3 * resolution / limit, nil
}
