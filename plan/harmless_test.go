package plan

import (
	"math"
	"testing"

	"hopperful/estimate"
)

// A charge that was read cool speaks for those that are no more, no longer and no harder
// ground: as much as a draw made it too warm it makes them, and no others.
func TestACoolReadingIsBelievedForChargesLikeIt(t *testing.T) {
	t.Parallel()
	row := make([]float64, estimate.Purge+64)
	row[estimate.Softening] = 330
	b := &bench{rows: [][]float64{row}, bounds: usual, cool: []estimate.Run{{Charge: 0.1, Time: 60, Load: estimate.Load{Level: 10}}}, reliefs: [][]float64{{8}}}
	for _, c := range []struct {
		name   string
		charge float64
		time   float64
		level  int
		over   float64 // of the limit, as the draw has it [K]
		want   bool
	}{
		{"the same", 0.1, 60, 10, 7, true},
		{"the same, warmer than it was made too warm", 0.1, 60, 10, 9, false},
		{"less", 0.08, 45, 9, 7, true},
		{"more", 0.12, 60, 10, 7, false},
		{"longer", 0.1, 80, 10, 7, false},
		{"harder", 0.1, 60, 11, 7, false},
		{"cool in the draw", 0.2, 90, 12, -1, true},
	} {
		one := campaign{cell: &cell{d: draw{Load: estimate.Load{Level: c.level}}, mass: c.charge, at: []float64{c.time}}}
		if got := b.allowed(0, one, 330-b.bounds.margin+c.over); got != c.want {
			t.Errorf("%s: allowed %v", c.name, got)
		}
	}
}

// A probe in the last grains tells less of the peak the more has left: a draw's charge goes
// beyond what it is reckoned by its share of the rise over the wall, not at all where
// nobody read one.
func TestAPeakLiesBeyondALateReading(t *testing.T) {
	t.Parallel()
	beliefs := estimate.Prior()
	one := campaign{cell: &cell{mass: 0.1, at: []float64{60}, chain: [][]view{{{held: []float64{0.02}, passed: []float64{0.08}, heat: []warmth{{chargeOwn: 10, wallOwn: 5}}}}}},
		charges: 1, pause: 60, below: math.Inf(1)}
	b := &bench{rows: [][]float64{beliefs.Medians()}}
	if hot := b.hottest(one, 0); hot.charge != 10 || hot.wall != 5 {
		t.Errorf("%+v", hot)
	}
	read := 310.0
	runs, views := []pastRun{{Run: estimate.Run{Charge: 0.1, ChargeAfter: &read}}, {Run: estimate.Run{Charge: 0.1}}}, []view{{held: []float64{0.09, 0.02}}}
	b.peaks = []float64{0.25 * readLate(runs, views)}
	if hot := b.hottest(one, 0); math.Abs(hot.charge-12) > 1e-9 || hot.wall != 5 {
		t.Errorf("with four fifths gone at the reading %+v", hot)
	}
	if late := readLate(runs[1:], views); late != 0 {
		t.Errorf("%g without a reading", late)
	}
}

// A probe that was held into next to nothing shows the wall, and allows no warmer charge.
func TestTheLastGrainsPromiseNothing(t *testing.T) {
	t.Parallel()
	b := &bench{rows: [][]float64{make([]float64, len(estimate.Prior()))}, plastic: "PLA", walls: []float64{1}}
	read := 303.0
	r := pastRun{Run: estimate.Run{Charge: 0.1, Room: 293, Polymer: "PLA", ChargeAfter: &read}, rested: -1, cool: true}
	heat := make([]warmth, doneTimes)
	for q := range heat {
		heat[q].chargeOwn = 20
	}
	b.rows[0][estimate.WallCapacity], b.rows[0][estimate.WallLoss], b.rows[0][estimate.LidFactor] = 1000, 1, 1
	ones := []estimate.Factors{{Charge: []float64{1}, Heat: []float64{1}}}
	for _, c := range []struct{ held, want float64 }{{0.05, 2}, {0.005, 0}} {
		if _, _, relief := b.warmed(0, []pastRun{r}, []view{{held: []float64{c.held}, heat: heat}}, ones); len(relief) != 1 || math.Abs(relief[0]-c.want) > 1e-9 {
			t.Errorf("with %g kg left: %v, wanted %g", c.held, relief, c.want)
		}
	}
}
