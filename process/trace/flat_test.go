package trace_test

import (
	"math"
	"testing"

	"hopperful/process/trace"
)

// A run is flat while the medians of its halves lie within 6 %, and its readings scatter
// by no more; both sides of both limits.
func TestFlatRuns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		watts func(i int) float64 // of 120 readings, one a second
		flat  bool
	}{
		{"even", func(int) float64 { return 200 }, true},
		{"a step of 5 %", func(i int) float64 { return 200 + 10*float64(i/62) }, true},
		{"a step of 9 %", func(i int) float64 { return 200 + 18*float64(i/62) }, false},
		{"a late step of 9 %", func(i int) float64 { return 200 + 18*float64(i/82) }, false},
		{"scattering by 5 %", func(i int) float64 { return 200 + 10*float64(i%2*2-1) }, true},
		{"scattering by 8 %", func(i int) float64 { return 200 + 16*float64(i%2*2-1) }, false},
	} {
		var readings []trace.Reading
		for i := range 140 {
			v := 0.0
			if i >= 10 && i < 130 {
				v = c.watts(i - 10)
			}
			readings = append(readings, trace.Reading{At: float64(i), Value: v})
		}
		for i := range 60 {
			readings = append(readings, trace.Reading{At: 140 + float64(i), Value: 0})
		}
		runs, err := trace.Runs(readings, trace.Known{Idle: 100})
		if err != nil || len(runs) != 1 {
			t.Fatalf("%s: %d runs, %v", c.name, len(runs), err)
		}
		if runs[0].Flat != c.flat {
			t.Errorf("%s: flat %v", c.name, runs[0].Flat)
		}
	}
}

// A cooling wall: eight readings, a fall of 2 K, three tenths of τ seen, τ from 10 s on; both sides.
func TestEdgesOfCooling(t *testing.T) {
	t.Parallel()
	cool := func(n int, from, tau, time float64) (trace.Cooling, error) {
		var readings []trace.Reading
		for i := range n {
			at := time * float64(i) / float64(n-1)
			readings = append(readings, trace.Reading{At: at, Value: 293.15 + from*math.Exp(-at/tau)})
		}
		return trace.Cool(readings, 293.15)
	}
	for name, c := range map[string]struct {
		n               int
		from, tau, time float64
		in              bool
	}{
		"eight": {8, 30, 600, 600, true}, "seven": {7, 30, 600, 600, false}, "2.1 K": {20, 2.1 / (1 - math.Exp(-1)), 600, 600, true}, "2.1 K, the last of eight": {8, 2.1 / (1 - math.Exp(-1)), 600, 600, true}, "1.9 K": {20, 1.9 / (1 - math.Exp(-1)), 600, 600, false},
		"0.31 of τ": {20, 30, 600, 186, true}, "0.29 of τ": {20, 30, 600, 174, false}, "10.2 s": {20, 30, 10.2, 10, true}, "9.8 s": {20, 30, 9.8, 10, false},
		"27 h": {20, 30, 0.98e5, 1e5, true}, "28 h": {20, 30, 1.02e5, 1e5, false},
	} {
		got, err := cool(c.n, c.from, c.tau, c.time)
		if (err == nil) != c.in || c.in && (math.Abs(got.Tau.Mid/c.tau-1) > 1e-6 || math.Abs(got.From-293.15-c.from) > 1e-6 || got.Count != c.n) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
}
