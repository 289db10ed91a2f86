package sieve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// record draws runs whose metal scatters log-normally around level; the last
// ones are multiplied.
func record(rng *rand.Rand, runs, raised int, factor float64) Metal {
	m := Metal{Resolution: 1e-9}
	level, scatter := math.Exp(math.Log(1e-5)+rng.NormFloat64()), 0.2+0.6*rng.Float64()
	for i := range runs {
		ground := 0.2 + rng.Float64()
		rate := level * math.Exp(scatter*rng.NormFloat64())
		if i >= runs-raised {
			rate *= factor
		}
		m.Runs = append(m.Runs, MetalRun{ground, ground * rate})
	}
	return m
}

func metalAlarms(t *testing.T, seed uint64, records, runs, raised int, factor, rate float64) float64 {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 5))
	count := 0
	for range records {
		c, err := record(rng, runs, raised, factor).Test(rate)
		if err != nil {
			t.Fatal(err)
		}
		if math.IsNaN(c.StepP + c.TrendP) {
			t.Fatalf("no answer: %+v", c)
		}
		if c.Alarm {
			count++
		}
	}
	return float64(count) / float64(records)
}

func TestMetalFalseAlarmsAreAsStated(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		seed uint64
		runs int
		rate float64
	}{{1, 5, 0.005}, {2, 12, 0.005}, {3, 5, 0.05}, {4, 30, 0.05}} {
		const records = 20_000
		got := metalAlarms(t, c.seed, records, c.runs, 0, 1, c.rate)
		three := 3 * math.Sqrt(c.rate/records)
		t.Logf("%d runs: %.4f false alarms, stated %.4f", c.runs, got, c.rate)
		// The two halves overlap: a last run that stands out also tilts the slope.
		if got > c.rate+three || got < 0.6*c.rate {
			t.Errorf("%d runs: %.4f false alarms, stated %.4f", c.runs, got, c.rate)
		}
	}
}

func TestCrackedPlatesAreFound(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		runs, raised  int
		factor, least float64
	}{{12, 1, 30, 0.9}, {20, 6, 10, 0.85}, {20, 10, 10, 0.9}} {
		got := metalAlarms(t, 9, 500, c.runs, c.raised, c.factor, 0)
		t.Logf("%d runs, the last %d with %g times the metal: found %.2f", c.runs, c.raised, c.factor, got)
		if got < c.least {
			t.Errorf("%d runs, the last %d with %g times the metal: found %.2f", c.runs, c.raised, c.factor, got)
		}
	}
}

func TestMetalBelowTheScale(t *testing.T) {
	t.Parallel()
	m := Metal{Resolution: 1e-6}
	for range 6 {
		m.Runs = append(m.Runs, MetalRun{0.5, 0})
	}
	c, err := m.Test(0)
	if err != nil || c.Alarm || math.Abs(c.Last-1e-6) > 1e-18 {
		t.Errorf("nothing found six times: %+v, %v", c, err)
	}
	m.Runs[5].Found = 2e-5
	if c, err = m.Test(0); err != nil || !c.Alarm {
		t.Errorf("then 20 mg: %+v, %v", c, err)
	}
	for name, bad := range map[string]Metal{
		"no resolution":   {Runs: m.Runs},
		"negative":        {Runs: append([]MetalRun{{0.5, -1e-6}}, m.Runs...), Resolution: 1e-6},
		"NaN":             {Runs: append([]MetalRun{{math.NaN(), 1e-6}}, m.Runs...), Resolution: 1e-6},
		"more than mass":  {Runs: append([]MetalRun{{0.5, 1}}, m.Runs...), Resolution: 1e-6},
		"nothing ground":  {Runs: append([]MetalRun{{0, 0}}, m.Runs...), Resolution: 1e-6},
		"too few":         {Runs: m.Runs[:4], Resolution: 1e-6},
		"nothing at all":  {Resolution: 1e-6},
		"huge resolution": {Runs: m.Runs, Resolution: 5},
	} {
		if _, err := bad.Test(0); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	if _, err := m.Test(2); err == nil {
		t.Error("a rate of 2 is taken")
	}
}
