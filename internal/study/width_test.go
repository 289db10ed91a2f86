package study

import (
	"math"
	"testing"

	"hopperful/internal/study/outside"
	"hopperful/plan"
)

// wide is the 80 % range of a forecast, as a logarithm; of a wall in K.
func (f foreseen) wide(of string) float64 {
	x := f.said[of]
	if of == ofWall {
		return x.high - x.low
	}
	return math.Log(x.high / math.Max(x.low, 1e-3*x.mid))
}

// Adding a record never makes a range at its own kind of setting much wider than before
// without a reason that the program names: a reading outside what it had foretold, a
// stall, a sudden change, or that the mill was swept and begins empty. On mills outside the equations, whose records are rough.
func TestARecordNeverWidensWithoutAReason(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("many fits take seconds")
	}
	const much = 1.25 // draws and the day's luck move a range by some hundredths
	for _, seed := range outside.Seeds[outside.Tuning](3) {
		m, err := newMaker(seed)
		if err != nil {
			t.Fatal(err)
		}
		m.sure = true
		before := map[string]float64{}
		for n := 1; n <= 6; n++ {
			if err := m.records(n); err != nil {
				t.Fatal(err)
			}
			named := m.foretoldWrong(t)
			f, err := m.foresee(m.mill.Usual, false)
			if err != nil {
				t.Fatal(err)
			}
			for _, of := range []string{ofProduct, ofWall, ofEnergy} {
				now := f.wide(of)
				if was, ok := before[of]; ok && now > much*was && !named {
					t.Errorf("mill %d: with record %d as foretold the range of %s grows from %.3f to %.3f", seed, n, of, was, now)
				}
				before[of] = now
			}
		}
	}
}

// foretoldWrong reports whether the program names a reason at the newest run: a reading
// outside its forecast, a stall, a change, or a mill that begins empty.
func (m *maker) foretoldWrong(t *testing.T) bool {
	t.Helper()
	mill, _ := m.state.Mill(millName)
	id := mill.Runs[len(mill.Runs)-1]
	c, err := plan.Compare(m.state, id)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range c.Read {
		if !r.Inside {
			return true
		}
	}
	r, _ := m.state.Record(id)
	if groundOf(t, r.Body).Swept != nil {
		return true
	}
	_, changed, err := m.changed()
	return c.Stalled || changed || err != nil
}

// Forecasts widen with the distance from the records, on mills outside the equations
// too: the product's as the charge grows, the energy's as the level falls.
func TestForecastsWidenAwayFromAMakersRecords(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("many fits take seconds")
	}
	for _, seed := range outside.Seeds[outside.Tuning](4) {
		m, err := newMaker(seed)
		if err != nil {
			t.Fatal(err)
		}
		if err := m.records(5); err != nil {
			t.Fatal(err)
		}
		spans := func(of string, set outside.Setting) float64 {
			f, err := m.foresee(set, false)
			if err != nil {
				t.Fatal(err)
			}
			return f.wide(of)
		}
		large, low := m.mill.Usual, m.mill.Usual
		large.Charge *= 2
		if near, far := spans(ofProduct, m.mill.Usual), spans(ofProduct, m.feasible(large)); far < 1.2*near {
			t.Errorf("mill %d: the product spans %.3f at the usual charge, %.3f at twice of it", seed, near, far)
		}
		if low.Level < 4 {
			continue
		}
		low.Level /= 2
		if near, far := spans(ofEnergy, m.mill.Usual), spans(ofEnergy, low); far < 1.2*near {
			t.Errorf("mill %d: the energy spans %.3f at the usual level, %.3f at half of it", seed, near, far)
		}
	}
}
