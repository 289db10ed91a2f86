package bulk

// How fast granulate runs out of a hole.

import (
	"math"

	"hopperful/process"
)

// Constants of the discharge law where nothing was measured.
const (
	DischargeC = 0.58 // [–], 0.55 to 0.65, from memory; nearly universal (Madrid2017)
	DischargeK = 1.4  // [–], spheres, 1 to 2 and up to 2.9 for sand, from memory; varies by up to a factor of 2 (Madrid2017)
)

// Discharge is a hole with granulate over it.
type Discharge struct {
	Outlet  float64 // diameter of a round hole [m], 6 Grain to 2
	Grain   float64 // mean grain size [m], 1e-5 to 0.2
	Density float64 // bulk density [kg/m³], 10 to 5000
	C       float64 // [–], 0.3 to 1
	K       float64 // [–], 0 to 3
}

// DischargeRate returns how much granulate runs through a round hole in a flat
// bottom [kg/s]; it does not depend on how high it stands above.
//
//	d  hole and granulate, see its fields
//
// Equation: W = C ρ_b √g (D − k d)^2.5, g = 9.81 m/s² (Beverloo).
// Holds for: dry grains that do not stick, D above 6 d, a vessel wider than 2.5 D and D + 30 d, filled higher than 1.2 of its width. Steep smooth cones run faster, dust and flakes slower.
// Source: Mankoc2007, eq. of Beverloo1961.
// Errors: RangeError for fields out of range, or a hole below 6 grains, where it stops and starts.
// Checks: DischargeRate rows of checks.csv (own derivation, identity).
func DischargeRate(d Discharge) (float64, error) {
	for _, f := range [...]struct {
		name          string
		value, lo, hi float64
		unit          string
		source        string
	}{
		{"grain size", d.Grain, 1e-5, 0.2, "m", judged}, {"outlet", d.Outlet, 6 * d.Grain, 2, "m", "Mankoc2007"},
		{"bulk density", d.Density, 10, 5000, "kg/m³", judged}, {"constant C", d.C, 0.3, 1, "", judged}, {"constant k", d.K, 0, 3, "", judged},
	} {
		if err := process.Within(f.name, f.value, f.lo, f.hi, f.unit, f.source); err != nil {
			return 0, err
		}
	}
	open := d.Outlet - d.K*d.Grain // above 3 grains by the bounds
	return d.C * d.Density * math.Sqrt(gravity) * open * open * math.Sqrt(open), nil
}

// FillMass returns what a jar or hopper holds [kg].
//
//	volume  of the vessel [m³], 1e-6 to 100
//	bulk    bulk density as it falls in [kg/m³], 10 to 5000
//	share   how full it is filled [–], 0 to 1
//
// Equation: m = V ρ_b s.
// Holds for: level granulate; a heap stands higher at the inlet and leaves corners empty.
// Source: own derivation.
// Errors: RangeError for arguments out of range.
// Checks: FillMass row of checks.csv (own derivation).
func FillMass(volume, bulk, share float64) (float64, error) {
	if err := process.Within("volume of the vessel", volume, 1e-6, 100, "m³", judged); err != nil {
		return 0, err
	}
	if err := checkDensity("bulk density", bulk); err != nil {
		return 0, err
	}
	if err := process.Within("how full", share, 0, 1, "", derived); err != nil {
		return 0, err
	}
	return volume * bulk * share, nil
}
