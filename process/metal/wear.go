package metal

// Wear metal per kilogram ground.

import (
	"math"

	"hopperful/process"
)

const (
	judged  = "judgement"
	derived = "own derivation"
	mostKg  = 1e6 // most mass ground or printed that is taken [kg]
)

// PartWeighing is a blade or screen weighed clean before and after a campaign.
type PartWeighing struct {
	Before     float64 // [kg], 0 to 1e3
	After      float64 // [kg], 0 to Before and two digits of the scale
	Ground     float64 // plastic ground in between [kg], above 0 to 1e6
	Resolution float64 // last digit the scale shows [kg], 1e-9 to 1
}

// Wear is metal lost per mass ground.
type Wear struct {
	Share     float64 // [–]; 1e-6 is 1 mg/kg
	Low, High float64 // ends that rounding of the weighings allows [–]; Low may be below 0
	Seen      bool    // the loss is more than rounding can make
}

// WearFromParts returns the metal lost per mass ground from two weighings of a
// part.
//
//	w  the weighings, see its fields
//
// Equation: w = (m0 − m1)/M; each reading may be off by half a digit, so the ends are ± one digit over M.
// Holds for: parts weighed clean and dry. Plastic baked on hides wear, a lost splinter looks like wear.
// Source: own derivation.
// Errors: RangeError for weighings out of range or a part that became heavier.
// Checks: WearFromParts rows of checks.csv (own derivation).
func WearFromParts(w PartWeighing) (Wear, error) {
	if err := process.Within("resolution of the scale", w.Resolution, 1e-9, 1, "kg", judged); err != nil {
		return Wear{}, err
	}
	if err := process.Within("mass of the part before", w.Before, 0, 1e3, "kg", judged); err != nil {
		return Wear{}, err
	}
	if err := process.Within("mass of the part after", w.After, 0, w.Before+2*w.Resolution, "kg", derived); err != nil {
		return Wear{}, err
	}
	if err := process.Within("mass ground", w.Ground, 1e-3, mostKg, "kg", judged); err != nil {
		return Wear{}, err
	}
	loss := w.Before - w.After
	return Wear{
		Share: loss / w.Ground,
		Low:   (loss - w.Resolution) / w.Ground,
		High:  (loss + w.Resolution) / w.Ground,
		Seen:  loss > w.Resolution*(1+1e-6),
	}, nil
}

// MagnetYield is what hung on the magnet after a campaign.
type MagnetYield struct {
	Caught float64 // [kg], 0 to 10
	Ground float64 // plastic that went past [kg], above 0 to 1e6
	Catch  float64 // share of the metal that the magnet catches [–], 0.01 to 1
}

// WearFromMagnet returns the metal that was in the plastic per mass ground, from
// what hung on the magnet [–].
//
//	y  the yield, see its fields
//
// Equation: w = m_caught/(c M).
// Holds for: metal the magnet can catch; other metals stay unseen.
// Source: own derivation.
// Errors: RangeError for fields out of range.
// Checks: WearFromMagnet rows of checks.csv (own derivation).
func WearFromMagnet(y MagnetYield) (float64, error) {
	if err := process.Within("mass on the magnet", y.Caught, 0, 10, "kg", judged); err != nil {
		return 0, err
	}
	if err := process.Within("mass ground", y.Ground, 1e-3, mostKg, "kg", judged); err != nil {
		return 0, err
	}
	if err := process.Within("share that the magnet catches", y.Catch, 0.01, 1, "", judged); err != nil {
		return 0, err
	}
	w := y.Caught / (y.Catch * y.Ground)
	if err := process.Within("metal per mass ground", w, 0, 0.5, "", judged); err != nil {
		return 0, err
	}
	return w, nil
}

// checkNumbers reports the first value that is not finite.
func checkNumbers(name string, vs ...float64) error {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return process.Within(name, v, -math.MaxFloat64, math.MaxFloat64, "", derived)
		}
	}
	return nil
}
