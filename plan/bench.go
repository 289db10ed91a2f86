package plan

import (
	"runtime"
	"sync"

	"hopperful/estimate"
	"hopperful/process/breakage"
	"hopperful/shop"
)

// bench is everything a search for a campaign needs and does not change: the
// machine, the draws of its uncertain parameters, and what is to be ground.
type bench struct {
	mill      shop.Mill
	levels    []draw
	rows      [][]float64 // one joint draw a row, by estimate.Param
	beliefs   estimate.Beliefs
	grid      breakage.Grid
	largest   float64   // largest piece of the scrap [m]
	thickness float64   // wall thickness of the prints [m]
	impact    float64   // notched impact strength of the polymer [J/m²]
	wanted    []float64 // granulate still to be made, a draw [kg], before fines come off
	available float64   // scrap that may be ground [kg]
	plastic   string    // that is to be ground
	room      float64   // K
	handling  float64   // least time between runs [s]
	within    float64   // time there is [s]; +Inf for no matter
	bounds    bounds
	runs      int // of this mill behind the draws; 0: from books
	practice  practice
	still     *still                // as its last run of this sitting left it; nil: cold and empty
	walls     []float64             // how much warmer walls are inside than read, a draw's factor
	done      [][2]float64          // how warm charges without harm became in a draw [K]: the warmest, and one of several [harmless]
	lags      []float64             // the share of that which is gone once it has stood, in a draw
	rises     []float64             // how many times as far as a draw says charges rose that were read [harmless]
	told      []float64             // how far upwards a draw may have the models err at the most for that [harmless]
	peaks     []float64             // how much further over the wall charges go than those that were read at the end show, a draw's share [harmless]
	cool      []estimate.Run        // whose charges were read and found cool enough
	reliefs   [][]float64           // how much too warm a draw makes each of them [K]
	rowed     int                   // of those, how many began in a mill still warm
	chamber   float64               // that practice tells of where nobody knows it [m³]; 0: known
	since     float64               // ground on the blade that is in [kg]
	off       *estimate.Discrepancy // how far the models are off, in all draws
	offFew    *estimate.Discrepancy // and in those of the first look
}

// view is one draw's run on fresh feed at one level and charge mass, seen at
// some times: masses, and the temperatures as linear maps of those at its start.
type view struct {
	held    []float64 // in the mill at each time [kg]
	passed  []float64 // through the screen by each time [kg]
	energy  []float64 // into the charge by each time [J]
	heat    []warmth  // temperatures at each time
	passing []float64 // class masses through the screen at the last time, nil unless asked for
	left    []float64 // class masses still held at the last time, nil unless asked for
}

// grind runs one draw's charge: feed fresh scrap on top of what residue holds
// (nil: an empty mill), at a level, seen at the given times.
func (b *bench) grind(m *breakage.Mill, row []float64, d draw, feed float64, residue, at []float64, classes bool) (view, error) {
	if err := m.Reset(estimate.Kernel(row), estimate.Screen(row), estimate.Power(row, d.Load)); err != nil {
		return view{}, err
	}
	c := breakage.NewCharge(b.grid)
	copy(c.Held, residue)
	if err := m.Fill(c, feed, b.largest, estimate.TypicalPiece(row, b.largest, b.thickness), b.thickness); err != nil {
		return view{}, err
	}
	before := c.HeldMass()
	n := len(at)
	buffer := make([]float64, 3*n)
	course := breakage.Course{Time: at, Held: buffer[:n:n], Passed: buffer[n : 2*n : 2*n], Energy: buffer[2*n:]}
	if err := m.Run(c, at[n-1], &course); err != nil {
		return view{}, err
	}
	v := view{held: course.Held, passed: course.Passed, energy: course.Energy}
	v.heat = b.warm(row, before, at, v)
	if classes {
		v.passing, v.left = c.Passed, c.Held
	}
	return v, nil
}

// each runs work for the draws 0 … n−1 on all processors, each worker with a
// mill of its own, and returns the first error in the order of the draws. Rows that repeat
// one draw follow each other, see [estimate.Fitted.Draws]: work is asked once for them, from
// the first up to the one after the last.
func (b *bench) each(n int, work func(m *breakage.Mill, from, to int) error) error {
	var unlike []int
	for i := range n {
		if i == 0 || &b.rows[i][0] != &b.rows[i-1][0] {
			unlike = append(unlike, i)
		}
	}
	workers, end := min(runtime.GOMAXPROCS(0), len(unlike)), append(unlike, n)[1:]
	errs := make([]error, len(unlike))
	var group sync.WaitGroup
	for w := range workers {
		group.Go(func() {
			m, err := breakage.NewMill(b.grid, estimate.Kernel(b.rows[0]), estimate.Screen(b.rows[0]), estimate.Power(b.rows[0], b.levels[0].Load), planTolerance)
			for i := w; i < len(unlike); i += workers {
				if err != nil {
					errs[i] = err
					return
				}
				errs[i] = work(m, unlike[i], end[i])
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

// own is a view of which masses and temperatures may be changed without another's.
func (v view) own() view {
	n := len(v.held)
	buffer := append(append(append(make([]float64, 0, 3*n), v.held...), v.passed...), v.energy...)
	v.held, v.passed, v.energy = buffer[:n:n], buffer[n:2*n:2*n], buffer[2*n:]
	v.heat = append([]warmth(nil), v.heat...)
	return v
}

// planTolerance is the solver's tolerance in plans; parameters are uncertain by
// far more.
const planTolerance = 5e-3
