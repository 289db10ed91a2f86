package sieve

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/process"
)

// mill draws the runs of one mill with a sound screen, as Sound describes them.
type mill struct {
	rng      *rand.Rand
	a, b     float64
	level    float64 // of this mill
	within   float64
	screen   Screen
	wellOver float64 // share added by a tear, 0 for a sound screen
	longTear float64 // share of that above 2 holes
}

var screen2 = Screen{Hole: 2e-3, Density: 1240}

func newMill(rng *rand.Rand, p Prior) *mill {
	a, b, _ := BetaFromQuantiles(p.Median, p.Upper)
	s, _ := screen2.check()
	return &mill{rng: rng, a: a, b: b, within: p.Within, level: math.Sqrt(1-p.Within) * rng.NormFloat64(), screen: s}
}

// run sieves one sample of a mass [kg].
func (m *mill) run(mass float64) Sample {
	z := m.level + math.Sqrt(m.within)*m.rng.NormFloat64()
	share := mathext.InvRegIncBeta(m.a, m.b, normalShare(z))
	coarse := share + m.wellOver
	n := math.Floor(mass / m.screen.grainMass(CoarseRatio*m.screen.Hole))
	k := distuv.Binomial{N: n, P: math.Min(coarse, 1), Src: m.rng}.Rand()
	long := mass / m.screen.grainMass(LongRatio*m.screen.Hole) * (share*m.screen.Shape.LongShare + m.wellOver*m.longTear)
	seen := 0.0
	if long > 0 {
		seen = distuv.Poisson{Lambda: long, Src: m.rng}.Rand()
	}
	return Sample{Mass: n * m.screen.grainMass(CoarseRatio*m.screen.Hole), Coarse: k / n, Long: int(seen)}
}

var usual = Prior{Median: 0.01, Upper: 0.04, Within: 0.5}

// alarms simulates mills, each with a history of sound runs, and returns the
// share of next runs that alarm.
func alarms(t *testing.T, seed uint64, mills, history int, falseAlarm, tear, longTear float64) float64 {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 77))
	base, err := NewSound(usual)
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	for range mills {
		m := newMill(rng, usual)
		s := base
		for range history {
			if s, err = s.After(screen2, m.run(0.02+0.06*rng.Float64())); err != nil {
				t.Fatal(err)
			}
		}
		m.wellOver, m.longTear = tear, longTear
		v, err := s.Test(screen2, m.run(0.02+0.06*rng.Float64()), falseAlarm)
		if err != nil {
			t.Fatal(err)
		}
		if math.IsNaN(v.ShareP+v.LongP+v.LogBayes) || math.IsInf(v.LogBayes, 0) {
			t.Fatalf("no answer: %+v", v)
		}
		if v.Alarm {
			count++
		}
	}
	return float64(count) / float64(mills)
}

// The rate of false alarms is as stated: never above it beyond chance (three
// standard deviations of the simulation), and not far below, or tears go
// unseen. Whole grains keep it a little below.
func TestFalseAlarmsAreAsStated(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		seed           uint64
		mills, history int
		rate           float64
	}{
		{1, 1200, 0, 0.005}, {2, 600, 5, 0.005}, {3, 600, 0, 0.05}, {4, 400, 5, 0.05}, {5, 200, 20, 0.05},
	} {
		got := alarms(t, c.seed, c.mills, c.history, c.rate, 0, 0)
		three := 3 * math.Sqrt(c.rate*(1-c.rate)/float64(c.mills))
		t.Logf("%d earlier runs: %.4f false alarms, stated %.4f", c.history, got, c.rate)
		if got > c.rate+three || got < c.rate/2-three {
			t.Errorf("%d earlier runs: %.4f false alarms, stated %.4f ± %.4f", c.history, got, c.rate, three)
		}
	}
}

// A torn screen is found: 10 % above 1.25 holes after a few sound runs, and
// without any history when part of it is above 2 holes.
func TestTornScreensAreFound(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name           string
		seed           uint64
		history        int
		tear, longTear float64
		least          float64
	}{
		{"10 % more, no long grains, five runs before", 11, 5, 0.10, 0, 0.80},
		{"10 % more, no long grains, twenty runs before", 12, 20, 0.10, 0, 0.80},
		{"10 % more, a tenth of it long, no run before", 13, 0, 0.10, 0.1, 0.95},
		{"3 % more, a third of it long, no run before", 14, 0, 0.03, 0.3, 0.90},
		{"20 % more, no long grains, no run before", 15, 0, 0.20, 0, 0.95},
	} {
		got := alarms(t, c.seed, 120, c.history, 0, c.tear, c.longTear)
		t.Logf("%s: found %.2f", c.name, got)
		if got < c.least {
			t.Errorf("%s: found in %.2f of the cases, wanted %.2f", c.name, got, c.least)
		}
	}
}

func TestTornTestGoesTheRightWay(t *testing.T) {
	t.Parallel()
	s, err := NewSound(Prior{})
	if err != nil {
		t.Fatal(err)
	}
	test := func(m Sample) Torn {
		v, err := s.Test(screen2, m, 0)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	last := test(Sample{Mass: 0.05, Long: NotLooked})
	if last.Alarm || last.ShareP < 1-1e-12 || last.LogBayes > 0 {
		t.Errorf("no coarse grain at all: %+v", last)
	}
	for share := 0.01; share < 0.5; share += 0.01 {
		v := test(Sample{Mass: 0.05, Coarse: share, Long: NotLooked})
		if v.ShareP > last.ShareP || share > 0.02 && v.LogBayes < last.LogBayes {
			t.Errorf("share %g: chance %g after %g, odds %g after %g", share, v.ShareP, last.ShareP, v.LogBayes, last.LogBayes)
		}
		last = v
	}
	if !last.Alarm {
		t.Errorf("half the product is coarse: %+v", last)
	}
	small, large := test(Sample{Mass: 0.001, Coarse: 0.12, Long: NotLooked}), test(Sample{Mass: 0.1, Coarse: 0.12, Long: NotLooked})
	if small.Alarm || !large.Alarm || small.Grains >= large.Grains {
		t.Errorf("1 g: %g, 100 g: %g", small.ShareP, large.ShareP)
	}
	few, many := test(Sample{Mass: 0.05, Coarse: 0.01, Long: 0}), test(Sample{Mass: 0.05, Coarse: 0.01, Long: 9})
	if few.Alarm || !many.Alarm || many.LogBayes <= few.LogBayes {
		t.Errorf("no long grain: %+v; nine: %+v", few, many)
	}
}

// Sound runs with little oversize lower what is expected; order does not matter.
func TestSoundRunsTeach(t *testing.T) {
	t.Parallel()
	base, err := NewSound(Prior{})
	if err != nil {
		t.Fatal(err)
	}
	learn := func(shares ...float64) Range {
		s := base
		for _, q := range shares {
			if s, err = s.After(screen2, Sample{Mass: 0.05, Coarse: q, Long: NotLooked}); err != nil {
				t.Fatal(err)
			}
		}
		v, err := s.Test(screen2, Sample{Mass: 0.05, Coarse: 0.01, Long: NotLooked}, 0)
		if err != nil || s.Runs != len(shares) {
			t.Fatal(s.Runs, err)
		}
		return v.Expected
	}
	none, little, much := learn(), learn(0.001, 0.002, 0.001), learn(0.05, 0.06, 0.04)
	if !(little.High < none.High && none.Value < much.Value && little.Low < little.Value) {
		t.Errorf("none %+v, little %+v, much %+v", none, little, much)
	}
	if a, b := learn(0.01, 0.03), learn(0.03, 0.01); math.Abs(a.Value-b.Value) > 1e-15 {
		t.Errorf("order matters: %g, %g", a.Value, b.Value)
	}
	if math.Abs(none.Value-0.01) > 5e-4 || math.Abs(none.High-0.04) > 2e-3 {
		t.Errorf("the prior is %+v, wanted a median of 1 %% and 4 %% at 90 %%", none)
	}
}

func TestTornRefuses(t *testing.T) {
	t.Parallel()
	s, err := NewSound(Prior{})
	if err != nil {
		t.Fatal(err)
	}
	good := Sample{Mass: 0.05, Coarse: 0.01, Long: 0}
	nan := math.NaN()
	for name, c := range map[string]struct {
		screen Screen
		sample Sample
		rate   float64
	}{
		"no hole":            {Screen{Density: 1240}, good, 0},
		"NaN hole":           {Screen{Hole: nan, Density: 1240}, good, 0},
		"no density":         {Screen{Hole: 2e-3}, good, 0},
		"share above 1":      {screen2, Sample{Mass: 0.05, Coarse: 1.1}, 0},
		"NaN share":          {screen2, Sample{Mass: 0.05, Coarse: nan}, 0},
		"no mass":            {screen2, Sample{Coarse: 0.1}, 0},
		"less than a grain":  {screen2, Sample{Mass: 2e-6, Coarse: 0.1}, 0},
		"negative count":     {screen2, Sample{Mass: 0.05, Coarse: 0.1, Long: -5}, 0},
		"rate above a half":  {screen2, good, 0.7},
		"odd shape":          {Screen{2e-3, 1240, GrainShape{Elongation: 50}}, good, 0},
		"long share above 1": {Screen{2e-3, 1240, GrainShape{LongShare: 2}}, good, 0},
	} {
		_, err := s.Test(c.screen, c.sample, c.rate)
		var out *process.RangeError
		if !errors.As(err, &out) {
			t.Errorf("%s: got %v", name, err)
		}
	}
	for _, p := range []Prior{{Median: 0.9}, {Upper: 0.005}, {Within: 2}, {Median: nan}} {
		if _, err := NewSound(p); err == nil {
			t.Errorf("prior %+v is taken", p)
		}
	}
}
