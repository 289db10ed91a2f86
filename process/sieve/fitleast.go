// Weighted least squares on the passing shares, and how sure its result is.

package sieve

import (
	"math"
	"slices"
)

// maxSteps bounds the search; it takes about ten.
const maxSteps = 500

// normal holds the normal equations of one step.
type normal struct {
	a    [2][2]float64 // JᵀWJ
	g    [2]float64    // JᵀWr
	cost float64       // rᵀWr
}

func equations(law Law, p Points, w []float64, th [2]float64) normal {
	var n normal
	for i, x := range p.X {
		q, js, jn := law.passing(x, th[0], th[1])
		r, j := p.Q[i]-q, [2]float64{js, jn}
		n.cost += w[i] * r * r
		for a := range 2 {
			n.g[a] += w[i] * j[a] * r
			for b := range 2 {
				n.a[a][b] += w[i] * j[a] * j[b]
			}
		}
	}
	return n
}

// fitLeast improves a fit by least squares.
func fitLeast(start Fit, p Points, weighting Weighting) (Fit, error) {
	w := weights(p, weighting)
	th, at := [2]float64{}, normal{cost: math.Inf(1)}
	for _, scale := range starts(start, p) {
		t, n := search(start.Law, p, w, [2]float64{math.Log(scale), math.Log(start.Shape)})
		if n.cost < at.cost {
			th, at = t, n
		}
	}
	f := Fit{Law: start.Law, Method: NonLinear, Scale: math.Exp(th[0]), Shape: math.Exp(th[1]), Used: len(p.X)}
	inv, ok := invert(at.a)
	if !ok {
		return Fit{}, &EntryError{Code: TooFew, What: string(start.Law) + " cannot be told from these shares", Hint: "add sieves where the sample parts"}
	}
	s2 := math.Max(1/weighting.Grains, misfit(f.Law, p, f, weighting.Grains))
	f.Covariance = sandwich(f.Law, p, w, th, inv, s2)
	return f, nil
}

// starts returns the scales to search from. The power law has a kink at its
// largest size and so a valley between any two sieves; it is searched from all
// over, the smooth laws from the straight line's result.
func starts(f Fit, p Points) []float64 {
	out := []float64{f.Scale}
	if f.Law != LawGGS {
		return out
	}
	lo, hi := slices.Min(p.X), 2*slices.Max(p.X)
	const n = 40
	for i := range n + 1 {
		out = append(out, lo*math.Pow(hi/lo, float64(i)/n))
	}
	return out
}

// search is Levenberg and Marquardt's method from one start.
func search(law Law, p Points, w []float64, th [2]float64) ([2]float64, normal) {
	at := equations(law, p, w, th)
	damp := 1e-3
	for range maxSteps {
		inv, ok := invert(damped(at.a, damp))
		if !ok {
			break
		}
		step := [2]float64{inv[0][0]*at.g[0] + inv[0][1]*at.g[1], inv[1][0]*at.g[0] + inv[1][1]*at.g[1]}
		next := [2]float64{th[0] + step[0], th[1] + step[1]}
		trial := equations(law, p, w, next)
		if trial.cost <= at.cost {
			th, at, damp = next, trial, math.Max(damp/10, 1e-12)
		} else {
			damp *= 10
		}
		if math.Abs(step[0])+math.Abs(step[1]) < 1e-13 || damp > 1e12 {
			break
		}
	}
	return th, at
}

// weights returns the weight of each point.
func weights(p Points, w Weighting) []float64 {
	out := make([]float64, len(p.Q))
	for i, q := range p.Q {
		out[i] = 1
		if !w.Equal {
			// Half a grain keeps a share of 0 or 1 from weighing without end.
			q = (w.Grains*q + 0.5) / (w.Grains + 1)
			out[i] = 1 / (q * (1 - q))
		}
	}
	return out
}

func damped(a [2][2]float64, damp float64) [2][2]float64 {
	a[0][0] *= 1 + damp
	a[1][1] *= 1 + damp
	return a
}

// invert returns the inverse of a 2 × 2 matrix unless it is singular.
func invert(a [2][2]float64) ([2][2]float64, bool) {
	det := a[0][0]*a[1][1] - a[0][1]*a[1][0]
	if !(det > 1e-14*a[0][0]*a[1][1]) || math.IsInf(det, 0) {
		return a, false
	}
	return [2][2]float64{{a[1][1] / det, -a[0][1] / det}, {-a[1][0] / det, a[0][0] / det}}, true
}

// sandwich returns s² B Σ Bᵀ, the covariance of ln scale and ln shape when the
// shares are cumulative sums of multinomial counts: Σ_ij = min(Q) − Q_i Q_j.
func sandwich(law Law, p Points, w []float64, th [2]float64, inv [2][2]float64, s2 float64) [2][2]float64 {
	b := make([][2]float64, len(p.X))
	q := make([]float64, len(p.X))
	for i, x := range p.X {
		var js, jn float64
		q[i], js, jn = law.passing(x, th[0], th[1])
		for k := range 2 {
			b[i][k] = w[i] * (inv[k][0]*js + inv[k][1]*jn)
		}
	}
	var out [2][2]float64
	for i := range b {
		for j := range b {
			c := s2 * (math.Min(q[i], q[j]) - q[i]*q[j])
			for k := range 2 {
				for l := range 2 {
					out[k][l] += b[i][k] * c * b[j][l]
				}
			}
		}
	}
	return out
}

// misfit returns Pearson's χ² of the class shares per grain and degree of
// freedom: about 1/N when the law holds and N grains were drawn.
func misfit(law Law, p Points, f Fit, grains float64) float64 {
	order := make([]int, len(p.X))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if p.X[a] < p.X[b] {
			return -1
		}
		return 1
	})
	sum, seenBelow, lawBelow := 0.0, 0.0, 0.0
	class := func(seen, want float64) {
		d := (seen - seenBelow) - (want - lawBelow)
		// Half a grain again: a class the law leaves empty must not decide alone.
		sum += d * d / math.Max(want-lawBelow, 0.5/grains)
		seenBelow, lawBelow = seen, want
	}
	for _, i := range order {
		q, _, _ := law.passing(p.X[i], math.Log(f.Scale), math.Log(f.Shape))
		class(p.Q[i], q)
	}
	class(1, 1)
	// As many classes as points and one; two parameters and the sum are given.
	return sum / math.Max(float64(len(p.X)-2), 1)
}
