package identify

import (
	"fmt"
	"math"
)

// Density is how dense a candidate's grades on the market are: mean and standard
// deviation [kg/m³]; both 0 for what the book does not list.
func (c Candidate) Density() (mean, spread float64) { return c.density.mean, c.density.spread }

// The liquids tried to part two plastics: from a light alcohol to a heavy brine,
// in steps finer than a bench mixes [kg/m³].
const (
	lightestMixed, heaviestMixed = 800., 1390.
	mixingStep                   = 5.
	likeWater                    = 2 // this near to water, water will do
)

// PartingLiquid returns the float test that tells most about shares, in a liquid
// that can be mixed at 20 °C: its density, and the tamest liquid that reaches it.
func (b *Book) PartingLiquid(shares []float64) (Worth, error) {
	best := Worth{}
	for rho := lightestMixed; rho <= heaviestMixed; rho += mixingStep {
		w, err := b.Informs(shares, Test{Name: "floats", Kind: Float, At: rho, Seconds: 60})
		if err != nil {
			return Worth{}, err
		}
		if w.Bits > best.Bits+1e-12 {
			best = w
		}
	}
	if best.Bits == 0 {
		return best, nil
	}
	t, err := b.floatTest(best.At)
	if err != nil {
		return Worth{}, err
	}
	return b.Informs(shares, t)
}

// floatTest is a float test of the book's in a liquid of any density.
func (b *Book) floatTest(rho float64) (Test, error) {
	l, rho, err := liquidOf(rho)
	if err != nil {
		return Test{}, err
	}
	like, off := Test{}, math.Inf(1)
	for _, t := range b.Tests {
		if d := math.Abs(t.At - rho); t.Kind == Float && t.Liquid == l && d < off {
			like, off = t, d
		}
	}
	if like.Name == "" {
		return Test{}, fmt.Errorf("tests.csv has no float test in %s", l)
	}
	like.At = rho
	return like, nil
}

// liquidOf is the tamest liquid of a density, and the density it then has.
func liquidOf(rho float64) (Liquid, float64, error) {
	const room = zero + 20
	water, err := WaterDensity(room)
	if err != nil || math.Abs(rho-water) <= likeWater {
		return Water, water, err
	}
	for _, l := range []Liquid{Brine, Sugar, Chloride, Ethanol} {
		if _, err = RecipeFor(l, rho, room); err == nil {
			return l, rho, nil
		}
	}
	return "", 0, err
}
