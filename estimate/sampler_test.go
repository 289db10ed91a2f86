package estimate

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// walk goes through the posterior of a fit by random-walk Metropolis
// (Metropolis1953) with steps in proportion to the straight posterior, and shows
// every twentieth place after the first tenth.
func walk(t *testing.T, f *Fitted, steps int, chance *rand.Rand, see func(v []float64)) {
	t.Helper()
	fit := f.fit
	at := slices.Clone(fit.v)
	look, err := fit.look(at)
	if err != nil {
		t.Fatal(err)
	}
	cost, accepted := fit.cost(look, at), 0.0
	stride := 1.2 / math.Sqrt(float64(len(fit.active)))
	u := make([]float64, len(fit.active))
	for step := range steps {
		next := slices.Clone(at)
		for a := range u {
			u[a] = chance.NormFloat64()
		}
		for a, v := range fit.active {
			for b := range a + 1 {
				next[v] += stride * f.spread.root.At(a, b) * u[b]
			}
		}
		if look, err := fit.look(next); err == nil {
			if c := fit.cost(look, next); math.Log(chance.Float64()) < cost-c {
				at, cost = next, c
				accepted++
			}
		}
		if step > steps/10 && step%20 == 0 {
			see(at)
		}
	}
	if share := accepted / float64(steps); share < 0.05 || share > 0.9 {
		t.Fatalf("the walk takes %g of its steps", share)
	}
}

// The straight posterior, its draws brought back to the bend, and a sampler
// that knows nothing of either: forecasts of a charge never run must agree.
func TestDrawsAgreeWithASampler(t *testing.T) {
	t.Parallel()
	chance := rand.New(rand.NewPCG(20, 5))
	priors := Prior()
	priors[Hole].Family, priors[OpenShare].Family = Exact, Exact
	truth := make([]float64, Params)
	for p, u := range stratified(1, Params, chance)[0] {
		truth[p] = priors[p].at(0.7 * u)
	}
	task := func(id int64, charge, time, watts float64, level int) Run {
		wall := 295.15
		return Run{Record: id, Polymer: "PLA", Screen: "s", Charge: charge, Time: time, Room: 293.15, Resolution: 0.001,
			Load: Load{Watts: watts, Spread: 1.35, Level: level}, Largest: 0.035, Thickness: 0.0016, WallBefore: &wall}
	}
	runs := []Run{task(1, 0.1, 60, 500, 10), task(2, 0.15, 90, 350, 7), task(3, 0.08, 40, 650, 12)}
	for i := range runs {
		o, err := Reckon(truth, 0.05, runs[i])
		if err != nil {
			t.Fatal(err)
		}
		runs[i].Product, runs[i].Left, runs[i].WallAfter = &o.Product, &o.Left, &o.Wall
	}
	f, err := Fit(Setup{Area: 0.05, Priors: map[string]Beliefs{"PLA": priors}, exact: true}, runs)
	if err != nil {
		t.Fatal(err)
	}
	fresh := task(9, 0.12, 70, 500, 10)
	outcomes, err := f.Outcomes(fresh, 400, chance)
	if err != nil {
		t.Fatal(err)
	}
	var drawn, walked gathered
	for _, o := range outcomes {
		drawn.add(o.Product)
	}
	walk(t, f, 16000, chance, func(v []float64) {
		links := f.fit.ledger.asking().of(&fresh, 1e-3)
		g, err := grindRun(f.fit.workers[0].mill, f.fit.grid, row(nil, &priors, links, v), &fresh, nil)
		if err != nil {
			t.Fatal(err)
		}
		walked.add(end(g.passed) * (1 - truth[Dust]))
	})
	t.Logf("draws %.4f ± %.4f kg, sampler %.4f ± %.4f kg", drawn.mean, drawn.spread(), walked.mean, walked.spread())
	if off := math.Abs(drawn.mean - walked.mean); off > 0.4*walked.spread() {
		t.Errorf("draws say %g kg, the sampler %g ± %g kg", drawn.mean, walked.mean, walked.spread())
	}
	if ratio := drawn.spread() / walked.spread(); ratio < 0.7 || ratio > 1.4 {
		t.Errorf("draws spread by %g kg, the sampler's by %g kg", drawn.spread(), walked.spread())
	}
}

// gathered is a running mean and spread.
type gathered struct{ n, mean, square float64 }

func (g *gathered) add(v float64) {
	g.n++
	d := v - g.mean
	g.mean += d / g.n
	g.square += d * (v - g.mean)
}

func (g *gathered) spread() float64 { return math.Sqrt(g.square / g.n) }
