package study

import (
	"math"
	"math/rand/v2"
	"slices"
)

// rng is a source of chance that depends on nothing but the numbers.
func rng(of ...float64) *rand.Rand {
	h := uint64(1469598103934665603)
	for _, v := range of {
		h = (h ^ math.Float64bits(v)) * 1099511628211
	}
	return rand.New(rand.NewPCG(h, 7))
}

// spaced are n numbers from lo to hi, evenly on a logarithmic scale.
func spaced(lo, hi float64, n int) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = lo * math.Pow(hi/lo, float64(i)/float64(n-1))
	}
	return all
}

// rangeOf is the middle of draws and their 10–90 % range.
func rangeOf(draws []float64) said {
	sorted := slices.Clone(draws)
	slices.Sort(sorted)
	at := func(share float64) float64 { return sorted[int(math.Round(share*float64(len(sorted)-1)))] }
	return said{at(0.1), middle(sorted), at(0.9)}
}
