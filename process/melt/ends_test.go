package melt

import (
	"errors"
	"math"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process"
)

// Results at their bounds: a consistency of 1e-6 and 1e12, by hand.
func TestResultsAtTheirBounds(t *testing.T) {
	t.Parallel()
	told := func(name string, err error, in bool) {
		t.Helper()
		var out *process.RangeError
		if in != (err == nil) || !in && !errors.As(err, &out) {
			t.Errorf("%s: %v", name, err)
		}
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

// The ranges that no check row moves, at both ends.
func TestRangesOfMelts(t *testing.T) {
	t.Parallel()
	c, err := NewPower(1e3, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	one := func(_ float64, err error) error { return err }
	for _, r := range []struct {
		name   string
		lo, hi float64
		f      func(float64) error
	}{
		{"lowest temperature", 250, 800, func(x float64) error { return Window{x, 800}.check(800) }},
		{"ceiling", 500, 800, func(x float64) error { return Window{500, x}.check(500) }},
		{"measured flow", 1e-18, 1, func(x float64) error { return one(Thinning(x, 0.5)) }},
		{"modelled flow", 1e-18, 1, func(x float64) error { return one(Thinning(0.5, x)) }},
		{"stress of a curve", 1e-9, 1e9, func(x float64) error { return one(c.Rate(x)) }},
		{"rate of viscosity", 1e-9, 1e8, func(x float64) error { return one(c.Viscosity(x)) }},
		{"rate of stress", 1e-9, 1e8, func(x float64) error { return one(c.Stress(x)) }},
		{"rate of an exponent", 1e-9, 1e8, func(x float64) error { return one(c.Exponent(x)) }},
		{"radius of a stress", 1e-5, 0.1, func(x float64) error { return one(WallStress(1, x, 1)) }},
		{"radius of a rate", 1e-5, 0.1, func(x float64) error { return one(ApparentRate(1e-9, x)) }},
		{"temperature of a law", 250, 800, func(x float64) error { return one(Consistency(PowerLaw{1e3, 0.5, 100, 500}, x)) }},
		{"temperature of a set", 250, 800, func(x float64) error { return one(Consistency(PowerLaw{1e3, 0.5, 100, x}, 500)) }},
		{"least entrance loss", 0, 50, func(x float64) error { return Nozzle{4e-4, 1e-3, 2e-3, 1e-3, Span{x, 50}}.Check() }},
		{"largest entrance loss", 2, 50, func(x float64) error { return Nozzle{4e-4, 1e-3, 2e-3, 1e-3, Span{2, x}}.Check() }},
		{"thinning of a curve", 1e-3, 1e3, func(x float64) error { _, err := c.Thinned(x); return err }},
	} {
		checkrow.Range(t, r.name, r.lo, r.hi, r.f)
	}
	for at, in := range map[float64]bool{449.9: false, 450.1: true, 519.9: true, 520.1: false} {
		var hot *TooHotError
		if err := (Window{450, 520}).check(at); (err == nil) != in || errors.As(err, &hot) != (at > 520) {
			t.Errorf("%g K: %v", at, err)
		}
	}
	for n, in := range map[int]bool{1: false, 2: true, 1000: true, 1001: false} {
		values, cuts := make([]float64, n), make([]Cut, n)
		for i := range values {
			values[i], cuts[i] = 1, Cut{Mass: 1e-3, Time: 10}
		}
		_, err := Average(values)
		_, also := TimedCuts(cuts, 0)
		if (err == nil) != in || (also == nil) != in {
			t.Errorf("%d repeats: %v, %v", n, err, also)
		}
	}
}

// The scale's step moves a flow rate by half a step over each cut's time, by hand: 0.1 mg
// over 10 and 20 s are 5 and 2.5 µg/s, on the mean 3.75; a step over a hundredth of the
// lightest cut is coarse.
func TestScaleMovesAFlowRate(t *testing.T) {
	t.Parallel()
	cuts := []Cut{{Mass: 1e-3, Time: 10}, {Mass: 2e-3, Time: 20}}
	f, err := TimedCuts(cuts, 1e-7)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(f.Value-1e-4) > 1e-15 || math.Abs(f.StepFrom.Low-(1e-4-3.75e-9)) > 1e-15 || math.Abs(f.StepFrom.High-(1e-4+3.75e-9)) > 1e-15 || f.Coarse {
		t.Errorf("%+v", f)
	}
	for step, coarse := range map[float64]bool{0.99e-5: false, 1.01e-5: true} {
		if f, err := TimedCuts(cuts, step); err != nil || f.Coarse != coarse {
			t.Errorf("a step of %g kg: %+v, %v", step, f, err)
		}
	}
}
