package breakage

// The classical energy laws. None has a validated constant for ductile
// thermoplastics: fit it from measured energy.

import (
	"math"

	"hopperful/process"
)

// EnergyRittinger returns the specific energy to reduce pieces [J/kg], in
// proportion to new surface.
//
//	c     constant of the material and mill [J m/kg], c > 0
//	from  size before [m], from ≥ to
//	to    size after [m], to > 0
//
// Equation: E = C (1/L2 − 1/L1).
// Holds for: fine grinding of brittle matter.
// Source: CoulsonRichardson2002, ch. 2.
// Errors: RangeError for c or to not above 0 or from < to.
// Checks: EnergyRittinger row of checks.csv (1 published).
func EnergyRittinger(c, from, to float64) (float64, error) {
	if err := reduces(c, "J m/kg", from, to); err != nil {
		return 0, err
	}
	return c * (1/to - 1/from), nil
}

// EnergyKick returns the specific energy to reduce pieces [J/kg], in
// proportion to the number of halvings.
//
//	c     constant of the material and mill [J/kg], c > 0
//	from  size before [m], from ≥ to
//	to    size after [m], to > 0
//
// Equation: E = C ln(L1/L2). Notes that use log10 have a constant 2.302585 times as large.
// Holds for: coarse crushing.
// Source: CoulsonRichardson2002, ch. 2.
// Errors: RangeError for c or to not above 0 or from < to.
// Checks: EnergyKick row of checks.csv (1 published).
func EnergyKick(c, from, to float64) (float64, error) {
	if err := reduces(c, "J/kg", from, to); err != nil {
		return 0, err
	}
	return c * math.Log(from/to), nil
}

// EnergyBond returns the specific energy to reduce pieces, in the unit of the
// work index: J/kg for a work index in J/kg.
//
//	index  work index Wi: energy from unlimited size to 80 % finer than 100 µm [J/kg], index > 0
//	from   size that 80 % of the feed is finer than [m], from ≥ to
//	to     size that 80 % of the product is finer than [m], to > 0
//
// Equation: E = Wi (√(100 µm/P80) − √(100 µm/F80)).
// Holds for: crushing and grinding of rock. Work indices are often given per short ton (907.185 kg).
// Source: from memory.
// Errors: RangeError for index or to not above 0 or from < to.
// Checks: EnergyBond rows of checks.csv (1 published, 2 own derivation, 1 from memory).
func EnergyBond(index, from, to float64) (float64, error) {
	if err := reduces(index, "J/kg", from, to); err != nil {
		return 0, err
	}
	return index * (math.Sqrt(100e-6/to) - math.Sqrt(100e-6/from)), nil
}

func reduces(c float64, unit string, from, to float64) error {
	if err := positive("constant of the law", c, unit, "size after", to, "m"); err != nil {
		return err
	}
	return process.Within("size before", from, to, math.MaxFloat64, "m", "own derivation")
}
