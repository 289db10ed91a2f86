package estimate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// sampled walks through the posterior of a fit by random-walk Metropolis
// (Metropolis1953) with steps as wide as the Laplace posterior suggests, and
// returns mean and standard deviation of every active variable.
func sampled(t *testing.T, f *Fitted, steps int, chance *rand.Rand) (mean, sd []float64, accepted float64) {
	t.Helper()
	fit, n := f.fit, len(f.fit.active)
	at := append([]float64(nil), fit.v...)
	look, err := fit.look(at)
	if err != nil {
		t.Fatal(err)
	}
	cost := fit.cost(look, at)
	mean, sd = make([]float64, n), make([]float64, n)
	stride := 2.38 / math.Sqrt(float64(n)) // Gelman, Roberts and Gilks 1996, from memory
	kept := 0.0
	for step := range steps {
		next := append([]float64(nil), at...)
		u := make([]float64, n)
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
		if step < steps/10 {
			continue
		}
		kept++
		for a, v := range fit.active {
			d := at[v] - mean[a]
			mean[a] += d / kept
			sd[a] += d * (at[v] - mean[a])
		}
	}
	for a := range sd {
		sd[a] = math.Sqrt(sd[a] / kept)
	}
	return mean, sd, accepted / float64(steps)
}
