package breakage

// Formulas of another rotor, sheet or motor: checked here against what is published, and called
// by nothing yet. Whoever compares mills takes them out of the tests.

import (
	"hopperful/process"
	"math"
)

// TipSpeed returns the speed of the rotor's tips [m/s].
//
//	diameter  tip circle [m], diameter > 0
//	omega     angular speed [rad/s], omega > 0
//
// Equation: v = ω D/2.
// Holds for: any rotor.
// Source: own derivation.
// Errors: RangeError for an argument not above 0.
// Checks: TipSpeed rows of checks.csv (3 own derivation).
func TipSpeed(diameter, omega float64) (float64, error) {
	if err := positive("tip circle", diameter, "m", "angular speed", omega, "rad/s"); err != nil {
		return 0, err
	}
	return omega * diameter / 2, nil
}

// BlowForce returns the mean force of a blow that breaks a section [N].
//
//	energy  energy the break takes [J], energy > 0
//	travel  way of the blade while it breaks [m], travel > 0
//
// Equation: F = E/s.
// Holds for: an estimate; the peak is about twice the mean, and a section that does not break gives the stall torque instead.
// Source: own derivation.
// Errors: RangeError for an argument not above 0.
// Checks: BlowForce row of checks.csv (1 own derivation).
func BlowForce(energy, travel float64) (float64, error) {
	if err := positive("breaking energy", energy, "J", "travel", travel, "m"); err != nil {
		return 0, err
	}
	return energy / travel, nil
}

// SectionEnergy returns the energy it takes to break a section [J].
//
//	impact  notched impact strength of the polymer [J/m²], impact > 0
//	area    area of the section [m²], area > 0
//
// Equation: E = a_k A.
// Holds for: prints, whose layer lines act as notches; reads low for smooth solid bars, many times for tough ones.
// Source: judgement.
// Errors: RangeError for an argument not above 0.
// Checks: SectionEnergy row of checks.csv (1 own derivation).
func SectionEnergy(impact, area float64) (float64, error) {
	if err := positive("notched impact strength", impact, "J/m²", "section area", area, "m²"); err != nil {
		return 0, err
	}
	return impact * area, nil
}

// OmegaFromRPM returns the angular speed [rad/s] of n revolutions a minute.
//
//	n  revolutions a minute [1/min], n > 0
//
// Equation: ω = 2π n/60.
// Holds for: any rotor.
// Source: own derivation.
// Errors: RangeError for n not above 0.
// Checks: TipSpeed rows of checks.csv (3 own derivation).
func OmegaFromRPM(n float64) (float64, error) {
	if err := positive("revolutions a minute", n, "1/min"); err != nil {
		return 0, err
	}
	return 2 * math.Pi * n / 60, nil
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

// OpenShare returns the open area share of a screen pattern [–].
//
//	pattern  arrangement of the holes, one of the constants
//	hole     hole diameter or opening [m], hole > 0
//	pitch    distance between hole centres [m], pitch > hole
//
// Equation: hexagonal π/(2√3)·(hole/pitch)²; square pitch π/4·(hole/pitch)²; woven (hole/pitch)².
// Holds for: round holes (the first two) and square mesh (the third); the rim of the sheet without holes is extra.
// Source: own derivation.
// Errors: RangeError for hole ≤ 0 or pitch ≤ hole.
// Checks: OpenShare rows of checks.csv (4 own derivation).
func OpenShare(pattern Pattern, hole, pitch float64) (float64, error) {
	if err := process.Above("hole size", hole, 0, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("pitch", pitch, hole, "m", "own derivation"); err != nil {
		return 0, err
	}
	r := hole / pitch
	switch pattern {
	case Staggered:
		return math.Pi / (2 * math.Sqrt(3)) * r * r, nil
	case InRows:
		return math.Pi / 4 * r * r, nil
	}
	return r * r, nil
}

// Pattern is how the holes of a screen are arranged.
type Pattern int

// The patterns.
const (
	Staggered Pattern = iota // round holes, each with six neighbours at one pitch
	InRows                   // round holes on a square pitch
	Woven                    // square mesh; pitch = opening + wire
)
