// From volume and area to grams of plastic, for walls and infill.

package mesh

import (
	"math"

	"hopperful/process"
)

// Part is a solid and how it is to be printed.
type Part struct {
	Volume  float64 // of the solid [m³], > 0
	Area    float64 // of its surface [m²], at least that of a ball of this volume
	Wall    float64 // thickness of walls, bottom and top [m], ≥ 0
	Infill  float64 // share of the inside that is plastic [1], 0 to 1
	Density float64 // of the solid plastic [kg/m³], 100 to 20 000
}

// Mass is an estimate with its bounds [kg].
type Mass struct {
	Value, Low, High float64
	Solid            float64 // the part printed without any hollow
	WallShare        float64 // of Volume that is wall, for Value [1]
}

// Plastic estimates the plastic in a part printed with walls and infill [kg].
//
//	p  the part; see its fields
//
// Equation: m = ρ (V_w + infill (V − V_w)), V_w = V (1 − (1 − u/k)^k) with
// u = A t / V, V_w = V for u ≥ k; k = 3 gives Low, k = 2 Value, k = 1 High.
// Holds for: k = 3 is exact for a ball, a cube and every body around a ball, k = 2
// for a long bar around a cylinder, k = 1 for a thin plate; every convex
// body lies between k = 3 and k = 1 (Brunn–Minkowski for the lower bound, the
// shrinking surface of a convex body for the upper). Bodies with deep holes can
// pass High a little. One thickness all round; supports, brims and overlap of
// lines are not in it.
// Source: own derivation (Brunn–Minkowski inequality, from memory).
// Errors: RangeError for a field out of its range.
// Checks: Plastic rows of checks.csv (5 own derivation, 3 refusals).
func Plastic(p Part) (Mass, error) {
	if err := p.check(); err != nil {
		return Mass{}, err
	}
	mass := func(k float64) float64 {
		w := p.wallShare(k)
		return p.Density * p.Volume * (w + p.Infill*(1-w))
	}
	return Mass{
		Value: mass(2), Low: mass(3), High: mass(1),
		Solid: p.Density * p.Volume, WallShare: p.wallShare(2),
	}, nil
}

// wallShare returns the share of the volume within Wall of the surface when
// the inside shrinks in k directions.
func (p Part) wallShare(k float64) float64 {
	left := 1 - p.Area*p.Wall/p.Volume/k
	if left <= 0 {
		return 1 // the walls meet: nothing is left to fill
	}
	return 1 - math.Pow(left, k)
}

func (p Part) check() error {
	const src = "judgement"
	if err := process.Within("volume", p.Volume, 1e-15, 1e9, "m³", src); err != nil {
		return err
	}
	// No body has less surface than the ball; 1e-9 leaves room for rounding.
	ball := math.Cbrt(36*math.Pi*p.Volume*p.Volume) * (1 - 1e-9)
	if err := process.Within("area", p.Area, ball, 1e12, "m²", "own derivation"); err != nil {
		return err
	}
	if err := process.Within("wall thickness", p.Wall, 0, 1, "m", src); err != nil {
		return err
	}
	if err := process.Within("infill", p.Infill, 0, 1, "", "own derivation"); err != nil {
		return err
	}
	return process.Within("density", p.Density, 100, 20_000, "kg/m³", src)
}
