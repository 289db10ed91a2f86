package ageing

// What one pass does to a property, with its range, and learning from a
// measurement.

import (
	"math"

	"hopperful/process"
)

// Factor is what one pass multiplies a property with: log-normal, its width
// from the 10 to 90 % range.
type Factor struct {
	Median float64 // [–], 0.05 to 20
	Low    float64 // a tenth lies below [–], 0.05 to the median
	High   float64 // a tenth lies above [–], the median to 20
}

const (
	leastFactor, mostFactor = 0.05, 20.0
	tenth                   = 1.2815515655446004 // 90 % point of the normal distribution
)

// Check refuses a factor outside the ranges of its fields with a RangeError.
func (f Factor) Check() error {
	if err := process.Within("factor of a pass", f.Median, leastFactor, mostFactor, "", judged); err != nil {
		return err
	}
	if err := process.Within("low end of the factor of a pass", f.Low, leastFactor, f.Median, "", derived); err != nil {
		return err
	}
	return process.Within("high end of the factor of a pass", f.High, f.Median, mostFactor, "", derived)
}

// spread is the standard deviation of its logarithm.
func (f Factor) spread() float64 { return math.Log(f.High/f.Low) / (2 * tenth) }

func factorOf(mean, spread float64) Factor {
	return Factor{math.Exp(mean), math.Exp(mean - tenth*spread), math.Exp(mean + tenth*spread)}
}

// Retained returns what is left of a property of never-melted plastic, averaged
// over the passes of a lot [–]: for strength and the like, to which each gram
// adds its own.
//
//	a       the age of the lot, see its fields
//	factor  what one pass multiplies the property with [–], 0.05 to 20
//
// Equation: Σ a_n q^n; not q^mean, which is less.
// Holds for: properties that average by mass; weak grains may count for more.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or a sum beyond all bounds.
// Checks: Retained rows of checks.csv (own derivation).
func Retained(a Age, factor float64) (float64, error) {
	if err := a.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("factor of a pass", factor, leastFactor, mostFactor, "", judged); err != nil {
		return 0, err
	}
	sum := 0.0
	for n, s := range a.Shares {
		if s > 0 { // 0 × ∞ is no number
			sum += s * math.Pow(factor, float64(n))
		}
	}
	return sum, process.Within("what is left of the property", sum, 0, 1e9, "", judged)
}

// RetainedLog returns what becomes of a property whose logarithm averages, as
// that of the melt flow [–], against never-melted plastic.
//
//	a       the age of the lot, see its fields
//	factor  what one pass multiplies the property with [–], 0.05 to 20
//
// Equation: q^mean.
// Holds for: melt flow and viscosity of blends of one plastic.
// Source: Nielsen1977 for the logarithmic rule.
// Errors: RangeError for an argument out of range, or a result beyond all bounds.
// Checks: RetainedLog rows of checks.csv (own derivation).
func RetainedLog(a Age, factor float64) (float64, error) {
	m, err := a.Mean()
	if err != nil {
		return 0, err
	}
	if err := process.Within("factor of a pass", factor, leastFactor, mostFactor, "", judged); err != nil {
		return 0, err
	}
	v := math.Pow(factor, m)
	return v, process.Within("what becomes of the property", v, 0, 1e9, "", judged)
}
