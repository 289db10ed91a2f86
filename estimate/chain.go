package estimate

import (
	"fmt"
	"math"
	"runtime"
	"sync"

	"hopperful/process/breakage"
)

// All runs at once: forecasts of every reading for one set of variables.

// The solver's tolerances; the error of either stays far below what a scale
// shows, that of the fit also far below a difference of two runs.
const (
	fitTolerance  = 1e-4
	drawTolerance = 5e-3
)

// worker grinds for one goroutine.
type worker struct {
	mill *breakage.Mill
	grid breakage.Grid
	last memory
}

// outlook is what the models say of one run at the current variables.
type outlook struct {
	forecast
	score, row     []float64
	errs           [errorKinds]float64 // logarithm of the models' error
	residue        float64             // in the mill before the run [kg]
	residueSpread  float64             // its standard deviation [kg]; 0: known
	slip           float64             // of the run's clock, in its standard deviations
	residueClasses []float64           // nil: an empty mill
	ahead          bool                // a forecast of readings nobody has taken
}

// moved is the outlook's row with one parameter changed.
func (o *outlook) moved(p Param, value float64) []float64 {
	out := make([]float64, Params)
	copy(out, o.row)
	out[p] = value
	return out
}

// prepare sorts out what the runs share: size classes, workers, and chains of
// runs that follow each other without the mill being emptied.
func (f *fit) prepare() error {
	largest := 0.0
	for i := range f.runs {
		largest = math.Max(largest, f.runs[i].Largest)
		if i == 0 || !f.runs[i].Follows || f.runs[i].lay != nil {
			f.chains = append(f.chains, [2]int{i, i})
		}
		f.chains[len(f.chains)-1][1] = i + 1
		f.links = append(f.links, f.ledger.of(&f.runs[i], f.setup.chamber()))
		f.readings = append(f.readings, f.runs[i].readings())
	}
	var err error
	if f.grid, f.workers, err = workshop(largest, fitTolerance); err != nil {
		return err
	}
	_, f.rough, err = workshop(largest, drawTolerance)
	return err
}

// workshop makes the size classes for pieces up to the largest, and a mill a
// processor.
func workshop(largest, tolerance float64) (breakage.Grid, []*worker, error) {
	grid, err := breakage.NewGrid(largest)
	if err != nil {
		return grid, nil, fmt.Errorf("size classes for the runs: %w", err)
	}
	book := Prior()
	row := book.Medians() // until a run sets its own
	all := make([]*worker, runtime.GOMAXPROCS(0))
	for i := range all {
		m, err := breakage.NewMill(grid, Kernel(row), Screen(row), breakage.Power{Net: 100, MinHeld: row[HoldMass]}, tolerance)
		if err != nil {
			return grid, nil, err
		}
		all[i] = &worker{mill: m, grid: grid}
	}
	return grid, all, nil
}

// each shares n pieces of work among workers and returns the first error in
// their order.
func each(workers []*worker, n int, work func(w *worker, i int) error) error {
	errs := make([]error, n)
	var group sync.WaitGroup
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	for _, w := range workers {
		group.Go(func() {
			for i := range next {
				errs[i] = work(w, i)
			}
		})
	}
	group.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// look forecasts every run at a set of variables.
func (f *fit) look(v []float64) ([]outlook, error) {
	all := make([]outlook, len(f.runs))
	err := each(f.workers, len(f.chains), func(w *worker, c int) error {
		for i := f.chains[c][0]; i < f.chains[c][1]; i++ {
			if err := w.lookAt(f, i, v, all); err != nil {
				return fmt.Errorf("run of record %d: %w", f.runs[i].Record, err)
			}
		}
		return nil
	})
	return all, err
}

// lookAt forecasts one run, after the one before it.
func (w *worker) lookAt(f *fit, i int, v []float64, all []outlook) error {
	r := &f.runs[i]
	o := outlook{row: row(nil, f.priors(i), f.links[i], v), score: make([]float64, Params), errs: f.errorsAt(i, v)}
	for _, l := range f.links[i] {
		if !l.factor && l.param >= 0 {
			o.score[l.param] += l.c * v[l.variable]
		}
	}
	if r.lay != nil {
		o.residue, o.residueSpread = r.lay.mean, r.lay.spread
		if err := o.inherited(f, r, r, nil); err != nil {
			return err
		}
	} else if r.Follows && i > 0 && f.runs[i-1].Polymer == r.Polymer {
		if err := o.inherit(f, r, &f.runs[i-1], &all[i-1]); err != nil {
			return err
		}
	}
	var g *ground
	if r.grindable() {
		var err error
		if g, err = grindRun(w.mill, f.grid, o.row, r, o.residueClasses); err != nil {
			return err
		}
	}
	var err error
	o.forecast, err = r.foresee(f.readings[i], o.row, f.setup.Area, &o, f.grid, g)
	all[i] = o
	return err
}

// priors are the beliefs before any record, for a run's polymer and sheet.
func (f *fit) priors(i int) *Beliefs { return &f.before[i] }
