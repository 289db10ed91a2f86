package breakage

// Speed and energy of the rotor, and what a blow takes.

import (
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
