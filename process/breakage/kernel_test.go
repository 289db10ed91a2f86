package breakage

// The kernel of one size at a time, which the tables of a mill are held against.

import (
	"hopperful/process"
	"math"
)

// SpecificRate returns the breakage rate of pieces of one size per specific
// power [kg/J]; times P/H [W/kg] it is S [1/s].
//
//	k  the kernel, see its fields
//	x  piece size [m], x > 0
//
// Equation: s = k_E (x/x0)^α / (1 + (x/µ)^Λ), x0 = 10 mm.
// Holds for: impact and cutting mills whose pieces are hit at random, so that the rate is in proportion to the energy a kilogram gets.
// Source: from memory (Herbst and Fuerstenau 1980 for the energy, Austin's abnormal breakage for the fall beyond µ).
// Errors: RangeError for x ≤ 0 or a kernel out of range.
// Checks: SpecificRate rows of checks.csv (3 own derivation).
func SpecificRate(k Kernel, x float64) (float64, error) {
	if err := k.check(); err != nil {
		return 0, err
	}
	if err := process.Above("piece size", x, 0, "m", "own derivation"); err != nil {
		return 0, err
	}
	return k.rate(x), nil
}

func (k Kernel) rate(x float64) float64 {
	return k.Rate * math.Pow(x/ReferenceSize, k.SizeExponent) / (1 + math.Pow(x/k.RotorSize, k.RotorExponent))
}

// DebrisFiner returns the mass share of debris finer than x from a class whose
// lower edge is y [–].
//
//	k  the kernel, see its fields
//	x  size [m], 0 < x
//	y  lower edge of the class that broke [m], y > 0
//
// Equation: B = φ (x/y)^γ + (1−φ)(x/y)^β for x < y, else 1.
// Holds for: debris whose shape does not depend on the size of the parent.
// Source: from memory (Austin, Klimpel and Luckie 1984).
// Errors: RangeError for x ≤ 0, y ≤ 0 or a kernel out of range.
// Checks: Debris rows of checks.csv (1 second library, 1 own derivation).
func DebrisFiner(k Kernel, x, y float64) (float64, error) {
	if err := k.check(); err != nil {
		return 0, err
	}
	if err := process.Above("size", x, 0, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("lower edge of the parent class", y, 0, "m", "own derivation"); err != nil {
		return 0, err
	}
	if x >= y {
		return 1, nil
	}
	return k.Phi*math.Pow(x/y, k.Gamma) + (1-k.Phi)*math.Pow(x/y, k.Beta), nil
}
