// A size analysis that comes from pictures stands beside sieve stacks: the same
// curve, with the ranges that pictures have.

package sieving

import (
	"fmt"
	"math"

	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// How a curve goes on beyond its sieves, when all sizes are moved a little.
// Judgement; it moves only the ends of ranges.
const (
	finerPower   = 1.5
	coarserPower = 3
)

// resized is what passes the sieves when every grain is so many times as large.
func resized(a sieve.Analysis, times float64) []float64 {
	x, q := rising(a)
	n := len(x)
	out := make([]float64, n)
	for i := range x {
		at := x[i] / times
		k := 0
		for k < n && x[k] < at {
			k++
		}
		v := 0.0
		switch k {
		case 0:
			v = q[0] * math.Pow(at/x[0], finerPower)
		case n:
			v = 1 - (1-q[n-1])*math.Pow(x[n-1]/at, coarserPower)
		default:
			v = q[k-1] + (q[k]-q[k-1])*math.Log(at/x[k-1])/math.Log(x[k]/x[k-1])
		}
		out[n-1-i] = math.Min(math.Max(v, 0), 1)
	}
	return out
}

// pictured says how the sizes were come by.
func pictured(p shop.Photographed) []string {
	weighed := "the mass is reckoned from their areas"
	if p.Weighed {
		weighed = "the sample was weighed"
	}
	notes := []string{fmt.Sprintf("The sizes are from pictures: %d grains, which tell as much as %.0f of equal mass; %s. A grain is taken to fall through a hole of %s of its width; all sizes together may be off by %s.",
		p.Grains, p.Effective, weighed, quantity.Share.Rough(p.Shape), quantity.Share.Rough(math.Expm1(1.28*p.Spread)))}
	return append(notes, fmt.Sprintf("Grains finer than %s are not seen in them.", quantity.Length.Rough(p.Seen)))
}
