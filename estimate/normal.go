package estimate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// The normal equations of a fit: what the records say of which variable.

// least is the information, against the prior's 1, below which a variable is
// left alone: its range would shrink by less than a thousandth.
const leastInformation = 2e-3

// differAll works out how all runs' readings change with the variables. A
// thorough look asks again which variables the records speak of.
func (f *fit) differAll(thorough bool) error {
	if thorough {
		for p := range f.want {
			f.want[p] = true
		}
	}
	f.slopes = make([]*slopes, len(f.runs))
	err := each(f.workers, len(f.runs), func(w *worker, i int) (err error) {
		if len(f.readings[i]) > 0 {
			f.slopes[i], err = w.differ(f, i, &f.want)
		}
		return err
	})
	if err != nil {
		return err
	}
	if thorough {
		f.choose()
	}
	f.pulls, f.differedAt = make([][]pull, len(f.runs)), slices.Clone(f.v)
	for i := range f.runs {
		for _, l := range f.links[i] {
			if at, ok := f.place[l.variable]; ok {
				if column := f.slopes[i].along(l); column != nil {
					f.pulls[i] = append(f.pulls[i], pull{at: at, of: l, column: column})
				}
			}
		}
	}
	return nil
}

// along is how readings change with the variable of a link, nil for not; with the
// models' error at its usual scale.
func (s *slopes) along(l link) []float64 {
	if s == nil {
		return nil
	}
	if k, ok := l.errs(); ok {
		if s.byError[k] == nil {
			return nil
		}
		return scaled(s.byError[k], l.c)
	}
	switch {
	case !l.factor && l.c == 1:
		return s.byScore[l.param]
	case !l.factor && s.byScore[l.param] != nil:
		return scaled(s.byScore[l.param], l.c)
	case l.param == BreakRate && s.byLogBreak != nil:
		return scaled(s.byLogBreak, l.c)
	case l.param == Discharge && s.byLogLeave != nil:
		return scaled(s.byLogLeave, l.c)
	}
	return nil
}

// choose picks the variables that the records speak of.
func (f *fit) choose() {
	told := make([]float64, len(f.v))
	for i := range f.runs {
		for _, l := range f.links[i] {
			by := pull{of: l}.by(f)
			for k, c := range f.slopes[i].along(l) {
				x := by * c / f.spreads[i][k]
				told[l.variable] += x * x
			}
			if l.param == StallShift && f.runs[i].StallOdds != nil {
				told[l.variable] += 1
			}
		}
	}
	f.active, f.place, f.want = nil, map[int]int{}, [paramCount]bool{}
	for v, t := range told {
		if t > leastInformation {
			f.place[v] = len(f.active)
			f.active = append(f.active, v)
		}
	}
	for i := range f.runs {
		for _, l := range f.links[i] {
			if _, ok := f.place[l.variable]; ok && l.param >= 0 {
				f.want[l.param] = true
			}
		}
	}
}

// normal puts the normal equations of the active variables together: the
// curvature of the cost, and its slope.
func (f *fit) normal() (*mat.SymDense, []float64) {
	n := len(f.active)
	slope := make([]float64, n)
	if n == 0 {
		return nil, slope
	}
	curve := make([]float64, n*n)
	for a, v := range f.active {
		curve[a*n+a] = 1
		slope[a] = f.v[v]
	}
	for _, b := range f.blocks {
		for k := range b.n {
			row := b.white[k*n : (k+1)*n]
			for a, v := range row {
				if v == 0 {
					continue
				}
				slope[a] -= v * b.miss[k]
				into := curve[a*n : (a+1)*n]
				for c := a; c < n; c++ {
					into[c] += v * row[c]
				}
			}
		}
	}
	for i := range f.runs {
		f.stallTerm(i, curve, slope)
	}
	return mat.NewSymDense(n, curve), slope // reads the upper half
}

// stallTerm adds what a stall, or none, says of the stall shift: the logistic's
// score and its expected information.
func (f *fit) stallTerm(i int, curve, slope []float64) {
	if f.runs[i].StallOdds == nil {
		return
	}
	for _, l := range f.links[i] {
		at, ok := f.place[l.variable]
		if l.param != StallShift || !ok {
			continue
		}
		by := StallSpread * f.priors(i)[StallShift].slope(f.now[i].score[StallShift])
		p, happened := f.stallChance(i, &f.now[i]), 0.0
		if f.runs[i].Stalled {
			happened = 1
		}
		slope[at] += (p - happened) * by
		curve[at*len(f.active)+at] += math.Max(p*(1-p), 1e-12) * by * by
	}
}
