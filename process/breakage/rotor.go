package breakage

// Speed and energy of the rotor, and what a blow takes.

import (
	"math"

	"hopperful/process"
)

// positive refuses the first of name, value, unit triples that is not above 0.
func positive(args ...any) error {
	for i := 0; i+2 < len(args); i += 3 {
		if err := process.Above(args[i].(string), args[i+1].(float64), 0, args[i+2].(string), "own derivation"); err != nil {
			return err
		}
	}
	return nil
}

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

// DiscInertia returns the moment of inertia of a solid disc about its axis [kg m²].
//
//	mass    mass [kg], mass > 0
//	radius  radius [m], radius > 0
//
// Equation: I = m r²/2.
// Holds for: a disc of even thickness; a blade with its mass at the ends has up to twice that.
// Source: own derivation.
// Errors: RangeError for an argument not above 0.
// Checks: RotorEnergy row of checks.csv (1 own derivation).
func DiscInertia(mass, radius float64) (float64, error) {
	if err := positive("rotor mass", mass, "kg", "rotor radius", radius, "m"); err != nil {
		return 0, err
	}
	return mass * radius * radius / 2, nil
}

// RotorEnergy returns the kinetic energy of a turning rotor [J].
//
//	inertia  moment of inertia [kg m²], inertia > 0
//	omega    angular speed [rad/s], omega > 0
//
// Equation: E = ½ I ω².
// Holds for: any rotor; the armature counts where the coupling does not slip.
// Source: own derivation.
// Errors: RangeError for an argument not above 0.
// Checks: RotorEnergy row of checks.csv (1 own derivation).
func RotorEnergy(inertia, omega float64) (float64, error) {
	if err := positive("moment of inertia", inertia, "kg m²", "angular speed", omega, "rad/s"); err != nil {
		return 0, err
	}
	return inertia * omega * omega / 2, nil
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
