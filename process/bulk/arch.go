package bulk

// Arching over an outlet: grains that wedge, dust that sticks.

import (
	"math"

	"hopperful/process"
)

// Outlet is the opening of a hopper.
type Outlet struct {
	Width     float64 // diameter, or width of a slot at least three times as long [m], 1e-3 to 2
	HalfAngle float64 // between wall and vertical [rad], 0 to π/3; 0 for a flat bottom's own funnel or straight walls
	Slot      bool    // a slot and not a round hole
}

// Check refuses an outlet outside the ranges of its fields with a RangeError.
func (o Outlet) Check() error {
	if err := process.Within("outlet", o.Width, 1e-3, 2, "m", judged); err != nil {
		return err
	}
	return process.Within("half angle of the hopper", o.HalfAngle, 0, math.Pi/3+1e-12, "rad", judged)
}

// Risk is how likely granulate stops over an outlet. It is a class and no
// promise: clogs become exponentially rarer with size, never impossible.
type Risk int

// The risks, best first.
const (
	Seldom   Risk = iota // above the range of the rule of thumb
	Possible             // inside it
	Likely               // below it
	Blocked              // the outlet is smaller than the large grains
)

// String is the risk in words.
func (r Risk) String() string {
	names := [...]string{"seldom", "possible", "likely", "blocked"}
	if r < 0 || int(r) >= len(names) {
		return "unknown"
	}
	return names[r]
}

// Largest diameters across the outlet, common practice.
const (
	roundLow, roundHigh = 6, 10
	slotLow, slotHigh   = 3, 7
)

// MechanicalOutlet returns the range of outlets at which grains no longer wedge:
// below lo it is likely, above hi seldom [m].
//
//	d95   size that 95 % by mass are below [m], 1e-5 to 0.2
//	slot  a slot and not a round hole
//
// Equation: round 6 to 10 d95, slot 3 to 7 d95.
// Holds for: grains that do not stick and are about as long as wide; flakes and curls need more. Experiments find a power law or exponentially rarer clogs and no sharp limit (Zuriguel2005, ThomasDurian2015).
// Source: common practice, no source.
// Errors: RangeError for d95 out of range.
// Checks: MechanicalOutlet rows of checks.csv (common practice).
func MechanicalOutlet(d95 float64, slot bool) (lo, hi float64, err error) {
	if err := process.Within("d95", d95, 1e-5, 0.2, "m", judged); err != nil {
		return 0, 0, err
	}
	if slot {
		return slotLow * d95, slotHigh * d95, nil
	}
	return roundLow * d95, roundHigh * d95, nil
}

// MechanicalRisk returns how likely grains wedge over an outlet.
//
//	o    the outlet, see its fields
//	d95  size that 95 % by mass are below [m], 1e-5 to 0.2
//
// Equation: width against MechanicalOutlet and against d95 itself.
// Holds for: as MechanicalOutlet.
// Source: common practice, no source.
// Errors: RangeError for arguments out of range.
// Checks: MechanicalRisk rows of checks.csv (common practice).
func MechanicalRisk(o Outlet, d95 float64) (Risk, error) {
	if err := o.Check(); err != nil {
		return 0, err
	}
	lo, hi, err := MechanicalOutlet(d95, o.Slot)
	if err != nil {
		return 0, err
	}
	const digit = 1e-12 // an outlet of exactly ten grains is above the range
	switch {
	case o.Width <= d95:
		return Blocked, nil
	case o.Width < lo-digit:
		return Likely, nil
	case o.Width < hi-digit:
		return Possible, nil
	}
	return Seldom, nil
}

// ArchFactor returns H of the arching criterion [–].
//
//	o  the outlet, see its fields
//
// Equation: cone H = 2 + θ/60°, slot H = 1 + θ/180°.
// Holds for: half angles up to 60°.
// Source: JenikeExercise2026, with the printed values as rows.
// Errors: RangeError for an outlet out of range.
// Checks: ArchFactor rows of checks.csv (published).
func ArchFactor(o Outlet) (float64, error) {
	if err := o.Check(); err != nil {
		return 0, err
	}
	degrees := o.HalfAngle * 180 / math.Pi
	if o.Slot {
		return 1 + degrees/180, nil
	}
	return 2 + degrees/60, nil
}

// CohesiveOutlet returns the outlet above which a sticking arch breaks under its
// own weight [m].
//
//	o         the outlet, see its fields
//	strength  of the granulate at the outlet, unconfined [Pa], 0 to 1e5
//	bulk      bulk density [kg/m³], 10 to 5000
//
// Equation: B = H(θ) σ_c/(ρ_b g), g = 9.81 m/s².
// Holds for: mass flow; a funnel flow hopper needs more. Strengths of granulate are seldom measured, so take the result as an order of magnitude.
// Source: JenikeExercise2026, eq. as printed there.
// Errors: RangeError for arguments out of range.
// Checks: CohesiveOutlet rows of checks.csv (published, own derivation).
func CohesiveOutlet(o Outlet, strength, bulk float64) (float64, error) {
	h, err := ArchFactor(o)
	if err != nil {
		return 0, err
	}
	if err := process.Within("strength of the granulate", strength, 0, 1e5, "Pa", judged); err != nil {
		return 0, err
	}
	if err := checkDensity("bulk density", bulk); err != nil {
		return 0, err
	}
	return h * strength / (bulk * gravity), nil
}
