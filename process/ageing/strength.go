package ageing

// What cut chains leave of the strength.

import (
	"hopperful/process"
)

// The share of a fresh chain's length at which a plastic has no strength left
// [–], median and 10 to 90 %. Judgement: makers sell chains a few times as long
// as strength needs.
const (
	BrittleMedian, BrittleLow, BrittleHigh = 0.2, 0.1, 0.4
)

// StrengthLeft returns what cut chains leave of the tensile strength [–].
//
//	fresh    molar mass of the fresh plastic, Mn0 [kg/mol], 0.5 to 1e4
//	cuts     chains cut [mol/kg], 0 to 10
//	brittle  share of Mn0 at which there is no strength left, b [–], 0.01 to 0.9
//
// Equation: σ = σ∞ (1 − b Mn0/Mn), so σ/σ0 = 1 − b Mn0 cuts/(1 − b), at least 0.
// Holds for: slow pull of amorphous, linear plastic; impact strength falls sooner, and stiffness hardly at all.
// Source: Nickzom2026 for the strength as linear in 1/Mn; b is judgement.
// Errors: RangeError for an argument out of range.
// Checks: StrengthLeft rows of checks.csv (published, own derivation).
func StrengthLeft(fresh, cuts, brittle float64) (float64, error) {
	if _, err := MolarMass(fresh, cuts); err != nil {
		return 0, err
	}
	if err := process.Within("share of the chain at which strength ends", brittle, 0.01, 0.9, "", judged); err != nil {
		return 0, err
	}
	return max(0, 1-brittle*fresh*cuts/(1-brittle)), nil
}
