package ageing

// The largest share of regrind a loop bears. All answers are for the settled
// loop, which is older than every batch before it, and compare with a print of
// new granulate, which has one pass.

import (
	"math"

	"hopperful/process"
)

// ShareForStrength returns the largest share of regrind that keeps a property
// which averages by mass [–], against a print of new granulate; 1 when a pass
// does not lower it. With the low end of a factor it is the careful answer.
//
//	factor  what one pass multiplies the property with [–], 0.05 to 20
//	keep    what has to be left [–], 0 to 1
//
// Equation: (1 − r)/(1 − r q) ≥ p, so r = (1 − p)/(1 − p q).
// Holds for: a settled loop whose every pass does the same.
// Source: own derivation.
// Errors: RangeError for factor or keep out of range.
// Checks: ShareForStrength rows of checks.csv (second library).
func ShareForStrength(factor, keep float64) (float64, error) {
	if err := process.Within("factor of a pass", factor, leastFactor, mostFactor, "", judged); err != nil {
		return 0, err
	}
	if err := process.Within("what has to be left", keep, 0, 1, "", derived); err != nil {
		return 0, err
	}
	if factor >= 1 {
		return 1, nil
	}
	return (1 - keep) / (1 - keep*factor), nil
}

// ShareForFlow returns the largest share of regrind that keeps the melt flow
// within a limit [–], against a print of new granulate; 1 when a pass moves the
// flow the other way.
//
//	factor  what one pass multiplies the melt flow with [–], 0.05 to 20
//	limit   melt flow allowed over that of the new print [–], 0.05 to 1000; below 1 a lower limit
//
// Equation: q^(r/(1 − r)) = limit, so r = l/(1 + l) with l = ln limit/ln q.
// Holds for: a settled loop whose every pass does the same; logarithmic rule.
// Source: own derivation; Nielsen1977 for the rule.
// Errors: RangeError for factor or limit out of range.
// Checks: ShareForFlow rows of checks.csv (second library).
func ShareForFlow(factor, limit float64) (float64, error) {
	if err := process.Within("factor of a pass", factor, leastFactor, mostFactor, "", judged); err != nil {
		return 0, err
	}
	if err := process.Within("limit of the melt flow", limit, 0.05, 1000, "", judged); err != nil {
		return 0, err
	}
	if factor == 1 || math.Log(limit)*math.Log(factor) < 0 {
		return 1, nil
	}
	l := math.Log(limit) / math.Log(factor)
	return l / (1 + l), nil
}
