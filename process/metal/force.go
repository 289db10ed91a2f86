package metal

// The pull of a magnet on a chip.

import (
	"math"

	"hopperful/process"
)

const (
	vacuum  = 1.25663706212e-6 // magnetic constant [N/A²], from memory
	gravity = 9.80665          // standard free fall [m/s²]
)

// Field is a magnet's field where the chip is.
type Field struct {
	Flux     float64 // B [T], 0 to 3
	Gradient float64 // dB/dx [T/m], 0 to 1e4
}

// Chip is a small round piece of metal in a field.
type Chip struct {
	Size           float64 // diameter [m], 1e-6 to 0.1
	Susceptibility float64 // χ = µ_r − 1 [–], 0 to 1e6
	Saturation     float64 // magnetisation at saturation [A/m], above 0 to 3e6; 1.71e6 for iron
	Density        float64 // [kg/m³], 1000 to 25000
}

func (f Field) check() error {
	if err := process.Within("flux density", f.Flux, 0, 3, "T", judged); err != nil {
		return err
	}
	return process.Within("gradient of the field", f.Gradient, 0, 1e4, "T/m", judged)
}

func (c Chip) check() error {
	if err := process.Within("size of the chip", c.Size, 1e-6, 0.1, "m", judged); err != nil {
		return err
	}
	if err := process.Within("susceptibility", c.Susceptibility, 0, 1e6, "", judged); err != nil {
		return err
	}
	if err := process.Within("magnetisation at saturation", c.Saturation, 1, 3e6, "A/m", judged); err != nil {
		return err
	}
	return process.Within("density of the metal", c.Density, 1000, 25000, "kg/m³", judged)
}

// effective is χ of a sphere, whose own field works against the outer one.
func (c Chip) effective() float64 { return c.Susceptibility / (1 + c.Susceptibility/3) }

// Pull returns the force of a magnet on a chip [N].
//
//	c  the chip, see its fields
//	f  the field, see its fields
//
// Equation: F = V min(χ_eff B/µ0, M_s) dB/dx, χ_eff = χ/(1 + χ/3), V = π d³/6.
// Holds for: spheres. Flakes along the field are pulled harder.
// Source: Openwetware2010 for the volume form; the sphere correction from memory.
// Errors: RangeError for fields out of range.
// Checks: Pull rows of checks.csv (own derivation).
func Pull(c Chip, f Field) (float64, error) {
	if err := c.check(); err != nil {
		return 0, err
	}
	if err := f.check(); err != nil {
		return 0, err
	}
	volume := math.Pi / 6 * c.Size * c.Size * c.Size
	return volume * min(c.effective()*f.Flux/vacuum, c.Saturation) * f.Gradient, nil
}

// PullOverWeight returns the pull of a magnet in weights of the chip [–]: above 1
// it lifts. It does not depend on the size of the chip.
//
//	c  the chip, see its fields
//	f  the field, see its fields
//
// Equation: F/(V ρ g), g = 9.80665 m/s².
// Holds for: a free chip; one held by plastic grains needs more.
// Source: own derivation, from Pull.
// Errors: RangeError for fields out of range.
// Checks: PullOverWeight rows of checks.csv (own derivation).
func PullOverWeight(c Chip, f Field) (float64, error) {
	force, err := Pull(c, f)
	if err != nil {
		return 0, err
	}
	return force / (math.Pi / 6 * c.Size * c.Size * c.Size * c.Density * gravity), nil
}

// LiftNeeds returns the product of field and gradient from which a chip is lifted
// [T²/m], below saturation.
//
//	c  the chip, see its fields; susceptibility above 0
//
// Equation: B dB/dx = µ0 ρ g/χ_eff.
// Holds for: as PullOverWeight.
// Source: own derivation, from Pull.
// Errors: RangeError for fields out of range or no susceptibility.
// Checks: LiftNeeds rows of checks.csv (own derivation).
func LiftNeeds(c Chip) (float64, error) {
	if err := c.check(); err != nil {
		return 0, err
	}
	if err := process.Within("susceptibility", c.Susceptibility, 1e-9, 1e6, "", derived); err != nil {
		return 0, err
	}
	return vacuum * c.Density * gravity / c.effective(), nil
}

// SaturationFlux returns the flux density from which a chip is saturated and is
// pulled no harder by more of it [T].
//
//	c  the chip, see its fields; susceptibility above 0
//
// Equation: B = µ0 M_s/χ_eff, µ0 M_s/3 for iron.
// Holds for: spheres.
// Source: from memory.
// Errors: RangeError for fields out of range or no susceptibility.
// Checks: SaturationFlux row of checks.csv (own derivation).
func SaturationFlux(c Chip) (float64, error) {
	if err := c.check(); err != nil {
		return 0, err
	}
	if err := process.Within("susceptibility", c.Susceptibility, 1e-9, 1e6, "", derived); err != nil {
		return 0, err
	}
	return vacuum * c.Saturation / c.effective(), nil
}
