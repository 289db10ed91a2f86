package ageing

// The largest share of regrind a loop bears. All answers are for the settled
// loop, which is older than every batch before it, and compare with a print of
// new granulate, which has one pass.

import (
	"math"

	"hopperful/process"
)

// ShareForMean returns the largest share of regrind that keeps the mean number
// of passes at or below a limit [–].
//
//	mean  the limit [–], 1 to 1000
//
// Equation: r = 1 − 1/mean.
// Holds for: a settled loop.
// Source: own derivation.
// Errors: RangeError for mean out of range: a print of new granulate has one pass.
// Checks: ShareForMean rows of checks.csv (own derivation).
func ShareForMean(mean float64) (float64, error) {
	if err := process.Within("limit of the mean passes", mean, 1, mostPasses, "", derived); err != nil {
		return 0, err
	}
	return 1 - 1/mean, nil
}

// ShareForOldest returns the largest share of regrind with which at most a share
// of the plastic has more than k passes [–].
//
//	k      passes, 1 to 1000
//	share  share allowed beyond [–], 0 to below 1
//
// Equation: r = share^(1/k).
// Holds for: a settled loop.
// Source: own derivation.
// Errors: RangeError for k or share out of range.
// Checks: ShareForOldest rows of checks.csv (second library).
func ShareForOldest(k int, share float64) (float64, error) {
	if err := process.Within("passes", float64(k), 1, mostPasses, "", judged); err != nil {
		return 0, err
	}
	if err := process.Within("share allowed beyond", share, 0, 1-1e-9, "", derived); err != nil {
		return 0, err
	}
	return math.Pow(share, 1/float64(k)), nil
}

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

// ShareForMolar returns the largest share of regrind that keeps the molar mass
// above a limit when water cuts chains in each pass [–].
//
//	fresh  molar mass of the fresh plastic [kg/mol], 0.5 to 1e4
//	cuts   chains cut in each pass [mol/kg], 0 to 10
//	least  molar mass that has to be left [kg/mol], 0.5 to below fresh
//
// Equation: 1/Mn0 + cuts/(1 − r) = 1/Mn, so r = 1 − cuts/(1/Mn − 1/Mn0).
// Holds for: a settled loop; chains are counted, so it is exact.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or when one pass of new granulate already falls below the limit.
// Checks: ShareForMolar rows of checks.csv (own derivation, refusal).
func ShareForMolar(fresh, cuts, least float64) (float64, error) {
	if err := checkMolar("molar mass of the fresh plastic", fresh); err != nil {
		return 0, err
	}
	if err := process.Within("molar mass that has to be left", least, 0.5, fresh*(1-1e-9), "kg/mol", derived); err != nil {
		return 0, err
	}
	most := 1/least - 1/fresh // chains that may be cut
	if err := process.Within("chains cut in one pass of new granulate", cuts, 0, most, "mol/kg", derived); err != nil {
		return 0, err
	}
	return 1 - cuts/most, nil
}

const mostTable = 100

// LoopTable returns what is left of a property in a settled loop when it is
// known pass by pass [–], against a print of new granulate.
//
//	left  property after 1, 2, 3, … passes over that after the first [–], above 0 to 10; the first is 1
//	r     share of regrind in each batch [–], 0 to 0.999
//
// Equation: (1 − r) Σ r^(n−1) p_n; beyond the table each pass does what the last did.
// Holds for: properties that average by mass and, beyond the table, passes that do not get worse still.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or a last pass that raises the property without end.
// Checks: LoopTable rows of checks.csv (own derivation, identity).
func LoopTable(left []float64, r float64) (float64, error) {
	if err := process.Within("share of regrind", r, 0, 0.999, "", derived); err != nil {
		return 0, err
	}
	if err := process.Within("passes of the table", float64(len(left)), 2, mostTable, "", judged); err != nil {
		return 0, err
	}
	if err := process.Within("property after the first pass over itself", left[0], 1, 1, "", derived); err != nil {
		return 0, err
	}
	sum, weight := 0.0, 1-r
	for _, p := range left {
		if err := process.Within("what is left of the property", p, 1e-9, 10, "", judged); err != nil {
			return 0, err
		}
		sum += weight * p
		weight *= r
	}
	last := left[len(left)-1]
	q := last / left[len(left)-2]
	if err := process.Within("what the last pass does, times the share of regrind", q*r, 0, 1-1e-6, "", derived); err != nil {
		return 0, err
	}
	return sum + weight*last*q/(1-r*q), nil
}

// ShareForTable returns the largest share of regrind that keeps a property known
// pass by pass [–]; 0.999 when any does.
//
//	left  as in LoopTable [–], but never rising
//	keep  what has to be left [–], 0 to 1
//
// Equation: LoopTable(r) = keep, by halving; it falls as r grows because the table does.
// Holds for: as LoopTable.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or a table that rises.
// Checks: ShareForTable rows of checks.csv (identity).
func ShareForTable(left []float64, keep float64) (float64, error) {
	if err := process.Within("what has to be left", keep, 0, 1, "", derived); err != nil {
		return 0, err
	}
	if _, err := LoopTable(left, 0); err != nil {
		return 0, err
	}
	for i := 1; i < len(left); i++ {
		if err := process.Within("what a pass does", left[i]/left[i-1], 0, 1, "", derived); err != nil {
			return 0, err
		}
	}
	low, high := 0.0, 0.999
	if v, err := LoopTable(left, high); err != nil || v >= keep {
		return high, err
	}
	for range 60 {
		mid := (low + high) / 2
		if v, err := LoopTable(left, mid); err != nil {
			return 0, err
		} else if v >= keep {
			low = mid
		} else {
			high = mid
		}
	}
	return low, nil
}
