package ageing

// What a settled loop leaves of a property, without listing its passes.

import "hopperful/process"

// SteadyRetained returns what is left of a property of never-melted plastic in
// a loop that has settled, as printed, averaged over the passes [–].
//
//	r       share of regrind in each batch [–], 0 to below 1
//	factor  what one pass multiplies the property with [–], 0.05 to 20
//
// Equation: Σ (1 − r) r^(n−1) q^n = q (1 − r)/(1 − q r).
// Holds for: as Retained; a property that every pass raises by more than 1/r grows without end.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or q r of 1 or more.
// Checks: SteadyRetained rows of checks.csv (own derivation, identity).
func SteadyRetained(r, factor float64) (float64, error) {
	if err := checkRegrind(r); err != nil {
		return 0, err
	}
	if err := process.Within("factor of a pass", factor, leastFactor, mostFactor, "", judged); err != nil {
		return 0, err
	}
	if err := process.Within("what a pass does, times the share of regrind", factor*r, 0, 1-1e-9, "", derived); err != nil {
		return 0, err
	}
	return factor * (1 - r) / (1 - factor*r), nil
}
