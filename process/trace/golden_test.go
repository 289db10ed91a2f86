package trace_test

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/trace"
)

// What is told of rendered runs is as approved, whole: go test ./process/trace -run
// AsApproved -update keeps it. That it is near the truth is held by the tests beside this.
func TestRunsAreToldAsApproved(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		r := render(t, seed, []float64{1, 1.7, 2, 5}[seed], []float64{1e-4, 2e-4, 4e-4, 2e-4}[seed], []float64{0.15, 0.3, 0.6, 0.08}[seed])
		known := trace.Known{Idle: r.idle}
		if seed > 1 {
			known = trace.Known{} // nobody measured it
		}
		runs, err := trace.Runs(r.readings, known)
		if err != nil {
			t.Fatal(err)
		}
		holed := append([]trace.Reading{}, r.readings[:len(r.readings)/3]...) // a gap in the middle, and a stall's peak
		for i, x := range r.readings[len(r.readings)/2:] {
			if i > 3 && i < 8 {
				x.Value *= 3
			}
			holed = append(holed, x)
		}
		gaps, err := trace.Runs(holed, known)
		if err != nil {
			t.Fatal(err)
		}
		drawn, err := trace.Energy(holed, 10, 1000)
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, string(rune('a'+seed))+"-told", []any{runs, gaps, drawn})
	}
}

// A wall that cools and a wall that warms, with ripples a hand thermometer shows.
func TestWarmthIsToldAsApproved(t *testing.T) {
	t.Parallel()
	var cooling, warming []trace.Reading
	for i := range 60 {
		at, ripple := 20*float64(i), 0.3*math.Sin(float64(7*i))
		cooling = append(cooling, trace.Reading{At: at, Value: 293 + 30*math.Exp(-at/700) + ripple})
		warming = append(warming, trace.Reading{At: at, Value: 300 + at/60 + ripple})
	}
	var all []any
	for _, n := range []int{20, 30, 60} {
		c, err := trace.Cool(cooling[:n], 293)
		if err != nil {
			t.Fatal(err)
		}
		b, err := trace.Ahead(warming[:n], 1500)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, c, b)
	}
	checkrow.Approved(t, "warmth-told", all)
}
