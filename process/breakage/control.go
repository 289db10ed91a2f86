package breakage

// What a phase-angle controller and a series motor make of a low level.

import (
	"math"

	"hopperful/process"
)

// PhaseVoltage returns the share of the full effective voltage that a
// phase-angle controller passes [–].
//
//	angle  firing angle [rad], 0 to π
//
// Equation: V/V_s = √(1 − α/π + sin 2α/(2π)).
// Holds for: full-wave control of a resistive load; a motor's inductance keeps the current flowing past zero and gives more.
// Source: Duffy2026, integral form; tables printed elsewhere for 180 V of 230 V and the like do not follow from it.
// Errors: RangeError for an angle outside 0 to π.
// Checks: PhaseVoltage rows of checks.csv (7 own derivation).
func PhaseVoltage(angle float64) (float64, error) {
	if err := process.Within("firing angle", angle, 0, math.Pi, "rad", "own derivation"); err != nil {
		return 0, err
	}
	return math.Sqrt(phaseShare(angle)), nil
}

func phaseShare(angle float64) float64 {
	return max(0, 1-angle/math.Pi+math.Sin(2*angle)/(2*math.Pi))
}

// PhasePower returns the share of the full power a resistive load draws behind
// a phase-angle controller [–].
//
//	angle  firing angle [rad], 0 to π
//
// Equation: P/P_s = (V/V_s)² = 1 − α/π + sin 2α/(2π).
// Holds for: as PhaseVoltage; a motor draws what its load asks for.
// Source: Duffy2026.
// Errors: RangeError for an angle outside 0 to π.
// Checks: PhasePower rows of checks.csv (1 identity, 6 own derivation).
func PhasePower(angle float64) (float64, error) {
	v, err := PhaseVoltage(angle)
	return v * v, err
}
