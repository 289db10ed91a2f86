package breakage

// How fast pieces break and what their debris looks like.

import (
	"math"

	"hopperful/process"
)

// ReferenceSize is the size at which a kernel's rate is given [m].
const ReferenceSize = 0.010

// Kernel is how a polymer breaks in a mill.
type Kernel struct {
	Rate          float64 // k_E, breakage rate per specific power at 10 mm [kg/J], 0 to 1
	SizeExponent  float64 // α, how the rate grows with size [–], 0 to 4
	RotorSize     float64 // µ, size at which the rotor's grip has halved the rate [m], above 0
	RotorExponent float64 // Λ, how sharply it falls beyond [–], 0 to 10
	Phi           float64 // φ, share of the fine debris [–], 0 to 1
	Gamma         float64 // γ, exponent of the fine debris [–], 0.05 to 20
	Beta          float64 // β, exponent of the coarse debris [–], 0.05 to 20
}

// check refuses a kernel outside the ranges of its fields.
func (k Kernel) check() error {
	for _, f := range [...]struct {
		name   string
		value  float64
		lo, hi float64
		unit   string
	}{
		{"breakage rate", k.Rate, 0, 1, "kg/J"},
		{"size exponent", k.SizeExponent, 0, 4, ""},
		{"rotor size", k.RotorSize, 1e-6, 1e6, "m"},
		{"rotor exponent", k.RotorExponent, 0, 10, ""},
		{"share of fine debris", k.Phi, 0, 1, ""},
		{"exponent of fine debris", k.Gamma, 0.05, 20, ""},
		{"exponent of coarse debris", k.Beta, 0.05, 20, ""},
	} {
		// Written out before the call, so that a good kernel costs nothing.
		if f.value >= f.lo && f.value <= f.hi {
			continue
		}
		return process.Within(f.name, f.value, f.lo, f.hi, f.unit, "judgement")
	}
	return nil
}

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
