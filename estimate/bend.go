package estimate

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// The normal posterior is straight, the parameters that agree with the records
// lie on a bend: twice the break rate with half the power may fit as well, but
// not four times with nothing. Each draw is therefore brought back to where the
// records want it, by one Gauss–Newton step of its own randomised problem
// (randomised maximum likelihood, Oliver1996): with data and prior
// perturbed as that draw perturbs them, the straight posterior solves the
// problem up to how far the models bend there.

// bender brings draws back.
type bender struct {
	fit    *fit
	picked []int // runs it looks at
	share  float64
	solve  mat.Cholesky
}

// mostPicked is how many runs a draw is held against; they stand for all.
const mostPicked = 10

// benders prepares the correction, nil where there is nothing to correct.
func (f *fit) bender() *bender {
	b := &bender{fit: f}
	var grindable []int
	for i := range f.runs {
		if f.now[i].ground != nil && len(f.readings[i]) > 0 {
			grindable = append(grindable, i)
		}
	}
	if len(grindable) == 0 || len(f.active) == 0 {
		return nil
	}
	// Evenly over what the runs were like, so that the few stand for the many.
	slices.SortStableFunc(grindable, func(x, y int) int {
		return cmp.Or(cmp.Compare(f.runs[x].Polymer, f.runs[y].Polymer), cmp.Compare(f.passedShare(x), f.passedShare(y)))
	})
	n := min(len(grindable), mostPicked)
	for k := range n {
		b.picked = append(b.picked, grindable[(2*k+1)*len(grindable)/(2*n)])
	}
	b.share = float64(len(grindable)) / float64(n)
	width := len(f.active)
	curve := make([]float64, width*width)
	for a := range width {
		curve[a*width+a] = 1
	}
	for _, i := range b.picked {
		for k := range f.readings[i] {
			w := b.share * f.worth(i, k)
			for _, p := range f.pulls[i] {
				for _, q := range f.pulls[i] {
					curve[p.at*width+q.at] += w * p.column[k] * q.column[k]
				}
			}
		}
	}
	if !b.solve.Factorize(mat.NewSymDense(width, curve)) {
		return nil
	}
	return b
}

// passedShare is how much of what went in came out of run i.
func (f *fit) passedShare(i int) float64 { return end(f.now[i].passed) / f.now[i].before }

// worth is what a reading counts for in the posterior.
func (f *fit) worth(i, k int) float64 {
	spread := f.spreads[i][k] * f.scale[f.readings[i][k].of]
	return tWorth * weigh(f.misses(i, k, &f.now[i])) / (spread * spread)
}

// bends is how often a draw is brought back: after the second time it hardly
// moves.
const bends = 2

// bend moves a draw of the variables to where the records want it. A draw the
// models refuse stays as it is.
func (b *bender) bend(w *worker, v []float64) {
	f := b.fit
	straight := make([]float64, len(f.active))
	for a, name := range f.active {
		straight[a] = v[name] - f.v[name]
	}
	for range bends {
		pull := mat.NewVecDense(len(f.active), nil)
		for a, name := range f.active {
			// How far the draw has been moved already: its own prior pulls back.
			pull.SetVec(a, v[name]-f.v[name]-straight[a])
		}
		for _, i := range b.picked {
			values, err := w.again(f, i, v)
			if err != nil {
				return
			}
			for k := range values {
				miss := values[k] - f.now[i].values[k]
				for _, p := range f.pulls[i] {
					miss -= p.column[k] * straight[p.at]
				}
				for _, p := range f.pulls[i] {
					pull.SetVec(p.at, pull.AtVec(p.at)+b.share*f.worth(i, k)*p.column[k]*miss)
				}
			}
		}
		var step mat.VecDense
		if b.solve.SolveVecTo(&step, pull) != nil {
			return
		}
		shorten := 1.0
		for a := range f.active {
			shorten = math.Min(shorten, 1/math.Max(math.Abs(step.AtVec(a)), 1))
		}
		for a, name := range f.active {
			v[name] = math.Min(math.Max(v[name]-shorten*step.AtVec(a), -farthest), farthest)
		}
	}
}

// again forecasts the readings of run i at other variables, on the residue it
// started with.
func (w *worker) again(f *fit, i int, v []float64) ([]float64, error) {
	r, at := &f.runs[i], &f.now[i]
	parameters := row(f.priors(i), f.links[i], v)
	g, err := grindRun(w.mill, f.grid, parameters, r, at.residueClasses)
	if err != nil {
		return nil, err
	}
	slip := 0.0
	for _, l := range f.links[i] {
		if l.param == ofClock {
			slip = v[l.variable]
		}
	}
	to, err := r.foresee(f.readings[i], parameters, f.setup.Area, at.residue, slip, f.grid, g)
	return to.values, err
}
