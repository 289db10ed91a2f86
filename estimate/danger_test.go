package estimate_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hopperful/estimate"
)

// Up to five other runs cannot tell a slip from the truth: a wall read far too hot is
// believed for the limits, one read as far too cool is held to little.
func TestFewRunsBelieveTheDangerousSide(t *testing.T) {
	t.Parallel()
	wall := func(last float64, runs int) float64 {
		run := func(i int, rise float64) estimate.Run {
			return estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Since: 0.1 * float64(i), Charge: 0.08, Time: 120, Room: 293.15, Day: i + 1, OfDay: 1,
				Resolution: 0.001, Load: estimate.Load{Watts: 500, Spread: 1.4}, Largest: 0.03, Thickness: 0.0016, WallBefore: ptr(293.15), WallAfter: ptr(293.15 + rise), Product: ptr(0.07)}
		}
		var all []estimate.Run
		for i := range runs {
			all = append(all, run(i, 12+float64(i%3-1)))
		}
		all = append(all, run(runs, last))
		out, err := fitted(t, all).Outcomes(run(runs+1, 12), 200, rand.New(rand.NewPCG(6, 6)))
		if err != nil {
			t.Fatal(err)
		}
		rises := make([]float64, len(out))
		for i, o := range out {
			rises[i] = o.Wall - 293.15
		}
		slices.Sort(rises)
		return rises[len(rises)/2]
	}
	base := wall(12, 3)
	hot, cool := wall(32, 3)-base, base-wall(-8, 3)
	if hot < 2 || hot < 1.5*math.Abs(cool) {
		t.Errorf("read 20 K too hot it moves by %.1f K, read 20 K too cool by %.1f K, from %.1f K", hot, cool, base)
	}
	if many := wall(32, 9) - wall(12, 9); many > 0.5*hot {
		t.Errorf("with nine others a hot reading still moves by %.1f K, with three by %.1f K", many, hot)
	}
}

// A charge of which nothing comes is a reading like any other: the next of its kind is
// thought to give little, and each further one less.
func TestAChargeThatGivesNothingIsBelieved(t *testing.T) {
	t.Parallel()
	run := func(i int) estimate.Run {
		return estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Since: 0.05 * float64(i), Charge: 0.05, Time: 60, Room: 293.15, Day: i + 1, OfDay: 1,
			Resolution: 0.001, Load: estimate.Load{Watts: 500, Spread: 1.4}, Largest: 0.03, Thickness: 0.0016, Product: ptr(0.0)}
	}
	last := 0.05
	for _, n := range []int{1, 2, 4, 7} {
		var all []estimate.Run
		for i := range n {
			all = append(all, run(i))
		}
		out, err := fitted(t, all).Outcomes(run(n), 200, rand.New(rand.NewPCG(6, 6)))
		if err != nil {
			t.Fatal(err)
		}
		products := make([]float64, len(out))
		for i, o := range out {
			products[i] = o.Product
		}
		slices.Sort(products)
		middle := products[len(products)/2]
		t.Logf("after %d: %.1f g (%.1f to %.1f)", n, 1e3*middle, 1e3*products[20], 1e3*products[180])
		if middle > last {
			t.Errorf("after %d charges of 50 g that gave nothing %.1f g are expected, after fewer %.1f g", n, 1e3*middle, 1e3*last)
		}
		last = middle
	}
	if last > 0.005 {
		t.Errorf("after seven charges of 50 g that gave nothing %.1f g are expected", 1e3*last)
	}
}

// What was left and not weighed lies between nothing and what can be inside: told by
// the masses, by the models, by both, or not at all.
func TestAnUnweighedRestIsAMassBetweenTheTwo(t *testing.T) {
	t.Parallel()
	const most = 0.4
	for _, c := range []struct {
		name          string
		run           estimate.Run
		before        float64
		held          *float64
		low, high     float64 // where the mean must lie [kg]
		narrow, width float64 // and its spread
	}{
		{"weighed", estimate.Run{Charge: 0.08, Product: ptr(0.06), Left: ptr(0.015)}, 0, ptr(0.03), 0.015, 0.015, 0, 0},
		{"by the balance", estimate.Run{Charge: 0.08, Product: ptr(0.06)}, 0.01, nil, 0.028, 0.030, 0.003, 0.005},
		{"by both", estimate.Run{Charge: 0.08, Product: ptr(0.06)}, 0.01, ptr(0.015), 0.024, 0.029, 0.003, 0.005},
		{"by the models", estimate.Run{Charge: 0.08}, 0, ptr(0.02), 0.0199, 0.0201, 0.008, 0.012},
		{"not at all", estimate.Run{Charge: 0.08}, 0, nil, 0.03, 0.05, 0.02, 0.03},
		{"more came out than went in", estimate.Run{Charge: 0.06, Product: ptr(0.08)}, 0, nil, 0, 0, 0.001, 0.01},
		{"a heap that keeps growing", estimate.Run{Charge: 1, Product: ptr(0.01)}, 2, nil, most, most, 0.001, 0.2},
	} {
		mean, spread := c.run.Remains(c.before, 0.012, c.held, most)
		if mean < c.low-1e-12 || mean > c.high+1e-12 || spread < c.narrow || spread > c.width {
			t.Errorf("%s: %.4f ± %.4f kg, wanted %g to %g ± %g to %g", c.name, mean, spread, c.low, c.high, c.narrow, c.width)
		}
	}
}

// What goes in and does not come out lies in the mill, however many charges it takes: the
// books lose a hundredth or so of what came out, and nothing a charge.
func TestWhatLiesInTheMillAddsUp(t *testing.T) {
	t.Parallel()
	lies := 0.030
	for range 20 {
		r := estimate.Run{Charge: 0.020, Product: ptr(0.0187)}
		lies, _ = r.Remains(lies, 0.012, nil, 0.4)
	}
	const in, out = 0.030 + 20*0.020, 20 * 0.0187
	if rest := in - out; lies > rest || lies < rest-0.02*out {
		t.Errorf("of %.0f g more in than out %.0f g are thought to lie in the mill", 1e3*(in-out), 1e3*lies)
	}
}
