package melt

// The viscosity laws of the books, at one temperature, and the WLF shift.

import "math"

// PowerViscosity returns the viscosity of the power law [Pa s].
//
//	k     consistency K [Pa sⁿ], 1e-6 to 1e12
//	n     flow exponent [–], 0.01 to 1.5
//	rate  shear rate [1/s], 1e-9 to 1e8
//
// Equation: η = K γ^(n−1).
// Holds for: the middle rates a set was fitted in; reads far too high at low rates, where a melt has a last, constant viscosity.
// Source: PolykinRheology2026.
// Errors: RangeError for an argument out of range.
// Checks: PowerViscosity rows of checks.csv (1 published, 1 identity, 1 refusal).
func PowerViscosity(k, n, rate float64) (float64, error) {
	if err := within(quantityIn{"consistency", k, leastEta, mostEta, "Pa sⁿ"}, quantityIn{"flow exponent", n, leastN, mostN, ""},
		quantityIn{"shear rate", rate, leastRate, mostRate, "1/s"}); err != nil {
		return 0, err
	}
	return k * math.Pow(rate, n-1), nil
}

// CrossSet is a Cross curve at one temperature.
type CrossSet struct {
	Zero   float64 // η0, viscosity at rest [Pa s], 1e-6 to 1e12
	Stress float64 // τ*, stress at which it has halved [Pa], above 0 to 1e9; η0/λ in the form with a time
	N      float64 // flow exponent far above [–], 0.01 to 1
}

func (c CrossSet) check() error {
	return within(quantityIn{"zero-shear viscosity", c.Zero, leastEta, mostEta, "Pa s"},
		quantityIn{"critical stress", c.Stress, leastEta, mostPressure, "Pa"}, quantityIn{"flow exponent", c.N, leastN, 1, ""})
}

// CrossViscosity returns the viscosity of the Cross law [Pa s].
//
//	c     see its fields
//	rate  shear rate [1/s], 0 to 1e8
//
// Equation: η = η0/(1 + (η0 γ/τ*)^(1−n)).
// Holds for: most melts over the rates of printing; the form with a time constant λ is τ* = η0/λ.
// Source: PolykinRheology2026.
// Errors: RangeError for an argument out of range.
// Checks: CrossViscosity rows of checks.csv (2 published, 2 identity, 1 refusal).
func CrossViscosity(c CrossSet, rate float64) (float64, error) {
	if err := c.check(); err != nil {
		return 0, err
	}
	if err := within(quantityIn{"shear rate", rate, 0, mostRate, "1/s"}); err != nil {
		return 0, err
	}
	return c.Zero / (1 + math.Pow(c.Zero*rate/c.Stress, 1-c.N)), nil
}

// WLFShift returns the factor by which a temperature difference multiplies a
// melt's viscosity [–].
//
//	c1    first constant [–], above 0 to 1e7
//	c2    second constant [K], above 0 to 1e9
//	over  temperature above the reference [K], above −c2 to 1000
//
// Equation: a_T = 10^(−c1 ΔT/(c2 + ΔT)).
// Holds for: amorphous polymers to about 100 K above the glass transition; the constants belong to their reference temperature.
// Source: PolykinRheology2026, after Rosen.
// Errors: RangeError for an argument out of range, or a shift beyond 1e±30.
// Checks: WLFShift rows of checks.csv (1 published, 1 identity, 1 from memory, 1 refusal).
func WLFShift(c1, c2, over float64) (float64, error) {
	if err := within(quantityIn{"WLF c1", c1, 1e-9, 1e7, ""}, quantityIn{"WLF c2", c2, 1e-9, 1e9, "K"},
		quantityIn{"temperature above the reference", over, -0.999 * c2, 1000, "K"}); err != nil {
		return 0, err
	}
	shift := math.Pow(10, -c1*over/(c2+over))
	return shift, within(quantityIn{"shift factor", shift, 1e-30, 1e30, ""})
}
