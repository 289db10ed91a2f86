package sieve

// The other reading of a loss: all of it dust.

import (
	"math"
)

// PassingIfLostAsDust returns the passing shares as they are when everything
// missing was finer than the finest sieve [1]. Between these and Passing lies
// the truth, since what gets lost in sieving is mostly dust. Without a loss
// they are the same.
func (a Analysis) PassingIfLostAsDust() []float64 {
	lost := math.Max(a.Loss, 0)
	out := make([]float64, len(a.Passing))
	for i, q := range a.Passing {
		out[i] = (q*a.Recovered + lost) / (a.Recovered + lost)
	}
	return out
}
