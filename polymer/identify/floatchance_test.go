package identify

// The chance that one piece floats, which the whole belief is held against.

import (
	"hopperful/process"
)

// FloatChance returns the chance that a chip out of a mixed lot is seen to float [1].
//
//	liquid  density of the liquid [kg/m³], 700 to 1500
//	mean    mean density of the material's grades [kg/m³], > 0
//	spread  their standard deviation [kg/m³], > 0
//
// Equation: P = ε + (1 − 2 ε) Φ((ρ_liquid − µ)/σ), ε = 0.02.
// Holds for: solid chips without bubbles; foamed, filled or hollow ones read wrong.
// Source: own derivation; means, spreads and ε are judgement
// Errors: RangeError for a density or spread outside.
// Checks: FloatChance rows of checks.csv.
func FloatChance(liquid, mean, spread float64) (float64, error) {
	if err := process.Within("liquid density", liquid, 700, 1500, "kg/m³", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Above("mean density", mean, 0, "kg/m³", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("density spread", spread, 0, "kg/m³", "own derivation"); err != nil {
		return 0, err
	}
	return lapsed(liquid, normal{mean, spread}), nil
}
