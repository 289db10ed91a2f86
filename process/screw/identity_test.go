package screw

// Laws that hold for every screw, on seeded plausible draws.

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process"
	"hopperful/process/melt"
)

// plausible draws a small head from wide but sensible ranges, and a speed.
func plausible(t *testing.T, rng *rand.Rand) (Line, float64) {
	t.Helper()
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	scale := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rng.Float64()) }
	d := scale(0.008, 0.03)
	tip := d * between(0.05, 0.12)
	s := Screw{Diameter: d, Lead: d * between(0.6, 1.2), Flight: d * between(0.05, 0.12), Clearance: tip * between(0, 0.1),
		FeedDepth: tip * between(1.5, 3), DepthIn: tip * between(1, 1.5), DepthOut: tip, Pump: d * between(3, 8)}
	s.Heated = s.Pump * between(1, 2)
	c, err := melt.NewCross(melt.CrossSet{Zero: scale(200, 2e4), Stress: scale(2e4, 2e5), N: between(0.2, 0.8)})
	if rng.IntN(4) == 0 {
		c, err = melt.NewPower(scale(100, 5000), 1)
	}
	if err != nil {
		t.Fatal(err)
	}
	bore := scale(0.6e-3, 3e-3)
	z := melt.Nozzle{Bore: bore, Land: bore * between(0.5, 4), Entry: bore * between(2, 6), Taper: bore * between(1, 6)}
	l := Line{Head{s, z, c, c, between(0, 8)}, Feed{between(200, 800), between(0.05, 0.6)}, between(900, 1300),
		scale(2, 20), scale(1e6, 6e7), Heating{Heaters: scale(30, 500), Efficiency: between(0.3, 0.9), Heat: between(2e5, 7e5)}}
	return l, scale(0.2, l.MostSpeed)
}

func TestOperatingLaws(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 1))
	for range 60 {
		l, speed := plausible(t, rng)
		p, err := Operating(l.Head, speed)
		if err != nil {
			t.Fatalf("%+v: %v", l, err)
		}
		if !(p.Flow > 0 && p.Flow < p.Drag && p.Pressure > 0 && p.Back > 0 && p.Leak >= 0) || math.Abs(p.Flow+p.Back+p.Leak-p.Drag) > 1e-9*p.Drag {
			t.Fatalf("%+v: %+v does not add up", l, p)
		}
		more, err := Operating(l.Head, 1.1*speed)
		if err != nil || more.Flow <= p.Flow || more.Pressure <= p.Pressure {
			t.Errorf("%+v: faster gives %+v after %+v, %v", l, more, p, err)
		}
		back, err := SpeedFor(l.Head, p.Flow, 2*speed)
		if err != nil || math.Abs(back/speed-1) > 1e-8 {
			t.Errorf("speed %g gives a flow that asks for %g, %v", speed, back, err)
		}
	}
}

// With one Newtonian melt in screw and nozzle the viscosity moves the pressure
// and not the flow; with a thinning one, thinned alike, the flow moves little.
func TestViscosityMovesPressureNotFlow(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 7))
	for range 30 {
		l, speed := plausible(t, rng)
		thick, err1 := Operating(l.Head, speed)
		c, err2 := l.Head.InScrew.Thinned(2)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		l.Head.InScrew, l.Head.InNozzle = c, c
		thin, err := Operating(l.Head, speed)
		if err != nil || thin.Pressure >= thick.Pressure {
			t.Errorf("%+v: thinner asks %g Pa after %g, %v", l, thin.Pressure, thick.Pressure, err)
		}
		if gap := math.Abs(thin.Flow/thick.Flow - 1); gap > 0.15 {
			t.Errorf("%+v: twice as thin moves the flow by %.0f %%", l, 100*gap)
		}
	}
}

func TestLimitsAgreeWithTheirParts(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 9))
	for range 40 {
		l, _ := plausible(t, rng)
		bounds, err := LargestFlows(l)
		if err != nil {
			t.Fatalf("%+v: %v", l, err)
		}
		for i, b := range bounds {
			if !(b.Flow > 0) || math.IsInf(b.Flow, 0) || i > 0 && b.Flow < bounds[i-1].Flow {
				t.Errorf("%+v: bounds %+v", l, bounds)
			}
		}
		// Just below the binding limit the line runs, and no part is beyond its own.
		flow := 0.99 * bounds[0].Flow
		s, err := RunAt(l, flow)
		if err != nil {
			t.Errorf("%+v: at %g of %+v: %v", l, flow, bounds, err)
			continue
		}
		if s.Omega > l.MostSpeed || s.Pressure > l.MostPressure {
			t.Errorf("%+v: at %g of %+v it runs at %+v", l, flow, bounds, s)
		}
		if bounds[0].By == Heater && s.Duty > 1.000001 {
			t.Errorf("%+v: within the heater limit the duty is %g", l, s.Duty)
		}
		l.Feed.Bulk *= 0.5
		half, err := IntakeFlow(l.Head.Screw, l.Feed, l.MostSpeed)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range bounds {
			if b.By == Starve && math.Abs(2*half/b.Flow-1) > 1e-12 {
				t.Errorf("half the bulk density gives %g of %g", half, b.Flow)
			}
		}
	}
}

func TestResidenceIsADistribution(t *testing.T) {
	t.Parallel()
	// ∫(1 − F) dt = 1: the mean stay is the mean stay. Over dF by parts the tail
	// beyond t is (1/12)/t.
	sum, last, step := ShortestShare, 0.0, 1e-3
	for time := ShortestShare + step/2; time < 60; time += step {
		f, err := AgedShare(time)
		if err != nil || f < last || f > 1 {
			t.Fatalf("at %g: %g after %g, %v", time, f, last, err)
		}
		last = f
		sum += (1 - f) * step
	}
	if sum += 1.0 / 12 / 60; math.Abs(sum-1) > 3e-5 { // the step: F rises steeply at 3/4
		t.Errorf("mean stay %.6f", sum)
	}
	rng := rand.New(rand.NewPCG(3, 3))
	for range 200 {
		left := math.Pow(10, -9*rng.Float64())
		time, err := AgedTime(left)
		if err != nil {
			t.Fatal(err)
		}
		f, err := AgedShare(time)
		if err != nil || math.Abs((1-f)-left) > 1e-9*left+1e-15 {
			t.Errorf("left %g: time %g, back %g, %v", left, time, 1-f, err)
		}
	}
}

func TestFindingsSpeakPlainly(t *testing.T) {
	t.Parallel()
	found, err := Fits(Passage{Grain: 5e-3, Hole: 2e-3, Bore: 1.2e-3, FeedDepth: 4e-3})
	if err != nil || len(found) != 2 || !found[0].Stops || found[1].Stops {
		t.Fatalf("%+v, %v", found, err)
	}
	for i, want := range []string{
		"grains of 5 mm do not enter a feed channel 4 mm deep: grind through a finer screen",
		"the nozzle of 1.2 mm is narrower than the screen hole of 2 mm: any hard bit the screen let pass can block it; sift finer or fit a larger nozzle",
	} {
		if got := found[i].String(); got != want {
			t.Errorf("got %q", got)
		}
	}
	found, err = Fits(Passage{Grain: 2.5e-3, Hole: 1e-3, Bore: 2e-3, FeedDepth: 4e-3})
	if err != nil || len(found) != 3 {
		t.Fatalf("%+v, %v", found, err)
	}
	for i, want := range []string{
		"the nozzle of 2 mm is narrower than the grains of 2.5 mm: no harm once they are molten, but one that comes through unmelted blocks it; see that the barrel is long and hot enough",
		"grains of 2.5 mm fill more than half of a feed channel 4 mm deep: they may wedge; sift off the coarse ones",
		"the nozzle of 2 mm is less than three screen holes of 1 mm wide: a few hard bits together can bridge it",
	} {
		if got := found[i].String(); got != want {
			t.Errorf("got %q", got)
		}
	}
}

func TestRefusesWithARange(t *testing.T) {
	t.Parallel()
	l, speed := plausible(t, rand.New(rand.NewPCG(5, 5)))
	bad := l
	bad.Head.Screw.FeedDepth = l.Head.Screw.Diameter / 2
	slow := bad
	slow.Head.Screw = l.Head.Screw
	slow.MostPressure = math.NaN()
	for name, ask := range map[string]func() error{
		"no core":            func() error { _, err := Operating(bad.Head, speed); return err },
		"no core, limits":    func() error { _, err := LargestFlows(bad); return err },
		"no core, setting":   func() error { _, err := RunAt(bad, 1e-5); return err },
		"no core, speed":     func() error { _, err := SpeedFor(bad.Head, 1e-8, 5); return err },
		"pressure no number": func() error { _, err := LargestFlows(slow); return err },
		"no speed":           func() error { _, err := Operating(l.Head, 0); return err },
		"speed infinite":     func() error { _, err := Operating(l.Head, math.Inf(1)); return err },
		"hardly any pressure": func() error {
			weak := l
			weak.MostPressure = 1e3
			weak.Head.Nozzle.Bore, weak.Head.Loss = 0.3e-3, 50
			_, err := LargestFlows(weak)
			return err
		},
	} {
		var outside *process.RangeError
		if err := ask(); !errors.As(err, &outside) || outside.Name == "" || outside.Error() == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}
