package melt

import (
	"errors"
	"math"
	"testing"

	"hopperful/process"
)

// A nozzle's flow is the inverse of its drop up to the ends of what a curve is reckoned
// for: the fastest and the slowest shear, of thinning, Newtonian and thickening melts.
func TestNozzleFlowToItsEnds(t *testing.T) {
	t.Parallel()
	z := Nozzle{Bore: 1e-3, Land: 2e-3, Entry: 6e-3, Taper: 4e-3, Losses: Span{1, 1}}
	for _, n := range []float64{0.2, 0.5, 1, 1.4} {
		c, err := NewPower(1e-3, n)
		if err != nil {
			t.Fatal(err)
		}
		true1 := (3*n + 1) / (4 * n) // true over apparent rate of a power law (Rabinowitsch)
		unit := func(radius float64) float64 { return math.Pi * radius * radius * radius / 4 }
		fastest := min(mostFlow, 0.97*mostRate*unit(z.Bore/2)*min(1, 1/true1))
		slowest := 2.2 * leastRate * unit(z.Entry/2)
		for _, flow := range []float64{fastest, slowest, math.Sqrt(fastest * slowest)} {
			d, err := NozzleDrop(c, z, flow)
			if err != nil {
				t.Fatalf("n %g, %g m³/s: %v", n, flow, err)
			}
			if d.Total.High < 1e-3 || d.Total.High > mostPressure {
				continue // a pressure nobody asks for
			}
			back, err := NozzleFlow(c, z, d.Total.High)
			if err != nil || math.Abs(back.High/flow-1) > 1e-8 {
				t.Errorf("n %g: %g Pa of %g m³/s drive %g, %v", n, d.Total.High, flow, back.High, err)
			}
		}
	}
	// Slow enough that only a thick melt's pressure counts.
	c, err := NewPower(1e12, 1)
	if err != nil {
		t.Fatal(err)
	}
	flow := 2.2 * leastRate * math.Pi * 27e-9 / 4
	d, err := NozzleDrop(c, z, flow)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := NozzleFlow(c, z, d.Total.High); err != nil || math.Abs(back.High/flow-1) > 1e-8 {
		t.Errorf("%g Pa of %g m³/s drive %g, %v", d.Total.High, flow, back.High, err)
	}
}

// Results at their bounds: a shift of 1e±30, a consistency of 1e-6 and 1e12, by hand.
func TestResultsAtTheirBounds(t *testing.T) {
	t.Parallel()
	told := func(name string, err error, in bool) {
		t.Helper()
		var out *process.RangeError
		if in != (err == nil) || !in && !errors.As(err, &out) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for over, in := range map[float64]bool{-49.9: true, -50.1: false} { // −30·(−50)/(100 − 50) = 30
		_, err := WLFShift(30, 100, over)
		told("thicker", err, in)
	}
	for over, in := range map[float64]bool{99.9: true, 100.2: false} { // 60·100/(100 + 100) = 30
		_, err := WLFShift(60, 100, over)
		told("thinner", err, in)
	}
	for fold, in := range map[float64]bool{0.68: true, 0.70: false} { // K 2e-6 thinned by e^0.693 is 1e-6
		_, err := Consistency(PowerLaw{K: 2e-6, N: 0.5, Fold: 100, T0: 400}, 400+100*fold)
		told("thin", err, in)
		_, err = Consistency(PowerLaw{K: 0.5e12, N: 0.5, Fold: 100, T0: 600}, 600-100*fold)
		told("thick", err, in)
	}
	for f, in := range map[float64]bool{1000: true, 1001: false, 1.0 / 1000: true, 1.0 / 1001: false} {
		_, err := (PowerLaw{K: 1e3, N: 0.5, Fold: 100, T0: 500}).Thinned(f)
		told("another material", err, in)
	}
}
