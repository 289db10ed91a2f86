package breakage

// Stresses in a turning rotor. They size nothing: parts come from the maker.

import "hopperful/process"

// RingStress returns the hoop stress of a thin turning ring [Pa].
//
//	density  density [kg/m³], density > 0
//	speed    rim speed [m/s], speed > 0
//
// Equation: σ = ρ v².
// Holds for: a ring thin against its radius.
// Source: Carvill1993, p. 15.
// Errors: RangeError for an argument not above 0.
// Checks: RingStress rows of checks.csv (3 own derivation).
func RingStress(density, speed float64) (float64, error) {
	if err := positive("density", density, "kg/m³", "rim speed", speed, "m/s"); err != nil {
		return 0, err
	}
	return density * speed * speed, nil
}

// DiscStress returns the stress at the centre of a solid turning disc [Pa].
//
//	density  density [kg/m³], density > 0
//	speed    rim speed [m/s], speed > 0
//	poisson  Poisson's ratio [–], 0 to 0.5
//
// Equation: σ = ρ v² (3 + ν)/8.
// Holds for: an elastic disc of even thickness without a bore. The rule of thumb ρ v²/3 reads low.
// Source: Carvill1993, p. 15.
// Errors: RangeError for density or speed not above 0 or poisson outside 0 to 0.5.
// Checks: DiscStress rows of checks.csv (3 own derivation).
func DiscStress(density, speed, poisson float64) (float64, error) {
	if err := process.Within("Poisson's ratio", poisson, 0, 0.5, "", "own derivation"); err != nil {
		return 0, err
	}
	ring, err := RingStress(density, speed)
	return ring * (3 + poisson) / 8, err
}

// BoreStress returns the hoop stress at the bore of a turning disc [Pa].
//
//	density  density [kg/m³], density > 0
//	omega    angular speed [rad/s], omega > 0
//	outer    outer radius [m], outer > bore
//	bore     bore radius [m], bore > 0
//	poisson  Poisson's ratio [–], 0 to 0.5
//
// Equation: σ = (3 + ν)/4 · ρ ω² (r_o² + (1 − ν)/(3 + ν) r_i²).
// Holds for: an elastic disc of even thickness; a small bore doubles the stress of a solid disc.
// Source: ShigleyMischke1989.
// Errors: RangeError for lengths out of order, density or speed not above 0, poisson outside 0 to 0.5.
// Checks: BoreStress rows of checks.csv (4 own derivation).
func BoreStress(density, omega, outer, bore, poisson float64) (float64, error) {
	if err := positive("density", density, "kg/m³", "angular speed", omega, "rad/s", "bore radius", bore, "m"); err != nil {
		return 0, err
	}
	if err := process.Above("outer radius", outer, bore, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Within("Poisson's ratio", poisson, 0, 0.5, "", "own derivation"); err != nil {
		return 0, err
	}
	return (3 + poisson) / 4 * density * omega * omega * (outer*outer + (1-poisson)/(3+poisson)*bore*bore), nil
}

// BladePull returns the tensile stress at the root of a straight blade [Pa].
//
//	density  density [kg/m³], density > 0
//	omega    angular speed [rad/s], omega > 0
//	tip      tip radius [m], tip > root
//	root     radius of the section looked at [m], root ≥ 0
//
// Equation: σ = ρ ω² (R² − r²)/2.
// Holds for: a radial bar of even section; holes and notches multiply it.
// Source: own derivation.
// Errors: RangeError for radii out of order, density or speed not above 0.
// Checks: BladePull row of checks.csv (1 own derivation).
func BladePull(density, omega, tip, root float64) (float64, error) {
	if err := positive("density", density, "kg/m³", "angular speed", omega, "rad/s"); err != nil {
		return 0, err
	}
	if err := process.Within("root radius", root, 0, 10, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("tip radius", tip, root, "m", "own derivation"); err != nil {
		return 0, err
	}
	return density * omega * omega * (tip*tip - root*root) / 2, nil
}

// BladeBending returns the bending stress at the root of a blade [Pa].
//
//	force      force at the tip [N], force > 0
//	arm        distance from tip to root [m], arm > 0
//	width      width of the root section across the force [m], width > 0
//	thickness  depth of the root section along the force [m], thickness > 0
//
// Equation: σ = 6 F l/(b h²).
// Holds for: a solid rectangular root bent within its elastic range.
// Source: own derivation.
// Errors: RangeError for an argument not above 0.
// Checks: BladeBending row of checks.csv (1 own derivation).
func BladeBending(force, arm, width, thickness float64) (float64, error) {
	if err := positive("tip force", force, "N", "arm", arm, "m", "root width", width, "m", "root thickness", thickness, "m"); err != nil {
		return 0, err
	}
	return 6 * force * arm / (width * thickness * thickness), nil
}
