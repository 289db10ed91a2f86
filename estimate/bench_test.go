package estimate_test

import (
	"math/rand/v2"
	"testing"

	"hopperful/estimate"
	"hopperful/source"
)

// shelf are the books' ranges for a mill whose sheet is known.
func shelf() estimate.Beliefs {
	b := estimate.Prior()
	b.Known(estimate.Hole, 0.003, 0, source.Ref{Key: "invented"})
	b.Known(estimate.OpenShare, 0.3, 0, source.Ref{Key: "invented"})
	return b
}

func setup() estimate.Setup {
	return estimate.Setup{Area: 0.05, Priors: map[string]estimate.Beliefs{"PLA": shelf(), "PETG": shelf()}}
}

// notes writes runs of a mill down whose parameters are one draw of the
// books' ranges, with the errors a shop makes when chance is given them.
func notes(t testing.TB, n int, chance *rand.Rand, errors float64) (runs []estimate.Run, truth estimate.Beliefs) {
	t.Helper()
	truth = shelf()
	rows, err := estimate.Hypercube(truth.List(), 1, chance)
	if err != nil {
		t.Fatal(err)
	}
	for p, v := range rows[0] {
		truth.Known(estimate.Param(p), v, 0, source.Ref{Key: "invented"})
	}
	for i := range n {
		r := estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Since: 0.12 * float64(i),
			Charge: 0.06 + 0.12*chance.Float64(), Time: 30 + 90*chance.Float64(), Room: 293.15, Resolution: 0.001,
			Load:    estimate.Load{Watts: 350 + 150*float64(chance.IntN(3)), Spread: 1.35},
			Largest: 0.035, Thickness: 0.0016, WallBefore: ptr(293.15 + 10*chance.Float64())}
		o, err := estimate.Reckon(truth.Medians(), 0.05, r)
		if err != nil {
			t.Fatal(err)
		}
		noise := func(spread float64) float64 { return 1 + errors*spread*chance.NormFloat64() }
		r.Product, r.Left, r.Energy = ptr(o.Product*noise(0.02)), ptr(o.Left*noise(0.02)), ptr(o.Energy*noise(0.04))
		r.WallAfter = ptr(o.Wall + errors*2.1*chance.NormFloat64())
		r.ChargeAfter = ptr(o.Charge + errors*1.7*chance.NormFloat64())
		runs = append(runs, r)
	}
	return runs, truth
}

func ptr(v float64) *float64 { return &v }

// BenchmarkFit learns a mill from 200 records at twenty levels of its
// controller; the aim is under two seconds on two cores.
func BenchmarkFit(b *testing.B) {
	runs, _ := notes(b, 200, rand.New(rand.NewPCG(1, 1)), 1)
	for i := range runs {
		runs[i].Load.Level = 1 + i%20
	}
	for b.Loop() {
		if _, err := estimate.Fit(setup(), runs); err != nil {
			b.Fatal(err)
		}
	}
}
