package estimate

import (
	"math"
	"math/rand/v2"

	"hopperful/process/breakage"
)

// Sizes that nobody sieved. Masses, times and energies move the parameters that sizes
// follow from, but only as the models have it: a mill whose grains leave slowly need
// not grind them finer. On mills outside the models the size that half is finer than
// drifted by a fifth in twenty records without a stack, and its range narrowed by as
// much. So until there is one, sizes keep the middle and the range of the books.

// sieved reports whether any run's product was.
func (f *fit) sieved() bool {
	for i := range f.runs {
		if f.runs[i].Sieved != nil {
			return true
		}
	}
	return false
}

// unsieved is how much larger, as a logarithm, the grains of every draw are by the
// books than by its parameters; nil where they are the same or a stack decides.
func (f *Fitted) unsieved(t Target, rows [][]float64) ([]float64, error) {
	last := len(f.fit.runs) - 1
	for last >= 0 && !f.fit.runs[last].grindable() {
		last--
	}
	priors, known := f.fit.setup.Priors[t.Polymer]
	if last < 0 || !known || f.fit.setup.exact || f.fit.sieved() {
		return nil, nil
	}
	books, err := Hypercube(priors.List(), len(rows), rand.New(rand.NewPCG(uint64(len(rows)), 1)))
	if err != nil {
		return nil, err
	}
	before, after := make([]float64, len(rows)), make([]float64, len(rows))
	repeats := func(i int) bool { return i > 0 && &rows[i][0] == &rows[i-1][0] } // see [resampled]
	f.fit.drawing.Lock()                                                         // its workers serve one at a time
	defer f.fit.drawing.Unlock()
	err = each(f.fit.rough, len(rows), func(w *worker, i int) (err error) {
		if before[i], err = w.half(&f.fit.runs[last], books[i]); err != nil || repeats(i) {
			return err
		}
		after[i], err = w.half(&f.fit.runs[last], rows[i])
		return err
	})
	shouldered(before, sizesShoulder)
	larger := make([]float64, len(rows))
	for i := range rows {
		if repeats(i) {
			after[i] = after[i-1]
		}
		larger[i] = before[i] - after[i]
	}
	return larger, err
}

// half is the logarithm of the size that half of a run's product is finer than, from an
// empty mill.
func (w *worker) half(r *Run, row []float64) (float64, error) {
	g, err := grindRun(w.mill, w.grid, row, r, nil)
	if err != nil {
		return 0, err
	}
	return halfOf(w.grid, g.passedClasses), nil
}

// halfOf is the logarithm of the size that half of some classes' mass is finer than,
// straight in it inside a class; the middle of the pan for a product of dust.
func halfOf(grid breakage.Grid, classes []float64) float64 {
	total := 0.0
	for _, m := range classes {
		total += m
	}
	last := grid.Classes() - 1
	sum := classes[last]
	for c := last - 1; c >= 0; c-- {
		if m := classes[c]; m > 0 && sum+m >= total/2 {
			lower, upper := math.Log(grid.Lower(c)), math.Log(grid.Upper(c))
			return lower + (upper-lower)*math.Max(0, (total/2-sum)/m)
		}
		sum += classes[c]
	}
	return math.Log(grid.Size(last))
}
