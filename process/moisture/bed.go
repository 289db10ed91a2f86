package moisture

// A heap of granulate: vapour has to find its way out, or be blown out.

import (
	"math"

	"hopperful/process"
)

// Bed is how the granulate lies in the dryer.
type Bed struct {
	Mass    float64 // [kg], 1e-6 to 1e4
	Depth   float64 // from the free surface to the closed bottom [m], 1e-4 to 5; half of it for a basket open below
	Density float64 // bulk density [kg/m³], 20 to below the solid's
}

// Check refuses a bed outside the ranges of its fields with a RangeError.
func (b Bed) Check(p Plastic) error {
	if err := process.Within("mass of the bed", b.Mass, 1e-6, 1e4, "kg", judged); err != nil {
		return err
	}
	if err := process.Within("depth of the bed", b.Depth, 1e-4, 5, "m", judged); err != nil {
		return err
	}
	return process.Within("bulk density", b.Density, 20, 0.95*p.Density, "kg/m³", derived)
}

// BedDiffusivity returns how fast moisture spreads through a heap of granulate in
// still air [m²/s]: fast in the pores, held back by what the grains hold.
//
//	p     the plastic, see its fields
//	bulk  bulk density [kg/m³], 20 to 0.95 of the solid's
//	t     temperature [K], 233.15 to 473.15
//
// Equation: D_bed = ε^1.5 D_air/(ε + ρ_b k/ρ_v,sat(T)), ε = 1 − ρ_b/ρ, k the slope of EquilibriumWater at the dry end.
// Holds for: grains much faster than the heap, no convection in the heap.
// Source: own derivation; ε^1.5 (Bruggeman) from memory.
// Errors: RangeError for arguments out of range.
// Checks: BedDiffusivity row of checks.csv (own derivation).
func BedDiffusivity(p Plastic, bulk, t float64) (float64, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("bulk density", bulk, 20, 0.95*p.Density, "kg/m³", derived); err != nil {
		return 0, err
	}
	air, err := VapourDiffusivity(t)
	if err != nil {
		return 0, err
	}
	full, err := AbsoluteHumidity(t, saturation(t))
	void := 1 - bulk/p.Density
	k, _ := p.sorption().curve() // at the dry end, where the time is spent
	return math.Pow(void, 1.5) * air / (void + bulk*k/full), err
}

// BedTime returns how long a heap in still air needs until a share of its excess
// water is gone, were its grains infinitely fast [s].
//
//	p     the plastic, see its fields
//	b     the bed, see its fields
//	t     temperature [K], 233.15 to 473.15
//	lost  share that has to go [–], 0 to 1 − 1e-9
//
// Equation: plate of half thickness L with D_bed: t = F(lost) L²/D_bed.
// Holds for: a closed bottom and sides, an open top; as BedDiffusivity.
// Source: own derivation.
// Errors: RangeError for arguments out of range.
// Checks: BedTime rows of checks.csv (own derivation).
func BedTime(p Plastic, b Bed, t, lost float64) (float64, error) {
	d, err := BedDiffusivity(p, b.Density, t)
	if err != nil {
		return 0, err
	}
	if err := b.Check(p); err != nil {
		return 0, err
	}
	f, err := FourierFor(Plate, math.Inf(1), lost)
	return f * b.Depth * b.Depth / d, err
}

// CarryTime returns how long a stream of air needs to carry the water away, were
// it always in equilibrium with the granulate it leaves [s].
//
//	p     the plastic, see its fields
//	b     the bed, see its fields
//	d     the dryer, see its fields; its Flow above 0
//	lost  share of the excess water that has to go [–], 0 to 1 − 1e-9
//
// Equation: t = m k/(V̇ ρ_v,sat(T)) · ln(1/(1 − lost)), k the slope of EquilibriumWater at the dry end.
// Holds for: a stirred bed; in a column the lower layers dry first and the whole is somewhat faster.
// Source: own derivation.
// Errors: RangeError for arguments out of range, no flow.
// Checks: CarryTime row of checks.csv (own derivation).
func CarryTime(p Plastic, b Bed, d Dryer, lost float64) (float64, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	if err := b.Check(p); err != nil {
		return 0, err
	}
	if err := d.Check(); err != nil {
		return 0, err
	}
	if err := process.Above("air flow", d.Flow, 0, "m³/s", derived); err != nil {
		return 0, err
	}
	if err := process.Within("share of the water that has to go", lost, 0, 1-1e-9, "", derived); err != nil {
		return 0, err
	}
	full, err := AbsoluteHumidity(d.Temperature, saturation(d.Temperature))
	k, _ := p.sorption().curve()
	return b.Mass * k / (d.Flow * full) * -math.Log1p(-lost), err
}
