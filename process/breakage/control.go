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

// PhaseAngle returns the firing angle that passes a share of the voltage [rad].
//
//	share  effective voltage over full voltage [–], 0 to 1
//
// Equation: the inverse of PhaseVoltage, by bisection to 1e-12 rad.
// Holds for: as PhaseVoltage.
// Source: own derivation.
// Errors: RangeError for a share outside 0 to 1.
// Checks: PhaseAngle rows of checks.csv (2 second library).
func PhaseAngle(share float64) (float64, error) {
	if err := process.Within("voltage share", share, 0, 1, "", "own derivation"); err != nil {
		return 0, err
	}
	lo, hi := 0.0, math.Pi
	for hi-lo > 1e-12 {
		mid := (lo + hi) / 2
		if phaseShare(mid) > share*share {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, nil
}

// StallTorqueShare returns the stall torque at a reduced voltage over that at
// full voltage [–].
//
//	share  effective voltage over full voltage [–], 0 to 1
//
// Equation: T/T_s = (V/V_s)².
// Holds for: a series (universal) motor below saturation; a saturated one loses less.
// Source: from memory.
// Errors: RangeError for a share outside 0 to 1.
// Checks: StallTorqueShare rows of checks.csv (3 from memory).
func StallTorqueShare(share float64) (float64, error) {
	if err := process.Within("voltage share", share, 0, 1, "", "own derivation"); err != nil {
		return 0, err
	}
	return share * share, nil
}

// SeriesMotorSpeed returns the speed of a series motor at another voltage and
// the same torque [rad/s].
//
//	full        speed at full voltage [rad/s], full > 0
//	voltage     full voltage [V], voltage > 0
//	current     current at the torque [A], current > 0
//	resistance  resistance of the winding [Ω], resistance ≥ 0
//	reduced     reduced voltage [V], above current × resistance
//
// Equation: ω/ω_full = (V' − I R)/(V − I R), from V = I (R + k ω) and T = k I².
// Holds for: a series motor below saturation. Its fan slows with it while the current stays: it runs hotter.
// Source: from memory.
// Errors: RangeError for an argument not above 0 or a voltage below I R.
// Checks: SeriesMotorSpeed rows of checks.csv (2 from memory).
func SeriesMotorSpeed(full, voltage, current, resistance, reduced float64) (float64, error) {
	if err := positive("speed at full voltage", full, "rad/s", "current", current, "A"); err != nil {
		return 0, err
	}
	if err := process.Within("winding resistance", resistance, 0, 1e6, "Ω", "own derivation"); err != nil {
		return 0, err
	}
	drop := current * resistance
	if err := process.Above("full voltage", voltage, drop, "V", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Within("reduced voltage", reduced, drop, voltage, "V", "own derivation"); err != nil {
		return 0, err
	}
	return full * (reduced - drop) / (voltage - drop), nil
}
