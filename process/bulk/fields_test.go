package bulk

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Mixture{Dust: 0.1, Coarse: 0.5, Fine: 0.4}, Mixture.Check)
	checkrow.Fields(t, Granulate{Mix: Mixture{0.1, 0.5, 0.4}, Stick: Sticking{10, 100}, D95: 4e-3, Mean: 2e-3, Solid: 1240}, Granulate.Check)
	checkrow.Fields(t, Sticking{10, 100}, func(s Sticking) error { _, err := MixedStrength(s, Mixture{0.1, 0.5, 0.4}); return err })
	for name, f := range map[string]func(float64) Mixture{
		"grains": func(x float64) Mixture { return Mixture{0.1, x, 0.4} },
		"dust":   func(x float64) Mixture { return Mixture{0.1, 0.5, x} },
	} { // no pack of equal spheres is denser than π/√18 (Kepler's conjecture)
		checkrow.Range(t, "packing of the "+name, 0.1, math.Pi/math.Sqrt(18), func(x float64) error { return f(x).Check() })
	}
	checkrow.Fields(t, Outlet{Width: 0.05, HalfAngle: 0.5}, Outlet.Check)
	checkrow.Fields(t, Discharge{Outlet: 0.05, Grain: 1e-3, Density: 600, C: 0.58, K: 1.4}, func(d Discharge) error { _, err := DischargeRate(d); return err })
}
