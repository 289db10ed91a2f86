package melt

// The two integrals that have no closed form for a Cross melt, by Gauss's rule
// on fixed points.

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// point is one node of a rule.
type point struct{ at, weight float64 }

// tailRule integrates over t from 0 to 34, beyond which e^(−t) is below the
// rounding, in panels that widen with the fall of the integrand. Held against
// adaptive quadrature it is right to 5e-11 for every flow exponent.
var tailRule = gauss(8, 0, 1, 2.5, 4.5, 7, 10.5, 15, 21, 34)

// tailPoints is how many points that makes.
const tailPoints = 64

// tailWeights are its weights times e^(−4t).
var tailWeights = func() (w [tailPoints]float64) {
	for i, p := range tailRule {
		w[i] = p.weight * math.Exp(-4*p.at)
	}
	return w
}()

// unitRule integrates a smooth function from 0 to 1: the radius along a cone.
var unitRule = gauss(10, 0, 1)

// gauss strings Gauss–Legendre rules of n points from edge to edge.
func gauss(n int, edges ...float64) []point {
	var all []point
	x, w := make([]float64, n), make([]float64, n)
	for i := 1; i < len(edges); i++ {
		quad.Legendre{}.FixedLocations(x, w, edges[i-1], edges[i])
		for k := range x {
			all = append(all, point{x[k], w[k]})
		}
	}
	return all
}
