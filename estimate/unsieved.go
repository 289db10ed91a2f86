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

// regrown is how the grains of a draw differ from what its parameters say: a middle
// size and all above it are so much larger, and those below it lie farther from it or
// nearer, in proportion on logarithms. Coarse ones are held by the screen.
type regrown struct {
	middle  float64 // logarithm of a size as the parameters have it
	larger  float64 // how much larger grains of that size are, as a logarithm
	stretch float64 // how much farther from it, as logarithms, finer sizes lie
}

// Bounds of how the parameters' curve is stretched to the books'. Judgement: a curve
// twice as steep or flat is none of the same mill.
const (
	leastStretch = 0.5
	mostStretch  = 2.0
)

// flatter is how far the models may be off in how wide a product's sizes spread, as a
// standard deviation of a logarithm. With the middle right they had between a third
// and twice of what knife mills gave below 0.5 mm, a quarter of the middle ("within a
// factor 2.5" of [Lu2024], six curves): 0.9 over ln 4 is 0.66 of a share's logarithm,
// over a slope of 1.7 on logarithms 0.4 of the stretch in the worst of six, 1.3
// standard deviations.
const flatter = 0.3

// middleOfHole is the size that stays where a curve is stretched, over the hole, before
// any run: half of what the models grind through 3 mm is finer. Through 10 mm and more
// half of what knife mills gave was finer than 0.12 to 0.21 of the hole ([Lu2024]).
const middleOfHole = 0.33

// unsieved is how the grains of every draw differ from what its parameters say; nil
// where a stack decides or nothing is beyond the models.
func (f *Fitted) unsieved(t Target, rows [][]float64) ([]regrown, error) {
	if f.fit.setup.exact || f.fit.sieved() {
		return nil, nil
	}
	grown, err := f.byBooks(t, rows)
	if err != nil {
		return nil, err
	}
	if grown == nil {
		grown = make([]regrown, len(rows))
		for i, row := range rows {
			grown[i] = regrown{middle: math.Log(row[Hole] * middleOfHole), stretch: 1}
		}
	}
	for i, score := range stratified(len(rows), 1, rand.New(rand.NewPCG(uint64(len(rows)), 2))) {
		grown[i].stretch *= math.Exp(flatter * score[0])
	}
	return grown, nil
}

// byBooks has half and a fifth of the latest run's product finer than the books have
// it, whatever the runs made of the parameters; nil where no run can be looked at.
func (f *Fitted) byBooks(t Target, rows [][]float64) ([]regrown, error) {
	last := len(f.fit.runs) - 1
	for last >= 0 && !f.fit.runs[last].grindable() {
		last--
	}
	priors, known := f.fit.setup.Priors[t.Polymer]
	if last < 0 || !known {
		return nil, nil
	}
	books, err := Hypercube(priors.List(), len(rows), rand.New(rand.NewPCG(uint64(len(rows)), 1)))
	if err != nil {
		return nil, err
	}
	before, after := make([]spots, len(rows)), make([]spots, len(rows))
	repeats := func(i int) bool { return i > 0 && &rows[i][0] == &rows[i-1][0] } // see [resampled]
	f.fit.drawing.Lock()                                                         // its workers serve one at a time
	defer f.fit.drawing.Unlock()
	err = each(f.fit.rough, len(rows), func(w *worker, i int) (err error) {
		if before[i], err = w.spots(&f.fit.runs[last], books[i]); err != nil || repeats(i) {
			return err
		}
		after[i], err = w.spots(&f.fit.runs[last], rows[i])
		return err
	})
	if err != nil {
		return nil, err
	}
	halves := make([]float64, len(rows))
	for i := range rows {
		halves[i] = before[i].half
	}
	shouldered(halves, sizesShoulder)
	grown := make([]regrown, len(rows))
	for i := range rows {
		if repeats(i) {
			after[i] = after[i-1]
		}
		stretch := (before[i].half - before[i].fifth) / math.Max(after[i].half-after[i].fifth, 1e-3)
		grown[i] = regrown{after[i].half, halves[i] - after[i].half, math.Min(math.Max(stretch, leastStretch), mostStretch)}
	}
	return grown, nil
}

// spots are logarithms of sizes that half and a fifth of a product are finer than.
type spots struct{ half, fifth float64 }

// spots are those of a run's product, from an empty mill.
func (w *worker) spots(r *Run, row []float64) (spots, error) {
	g, err := grindRun(w.mill, w.grid, row, r, nil)
	if err != nil {
		return spots{}, err
	}
	return spots{sizeOf(w.grid, g.passedClasses, 0.5), sizeOf(w.grid, g.passedClasses, 0.2)}, nil
}

// sizeOf is the logarithm of the size that a share of some classes' mass is finer
// than, straight in it inside a class; the middle of the pan for what lies there.
func sizeOf(grid breakage.Grid, classes []float64, share float64) float64 {
	total := 0.0
	for _, m := range classes {
		total += m
	}
	last := grid.Classes() - 1
	sum := classes[last]
	for c := last - 1; c >= 0 && sum < share*total; c-- {
		if m := classes[c]; m > 0 && sum+m >= share*total {
			lower, upper := math.Log(grid.Lower(c)), math.Log(grid.Upper(c))
			return lower + (upper-lower)*math.Max(0, (share*total-sum)/m)
		}
		sum += classes[c]
	}
	return math.Log(grid.Size(last))
}
