package recipe

// Problems drawn at random: plausible ones for laws and speed, and tiny ones of
// whole numbers that can be tried out by hand.

import (
	"math"
	"math/rand/v2"
)

// plausible draws a blend of a kilogram from n lots under eight limits: a melt
// flow window, age, dust, moisture, metal, wrong polymer, share of regrind and
// density. strict tells how far into the spread of the lots the limits reach.
func plausible(rng *rand.Rand, n int, strict float64) Problem {
	p := Problem{Mass: 1, Most: 4}
	for range n {
		l := Lot{Cost: math.Round(100*(2+18*rng.Float64())) / 100, Stock: math.Round(1000*0.02*math.Pow(100, rng.Float64())) / 1000, Least: 0.03}
		p.Lots = append(p.Lots, l)
	}
	// Clean lots are dear: otherwise the cheapest clean lot is every answer.
	clean := make([]float64, n)
	for i, l := range p.Lots {
		clean[i] = l.Cost / 20
	}
	property := func(lo, hi, tie float64) []float64 {
		of := make([]float64, n)
		for i := range of {
			u := (1-tie)*rng.Float64() + tie*(1-clean[i])
			of[i] = lo + (hi-lo)*u*u
		}
		return of
	}
	at := func(of []float64) float64 {
		lo, sum := math.Inf(1), 0.0
		for _, v := range of {
			lo, sum = min(lo, v), sum+v
		}
		return lo + (sum/float64(n)-lo)*(1-strict)
	}
	flow := make([]float64, n)
	for i := range flow {
		flow[i] = math.Log(8) + 0.6*rng.NormFloat64()
	}
	p.Limits = append(p.Limits, Limit{Of: flow, Lo: math.Log(11), Hi: math.Log(14)})
	for k := range 7 {
		of := property(0, []float64{6, 0.1, 800e-6, 50e-6, 0.05, 1, 60}[k], []float64{0.7, 0.5, 0.2, 0.5, 0.5, 0.6, 0}[k])
		p.Limits = append(p.Limits, Limit{Of: of, Lo: math.Inf(-1), Hi: at(of)})
	}
	return p
}
