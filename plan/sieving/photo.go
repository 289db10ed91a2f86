// A size analysis that comes from pictures stands beside sieve stacks: the same
// curve, with the ranges that pictures have.

package sieving

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
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
func pictured(p shop.Photographed) []fact.Saying {
	weighed := fact.Word("weighed", "sieving.mass_from_areas")
	if p.Weighed {
		weighed = fact.Word("weighed", "sieving.mass_weighed")
	}
	return []fact.Saying{
		fact.Say("sieving.from_pictures", fact.Count("n", p.Grains), fact.Set("effective", quantity.Count, math.Round(p.Effective)), weighed),
		fact.Say("sieving.falls_through", fact.About("shape", quantity.Share, p.Shape), fact.About("off", quantity.Share, math.Expm1(answer.Ninety*p.Spread))),
		fact.Say("sieving.not_seen", fact.About("seen", quantity.Length, p.Seen)),
	}
}
