package estimate

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// What all other runs say of a run, in one line and without fitting again: with
// the covariance G = C + J Jᵀ of all readings before any of them was known and u
// their errors at the start, the error of some of them against all others is
// [G⁻¹]⁻¹ [G⁻¹ u] of their rows, and its covariance [G⁻¹]⁻¹ (Gaussian identity;
// G⁻¹ by the matrix inversion lemma).

// leftOut is a run held against all others.
type leftOut struct {
	miss   []float64 // reading less what the others expect
	spread []float64 // standard deviation of that, the reading's own error included
	pull   []float64 // [G⁻¹ u], for what the run did to the fit
	toward []float64 // (C⁻¹ J), a row a reading
}

// leaveOut works all runs out from the blocks as they are held and whitened.
func (f *fit) leaveOut(s *spread) []leftOut {
	p := len(f.active)
	all := make([]leftOut, len(f.runs))
	for _, b := range f.blocks {
		c := inverse(b.lower, b.n)
		toward := append([]float64(nil), b.white...)
		backward(b.lower, b.n, toward, p)
		pull := f.unexplained(b, s)
		backward(b.lower, b.n, pull, 1)
		for j, i := range b.runs {
			n, from := len(f.readings[i]), b.first[j]
			q := make([]float64, n*n)
			for k := range n {
				copy(q[k*n:(k+1)*n], c[(from+k)*b.n+from:])
			}
			rows := toward[from*p : (from+n)*p]
			if s != nil {
				along := make([]float64, p)
				for k := range n {
					s.times(rows[k*p:(k+1)*p], along)
					for l := range n {
						for a, v := range along {
							q[k*n+l] -= v * rows[l*p+a]
						}
					}
				}
			}
			all[i] = f.leftOut(q, pull[from:from+n], rows, b.extra[from:from+n])
		}
	}
	return all
}

// unexplained are the errors of a block at the most probable variables, at unit
// covariance: L⁻¹ (u − J z) as the step to them has it.
func (f *fit) unexplained(b *block, s *spread) []float64 {
	out := append([]float64(nil), b.miss...)
	if s == nil {
		return out
	}
	p := len(f.active)
	for k := range out {
		for a, v := range b.white[k*p : (k+1)*p] {
			out[k] += v * s.step[a]
		}
	}
	return out
}

// leftOut solves one run.
func (f *fit) leftOut(q, pull, rows, extra []float64) leftOut {
	n := len(pull)
	one := leftOut{miss: make([]float64, n), spread: make([]float64, n), pull: pull, toward: rows}
	var of mat.Cholesky
	var covariance mat.SymDense
	if !of.Factorize(mat.NewSymDense(n, q)) || of.InverseTo(&covariance) != nil { // the run alone fixes some variable, or nearly: nothing else speaks of it
		for k := range n {
			one.miss[k] = pull[k] / math.Max(q[k*n+k], 1e-300)
			one.spread[k] = 1 / math.Sqrt(math.Max(q[k*n+k], 1e-300))
		}
		return one
	}
	for k := range n {
		for l := range n {
			one.miss[k] += covariance.At(k, l) * pull[l]
		}
		// As the reading errs when nothing went wrong with it.
		one.spread[k] = math.Sqrt(math.Max(covariance.At(k, k)-extra[k], 1e-3*covariance.At(k, k)))
	}
	return one
}

// times is the covariance times a vector.
func (s *spread) times(x, into []float64) {
	raw := s.covariance.RawSymmetric() // its upper half, by rows
	clear(into)
	for a, v := range x {
		row := raw.Data[a*raw.Stride : a*raw.Stride+raw.N]
		sum := row[a] * v
		for c := a + 1; c < len(row); c++ {
			sum += row[c] * x[c]
			into[c] += row[c] * v
		}
		into[a] += sum
	}
}
