package estimate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// What lies in a mill after a run in doubt: no more went in than usual, and what came out
// counts where it can be.
func TestRunsInDoubt(t *testing.T) {
	t.Parallel()
	p := func(v float64) *float64 { return &v }
	for i, c := range []struct {
		charge  float64
		product *float64
		emptied bool
		most    float64
		lies    float64
	}{
		{0.5, p(0.08), false, 1, 0.04},
		{0.05, p(0.03), false, 1, 0.04},
		{0.5, p(0.049), false, 1, 0.12},
		{0.5, p(0.05), false, 1, 0.07},
		{0.5, p(0.121), false, 1, 0.12},
		{0.5, nil, false, 1, 0.12},
		{0.5, nil, false, 0.1, 0.1},
		{0.5, p(0.06), false, 0.03, 0.03},
		{0.5, p(0.08), true, 1, 0.02},
	} {
		l := Lying{now: remainder{mean: 0.02}, most: c.most, dust: 0.05, charge: 0.1}
		l.Doubted(c.charge, c.product, c.emptied)
		if math.Abs(l.now.mean-c.lies) > 1e-12 || !l.doubted {
			t.Errorf("case %d: %g kg lie there, not %g", i, l.now.mean, c.lies)
		}
		r := Run{Charge: 0.2, Follows: true, Left: p(0.01)}
		if met := l.Meet(&r); l.doubted || l.charge != 0.2 || l.now.mean != 0.01 || math.Abs(met-c.lies/2) > 1e-12 || r.Met(9) != met {
			t.Errorf("case %d: it met %g kg, %+v", i, met, l)
		}
	}
	sure := Lying{now: remainder{mean: 0.02}, most: 1, dust: 0.05}
	r := Run{Charge: 0.2, Follows: true, Product: p(0.1)}
	if sure.Meet(&r); math.Abs(sure.now.mean-0.115) > 1e-12 || r.Met(9) != 9 {
		t.Errorf("of 220 g, of which 105 went, %g kg lie there; it is told %g", sure.now.mean, r.Met(9))
	}
}

// Whoever asks hears the same: a run whose forerunner is not learned from lies on what the
// book of the mill's whole life has there, through emptying, long breaks and runs in doubt.
func TestAllAskOneBook(t *testing.T) {
	t.Parallel()
	for seed := range uint64(20) {
		chance := rand.New(rand.NewPCG(seed, 7))
		read, whole := NewLying(1e-3), NewLying(1e-3)
		var runs []Run
		var left, met []float64 // before and at each run, by the book
		for i := range 150 {
			if chance.Float64() < 0.1 {
				read.Doubted(0.05+0.3*chance.Float64(), new(0.1*chance.Float64()), chance.Float64() < 0.3)
			}
			r := Run{Record: int64(i), Polymer: "PLA", Charge: 0.03 + 0.07*chance.Float64(), Time: 30 + 200*chance.Float64(),
				Follows: chance.Float64() < 0.85, LongAfter: chance.Float64() < 0.2, Load: Load{Level: 1 + chance.IntN(9)}}
			if chance.Float64() < 0.8 {
				r.Product = new(r.Charge * (0.4 + 0.7*chance.Float64()))
			}
			if chance.Float64() < 0.1 {
				r.Left = new(0.02 * chance.Float64())
			}
			left = append(left, read.now.mean)
			met = append(met, read.Meet(&r))
			runs = append(runs, r)
		}
		for i := range runs {
			again := runs[i]
			if got := whole.Meet(&again); got != met[i] {
				t.Fatalf("seed %d, run %d: asked again the book has %g kg, at first %g kg", seed, i, got, met[i])
			}
		}
		told := map[int]*remainder{}
		for i := range runs {
			told[i] = runs[i].lay
		}
		picked := condense(runs, 1e-3)
		for k, i := range picked {
			want := left[i]
			if told[i] != nil { // after a run in doubt, as it was told
				want = told[i].mean
			}
			if lone := k == 0 || picked[k-1] != i-1; lone && i > 0 && runs[i].Follows && (runs[i].lay == nil || runs[i].lay.mean != want) {
				t.Fatalf("seed %d, run %d: learned from on %v, by the book %g kg", seed, i, runs[i].lay, want)
			}
		}
	}
}
