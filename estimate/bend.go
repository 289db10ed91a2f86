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
	picked []pickedRun
	share  float64 // of all runs, that one picked stands for
	solve  mat.Cholesky
}

// pickedRun is a run that draws are held against, at unit covariance.
type pickedRun struct {
	run          int
	lower, white []float64
}

// mostPicked is how many runs a draw is held against; they stand for all.
const mostPicked = 8

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
		b.picked = append(b.picked, pickedRun{run: grindable[(2*k+1)*len(grindable)/(2*n)]})
	}
	b.share = float64(len(grindable)) / float64(n)
	width := len(f.active)
	curve := make([]float64, width*width)
	for a := range width {
		curve[a*width+a] = 1
	}
	for k := range b.picked {
		one := &b.picked[k]
		f.alone(one)
		for m := range f.readings[one.run] {
			row := one.white[m*width : (m+1)*width]
			for a, v := range row {
				if v != 0 {
					for c, w := range row {
						curve[a*width+c] += b.share * v * w
					}
				}
			}
		}
	}
	if !b.solve.Factorize(mat.NewSymDense(width, curve)) {
		return nil
	}
	return b
}

// alone takes a picked run out of its block, whatever the others of its day were.
func (f *fit) alone(one *pickedRun) {
	for _, b := range f.blocks {
		j := slices.Index(b.runs, one.run)
		if j < 0 {
			continue
		}
		n, from, p := len(f.readings[one.run]), b.first[j], len(f.active)
		one.lower, one.white = make([]float64, n*n), make([]float64, n*p)
		for k := range n {
			for l := range k + 1 {
				for m := range from + l + 1 {
					one.lower[k*n+l] += b.lower[(from+k)*b.n+m] * b.lower[(from+l)*b.n+m]
				}
			}
		}
		cholesky(one.lower, n)
		for _, pull := range f.pulls[one.run] {
			by := pull.by(f)
			for m, v := range pull.column {
				one.white[m*p+pull.at] += by * v
			}
		}
		forward(one.lower, n, one.white, p)
	}
}

// passedShare is how much of what went in came out of run i.
func (f *fit) passedShare(i int) float64 { return end(f.now[i].passed) / f.now[i].before }

// bends is how often a draw is brought back: the first time takes it most of the
// way.
const bends = 1

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
		for _, one := range b.picked {
			values, err := w.again(f, one.run, v)
			if err != nil {
				return
			}
			for k := range values {
				values[k] -= f.now[one.run].values[k]
			}
			forward(one.lower, len(values), values, 1)
			for k, miss := range values {
				row := one.white[k*len(straight) : (k+1)*len(straight)]
				for a, c := range row {
					miss -= c * straight[a]
				}
				for a, c := range row {
					pull.SetVec(a, pull.AtVec(a)+b.share*c*miss)
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
	r := &f.runs[i]
	o := outlook{residue: f.now[i].residue, errs: f.errorsAt(i, v)}
	parameters := row(&w.last, f.priors(i), f.links[i], v)
	g, err := grindRun(w.mill, f.grid, parameters, r, f.now[i].residueClasses)
	if err != nil {
		return nil, err
	}
	to, err := r.foresee(f.readings[i], parameters, f.setup.Area, &o, f.grid, g)
	return to.values, err
}

// errorsAt are the logarithms of the models' error in run i.
func (f *fit) errorsAt(i int, v []float64) (errs [errorKinds]float64) {
	for _, l := range f.links[i] {
		if k, ok := l.errs(); ok {
			errs[k] += scaleOf(&f.errorScale, k, l.slope) * l.c * v[l.variable]
		}
	}
	return errs
}
