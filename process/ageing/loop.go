package ageing

// A loop: every batch is a share of regrind of the batch before and the rest
// new.

import (
	"math"

	"hopperful/process"
)

const (
	mostRegrind = 0.97  // with more the tail needs more than 1000 classes
	tailEnds    = 1e-12 // the share that goes into the last class of Steady
)

func checkRegrind(r float64) error {
	return process.Within("share of regrind", r, 0, 1-1e-9, "", derived)
}

// SteadyShare returns the share of plastic with n passes in a loop that has
// settled, as printed [–].
//
//	r  share of regrind in each batch [–], 0 to below 1
//	n  number of passes, 1 to 1000
//
// Equation: a_n = (1 − r) r^(n−1).
// Holds for: one loop with constant share, all scrap from the last batch.
// Source: own derivation.
// Errors: RangeError for r or n out of range.
// Checks: SteadyShare rows of checks.csv (second library).
func SteadyShare(r float64, n int) (float64, error) {
	if err := checkRegrind(r); err != nil {
		return 0, err
	}
	if err := process.Within("passes", float64(n), 1, mostPasses, "", judged); err != nil {
		return 0, err
	}
	return (1 - r) * math.Pow(r, float64(n-1)), nil
}

// SteadyMean returns the mean number of passes in a loop that has settled, as
// printed [–].
//
//	r  share of regrind in each batch [–], 0 to below 1
//
// Equation: 1/(1 − r).
// Holds for: as SteadyShare.
// Source: own derivation.
// Errors: RangeError for r out of range.
// Checks: SteadyMean rows of checks.csv (second library).
func SteadyMean(r float64) (float64, error) {
	if err := checkRegrind(r); err != nil {
		return 0, err
	}
	return 1 / (1 - r), nil
}

// SteadyBeyond returns the share with more than k passes in a loop that has
// settled, as printed [–].
//
//	r  share of regrind in each batch [–], 0 to below 1
//	k  number of passes, 0 to 1000
//
// Equation: r^k.
// Holds for: as SteadyShare.
// Source: own derivation.
// Errors: RangeError for r or k out of range.
// Checks: SteadyBeyond rows of checks.csv (second library).
func SteadyBeyond(r float64, k int) (float64, error) {
	if err := checkRegrind(r); err != nil {
		return 0, err
	}
	if err := process.Within("passes", float64(k), 0, mostPasses, "", judged); err != nil {
		return 0, err
	}
	return math.Pow(r, float64(k)), nil
}

// MeanAfter returns the mean number of passes in a batch of a loop that began
// with new granulate, as printed [–].
//
//	r      share of regrind in each batch [–], 0 to below 1
//	batch  which batch, 1 to 1000; the first is all new
//
// Equation: (1 − r^b)/(1 − r).
// Holds for: as SteadyShare.
// Source: own derivation.
// Errors: RangeError for r or batch out of range.
// Checks: MeanAfter rows of checks.csv (own derivation).
func MeanAfter(r float64, batch int) (float64, error) {
	if err := checkRegrind(r); err != nil {
		return 0, err
	}
	if err := process.Within("batch", float64(batch), 1, mostPasses, "", judged); err != nil {
		return 0, err
	}
	return (1 - math.Pow(r, float64(batch))) / (1 - r), nil
}

// Steady returns the age of a loop that has settled, as printed.
//
//	r     share of regrind in each batch [–], 0 to 0.97
//	cuts  chains water cuts in each pass [mol/kg], 0 to 0.1
//
// Equation: SteadyShare up to the class beyond which 1e-12 is left, which takes the rest; cut chains cuts/(1 − r).
// Holds for: as SteadyShare.
// Source: own derivation.
// Errors: RangeError for r or cuts out of range.
// Checks: Steady rows of checks.csv (identity, own derivation).
func Steady(r, cuts float64) (Age, error) {
	if err := process.Within("share of regrind", r, 0, mostRegrind, "", derived); err != nil {
		return Age{}, err
	}
	if err := process.Within("chains cut by water in a pass", cuts, 0, 0.1, "mol/kg", judged); err != nil {
		return Age{}, err
	}
	a := Age{Shares: []float64{0}, Cuts: cuts / (1 - r)}
	left := 1.0
	for left*r > tailEnds {
		a.Shares = append(a.Shares, left*(1-r))
		left *= r
	}
	a.Shares = append(a.Shares, left)
	return a, nil
}

// Loop returns the age of a batch of a loop that began with new granulate, as
// printed.
//
//	r      share of regrind in each batch [–], 0 to 1
//	batch  which batch, 1 to 1000; the first is all new
//	cuts   chains water cuts in each pass [mol/kg], 0 to 0.01
//
// Equation: Blend of r of the last batch with 1 − r new granulate, then Melted.
// Holds for: as SteadyShare; with r = 1 nothing new comes in.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: Loop rows of checks.csv (own derivation).
func Loop(r float64, batch int, cuts float64) (Age, error) {
	if err := process.Within("share of regrind", r, 0, 1, "", derived); err != nil {
		return Age{}, err
	}
	if err := process.Within("batch", float64(batch), 1, mostPasses, "", judged); err != nil {
		return Age{}, err
	}
	if err := process.Within("chains cut by water in a pass", cuts, 0, 0.01, "mol/kg", judged); err != nil {
		return Age{}, err
	}
	a := Virgin()
	for b := range batch {
		feed := Virgin()
		if b > 0 {
			var err error
			if feed, err = Blend(Part{a, r}, Part{Virgin(), 1 - r}); err != nil {
				return Age{}, err
			}
		}
		var err error
		if a, err = feed.Melted(cuts); err != nil {
			return Age{}, err
		}
	}
	return a, nil
}
