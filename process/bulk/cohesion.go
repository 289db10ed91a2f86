package bulk

// Shear cell classes and the pressure in a filled tube.

import (
	"math"

	"hopperful/process"
)

// Cohesion is a class of the flow function coefficient ffc = σ1/σ_c, best first.
// Laboratories print different cuts; these are the ones of Myengineeringtools2026.
type Cohesion int

// The classes.
const (
	FreeFlowing Cohesion = iota
	EasyFlowing
	Cohesive
	VeryCohesive
	NotFlowing
)

// String is the class in the table's words.
func (c Cohesion) String() string {
	names := [...]string{"free flowing", "easy flowing", "cohesive", "very cohesive", "not flowing"}
	if c < 0 || int(c) >= len(names) {
		return "unknown"
	}
	return names[c]
}

// ClassCohesion returns the class of a flow function coefficient.
//
//	ffc  consolidation stress over strength [–], 0 to 1e6
//
// Equation: below 1, 1 to 2, 2 to 4, 4 to 10, from 10.
// Holds for: shear cell results at the stress of interest.
// Source: Myengineeringtools2026, which cites a standard.
// Errors: RangeError for ffc out of range.
// Checks: ClassCohesion rows of checks.csv (published).
func ClassCohesion(ffc float64) (Cohesion, error) {
	if err := process.Within("flow function coefficient", ffc, 0, 1e6, "", judged); err != nil {
		return 0, err
	}
	switch {
	case ffc < 1:
		return NotFlowing, nil
	case ffc < 2:
		return VeryCohesive, nil
	case ffc < 4:
		return Cohesive, nil
	case ffc < 10:
		return EasyFlowing, nil
	}
	return FreeFlowing, nil
}

// Column is granulate standing in a straight tube.
type Column struct {
	Diameter float64 // of the tube [m], 1e-3 to 10
	Depth    float64 // below the surface [m], 0 to 100
	Density  float64 // bulk density [kg/m³], 10 to 5000
	Friction float64 // coefficient at the wall [–], 0.01 to 2
	Ratio    float64 // horizontal over vertical stress [–], 0.1 to 1
}

// ColumnStress returns the vertical stress in a tube full of granulate [Pa]. The
// wall carries the rest: a tall hopper presses no harder on its outlet than one
// some diameters high.
//
//	c  the column, see its fields
//
// Equation: σ = ρ_b g D/(4 µ K) · (1 − exp(−4 µ K h/D)), g = 9.81 m/s².
// Holds for: straight walls at rest after filling.
// Source: Janssen1895, in the translation of Sperl2006.
// Errors: RangeError for fields out of range.
// Checks: ColumnStress rows of checks.csv (own derivation).
func ColumnStress(c Column) (float64, error) {
	for _, f := range [...]struct {
		name          string
		value, lo, hi float64
		unit          string
	}{
		{"diameter of the tube", c.Diameter, 1e-3, 10, "m"}, {"depth", c.Depth, 0, 100, "m"}, {"bulk density", c.Density, 10, 5000, "kg/m³"},
		{"wall friction", c.Friction, 0.01, 2, ""}, {"stress ratio", c.Ratio, 0.1, 1, ""},
	} {
		if err := process.Within(f.name, f.value, f.lo, f.hi, f.unit, judged); err != nil {
			return 0, err
		}
	}
	mk := 4 * c.Friction * c.Ratio
	return c.Density * gravity * c.Diameter / mk * -math.Expm1(-mk*c.Depth/c.Diameter), nil
}
