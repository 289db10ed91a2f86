package trace_test

import (
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
