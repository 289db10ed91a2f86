package bulk

// Laws over seeded draws, and what is refused.

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process"
)

const draws = 500

func logBetween(r *rand.Rand, lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

func drawLot(r *rand.Rand) Granulate {
	g := Granulate{
		Mix:   Mixture{r.Float64() * 0.6, 0.35 + 0.3*r.Float64(), 0.2 + 0.3*r.Float64()},
		Stick: Sticking{Coarse: 50 * r.Float64()},
		D95:   logBetween(r, 5e-4, 8e-3), Solid: 900 + 600*r.Float64(),
	}
	g.Stick.Dust = g.Stick.Coarse + logBetween(r, 10, 1500)
	g.Mean = g.D95 * (0.3 + 0.6*r.Float64())
	return g
}

// Hausner and Carr are one number in two clothes; worse of either never improves
// when tapping gains more.
func TestFlowClassesAreMonotone(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range draws {
		bulk := 200 + 500*r.Float64()
		tapped := bulk * (1 + 0.7*r.Float64())
		c, err1 := Carr(bulk, tapped)
		h, err2 := Hausner(bulk, tapped)
		if err1 != nil || err2 != nil || math.Abs(h-1/(1-c)) > 1e-12*h {
			t.Errorf("%g %g: C %g H %g, %v %v", bulk, tapped, c, h, err1, err2)
		}
		a, err1 := ClassFlow(bulk, tapped)
		b, err2 := ClassFlow(bulk, tapped*1.05)
		if err1 != nil || err2 != nil || b < a || a < Excellent || b > VeryVeryPoor {
			t.Errorf("%g %g: %v, tapped further %v", bulk, tapped, a, b)
		}
	}
}

// Twice the hole of grains of no size lets 2^2.5 as much through; more density in
// proportion; bigger grains less.
func TestDischargeScales(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	for range draws {
		d := Discharge{Grain: logBetween(r, 1e-4, 5e-3), Density: 300 + 500*r.Float64(), C: DischargeC}
		d.Outlet = d.Grain * (14 + 20*r.Float64())
		rate := func(d Discharge) float64 {
			w, err := DischargeRate(d)
			if err != nil || !(w > 0) {
				t.Fatalf("%+v: %g, %v", d, w, err)
			}
			return w
		}
		w, twice := rate(d), d
		twice.Outlet *= 2
		if got := rate(twice) / w; math.Abs(got-math.Pow(2, 2.5)) > 1e-12*got {
			t.Errorf("%+v: twice the hole gives %g times", d, got)
		}
		d.K = DischargeK
		coarse, dense := d, d
		coarse.Grain *= 1.2
		dense.Density *= 2
		if a := rate(d); rate(coarse) >= a || math.Abs(rate(dense)-2*a) > 1e-12*a || a >= w {
			t.Errorf("%+v: %g, coarser %g, denser %g", d, a, rate(coarse), rate(dense))
		}
	}
}

// Packing rises with dust until the voids are full and falls after; it never
// leaves the space there is.
func TestMixedPackingHasOnePeak(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	for range draws {
		m := drawLot(r).Mix
		full, err := DustFillsVoids(m)
		if err != nil {
			t.Fatal(err)
		}
		at := func(dust float64) float64 {
			m.Dust = dust
			v, err := MixedPacking(m)
			if err != nil || !(v > 0 && v < 1) {
				t.Fatalf("%+v: %g, %v", m, v, err)
			}
			return v
		}
		if before, peak, after := at(full*0.9), at(full), at(full+(1-full)*0.1); before > peak || after > peak {
			t.Errorf("%+v: %g, %g, %g", m, before, peak, after)
		}
		if a, b := at(full*(1-1e-12)), at(full*(1+1e-12)); math.Abs(a-b) > 1e-9 {
			t.Errorf("%+v: %g and %g where the forms meet", m, a, b)
		}
	}
}

// No remedy makes bridging worse, and the outlet it names runs.
func TestRemediesHelp(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 8))
	for range draws {
		g := drawLot(r)
		o := Outlet{Width: logBetween(r, 0.005, 0.1), HalfAngle: r.Float64(), Slot: r.IntN(2) == 0}
		now, err := Bridging(o, g)
		if err != nil {
			t.Fatal(err)
		}
		all, err := Remedies(o, g, Means{r.Float64(), g.D95 * (0.5 + 0.5*r.Float64())})
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range all {
			if e.After.Wedging > now.Wedging || now.Runs() && !e.Runs {
				t.Errorf("%s: %+v, before %+v", e.Remedy, e, now)
			}
			if e.Remedy == WidenOutlet && !e.Runs {
				t.Errorf("%s to %g m does not run: %+v", e.Remedy, e.To, e.After)
			}
			if e.Remedy == TakeOffDust && e.After.Strength > now.Strength*(1+1e-12) {
				t.Errorf("%s: strength %g Pa, before %g Pa", e.Remedy, e.After.Strength, now.Strength)
			}
		}
	}
}

// A finer screen gives grains from 10 µm to those it had.
func TestFinerScreensAtTheEdge(t *testing.T) {
	t.Parallel()
	g, o := benchLot(0.1), Outlet{0.03, 0.3, false}
	for d95, in := range map[float64]bool{1e-5: true, 0.99e-5: false, g.D95: true, g.D95 * 1.001: false} {
		_, err := Remedies(o, g, Means{0.1, d95})
		if out := (*process.RangeError)(nil); (errors.As(err, &out) && out.Name == "d95 after a finer screen") == in {
			t.Errorf("to %g m: %v", d95, err)
		}
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	good, o := benchLot(0.1), Outlet{0.03, 0.3, false}
	with := func(change func(*Granulate)) Granulate { g := good; change(&g); return g }
	second := func(_ any, err error) error { return err }
	for name, err := range map[string]error{
		"NaN mass":         second(BulkDensity(nan, 1e-3)),
		"feather":          second(BulkDensity(1e-4, 1)),
		"NaN bulk":         second(JudgePacking(nan, 1240)),
		"NaN tapped":       second(ClassFlow(500, nan)),
		"no outlet":        second(MechanicalRisk(Outlet{}, 0.003)),
		"NaN strength":     second(CohesiveOutlet(o, nan, 500)),
		"no hole":          second(DischargeRate(Discharge{})),
		"over full":        second(FillMass(1e-3, 500, 1.1)),
		"packed dust":      second(DustFillsVoids(Mixture{0.1, 0.5, 0.9})),
		"weak dust":        second(MixedStrength(Sticking{10, 5}, good.Mix)),
		"mean above d95":   second(Bridging(o, with(func(g *Granulate) { g.Mean = 1 }))),
		"NaN solid":        second(Bridging(o, with(func(g *Granulate) { g.Solid = nan }))),
		"more dust left":   second(Remedies(o, good, Means{1.5, 0.002})),
		"coarser screen":   second(Remedies(o, good, Means{0.1, 0.003})),
		"nothing but dust": second(Remedies(o, with(func(g *Granulate) { g.Mix.Dust = 1 }), Means{0, 0.002})),
	} {
		var out *process.RangeError
		if !errors.As(err, &out) {
			t.Errorf("%s: got %v, wanted a RangeError", name, err)
		}
	}
	for _, s := range []string{Flow(9).String(), Risk(-1).String()} {
		if s != "unknown" {
			t.Errorf("a class out of range is called %q", s)
		}
	}
}

// A rate is told where it runs: through a hole six mean grains wide or more that is wider than a
// sticking arch, not through a slot.
func TestARateIsToldWhereItRuns(t *testing.T) {
	t.Parallel()
	g := Granulate{Mix: Mixture{0, 0.55, 0.35}, Stick: Sticking{0, 0}, D95: 3e-3, Mean: 2e-3, Solid: 1240}
	for _, c := range []struct {
		width float64
		slot  bool
		runs  bool
	}{{12e-3, false, true}, {11.9e-3, false, false}, {24e-3, false, true}, {24e-3, true, false}} {
		b, err := Bridging(Outlet{Width: c.width, Slot: c.slot, HalfAngle: 0.5}, g)
		if err != nil || (b.Rate > 0) != c.runs || b.Sticks {
			t.Errorf("through %g m (slot %t): %+v, %v", c.width, c.slot, b, err)
		}
	}
	g.Stick = Sticking{5000, 5000}
	if b, err := Bridging(Outlet{Width: 24e-3, HalfAngle: 0.5}, g); err != nil || !b.Sticks || b.Rate != 0 || b.Runs() {
		t.Errorf("it sticks: %+v, %v", b, err)
	}
}
