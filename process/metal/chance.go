package metal

// Rare chips: chances, limits, how much to look through.

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"hopperful/process"
)

const mostRate = 1e12 // most chips per kilogram taken [1/kg]

func checkConfidence(c float64) error {
	return process.Within("confidence", c, 0.5, 0.9999, "", judged)
}

// Chance returns how likely a mass holds at least one chip [–].
//
//	rate  chips per mass [1/kg], 0 to 1e12
//	mass  [kg], 0 to 1e6
//
// Equation: P = 1 − exp(−λ m).
// Holds for: chips that fall independently; clusters make it less likely and worse.
// Source: own derivation, from the Poisson law.
// Errors: RangeError for arguments out of range.
// Checks: Chance rows of checks.csv (own derivation).
func Chance(rate, mass float64) (float64, error) {
	if err := process.Within("chips per mass", rate, 0, mostRate, "1/kg", judged); err != nil {
		return 0, err
	}
	if err := process.Within("mass", mass, 0, mostKg, "kg", judged); err != nil {
		return 0, err
	}
	return -math.Expm1(-rate * mass), nil
}

// CleanMass returns the mass that has to be looked through and found clean before
// a rate can be excluded [kg].
//
//	rate        chips per mass to exclude [1/kg], 1e-6 to 1e12
//	confidence  [–], 0.5 to 0.9999
//
// Equation: m = −ln(1 − C)/λ, 3/λ at 95 % (rule of three).
// Holds for: looking that misses nothing.
// Source: Owiki2026, the rule; the exact form is own derivation.
// Errors: RangeError for arguments out of range.
// Checks: CleanMass rows of checks.csv (published).
func CleanMass(rate, confidence float64) (float64, error) {
	if err := process.Within("chips per mass", rate, 1e-6, mostRate, "1/kg", judged); err != nil {
		return 0, err
	}
	if err := checkConfidence(confidence); err != nil {
		return 0, err
	}
	return -math.Log1p(-confidence) / rate, nil
}

// CountAtMost returns the largest mean that a count leaves open [–].
//
//	found       chips counted, 0 to 1e6
//	confidence  [–], 0.5 to 0.9999
//
// Equation: µ with P(K ≤ k | µ) = 1 − C, that is χ²(C, 2k + 2)/2.
// Holds for: Poisson counts. Divide by the mass looked through and by the share the look finds.
// Source: Garwood1936, from memory.
// Errors: RangeError for arguments out of range.
// Checks: CountAtMost rows of checks.csv (second library).
func CountAtMost(found int, confidence float64) (float64, error) {
	if err := process.Within("chips counted", float64(found), 0, 1e6, "", judged); err != nil {
		return 0, err
	}
	if err := checkConfidence(confidence); err != nil {
		return 0, err
	}
	return mathext.GammaIncRegInv(float64(found)+1, confidence), nil
}
