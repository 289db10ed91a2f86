package plan

import (
	"slices"
	"testing"
)

// A stall is believed at once: the load stays clearly below it, less so where as much
// went through some times, and one in a dozen forbids nothing that was done.
func TestAStallIsBelievedAtOnce(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		runs, stalls int
		at           float64 // of the stalls, level 10 of 20 [kg]
		most         float64 // charge at that level [kg]
	}{
		{"no stall", 2, 0, 0, pressStep * 0.1},
		{"a single charge", 1, 0, 0, pressStep * 0.1},
		{"two runs", 2, 1, 0.095, belowStall * 0.095},
		{"some runs", someTimes, 1, 0.095, belowSome * 0.095},
		{"a dozen", 11, 1, 0.095, pressStep * 0.1},
		{"a dozen, and two stalls", 12, 2, 0.095, belowSome * 0.095},
		{"a heavier one", 11, 1, 0.12, belowStall * 0.12},
	} {
		p := practice{levels: 20}
		for range c.stalls {
			p.stalls = append(p.stalls, deed{charge: c.at, met: c.at, level: 10})
		}
		for range c.runs {
			p.deeds = append(p.deeds, deed{charge: 0.1, met: 0.1, level: 10})
		}
		if got, _ := p.mostPress(); got/p.press(1, 10) < c.most*(1-1e-9) || got/p.press(1, 10) > c.most*(1+1e-9) {
			t.Errorf("%s: the most is %g, wanted %g", c.name, got/p.press(1, 10), c.most)
		}
	}
}

// After a stall the next charge is clearly less, after a second one half of that; at a
// level that is no lower, for there the rotor has less torque.
func TestAfterAStallTheChargeIsClearlyLess(t *testing.T) {
	t.Parallel()
	stall := func(met float64) deed { return deed{met: met, level: 12} }
	for _, c := range []struct {
		name string
		open []deed
		went bool
		most float64
	}{
		{"the first", []deed{stall(0.1)}, true, 0.06},
		{"nothing went through", []deed{stall(0.1)}, false, 0.05},
		{"the second", []deed{stall(0.1), stall(0.06)}, true, 0.03},
		{"the second, more than was said", []deed{stall(0.1), stall(0.2)}, true, 0.03},
	} {
		p := practice{levels: 20, jammed: jammed{open: c.open, went: c.went}}
		if most, least := p.afterStall(); most < c.most-1e-9 || most > c.most+1e-9 || least != 12 {
			t.Errorf("%s: at most %g from level %d, wanted %g from 12", c.name, most, least, c.most)
		}
	}
}

// Who began with little, for it warms, is not held to ever less of it by what lies in the
// mill: the rotor bears what all such mills are filled with and a step beyond, until it
// stalled.
func TestWhatSuchMillsAreFilledWithIsBorne(t *testing.T) {
	t.Parallel()
	p := practice{levels: 20, common: 0.1, deeds: []deed{{charge: 0.03, met: 0.03, level: 10}}}
	p.most, p.mass = p.mostPress()
	for _, c := range []struct {
		mass  float64
		level int
		bears bool
	}{{0.115, 12, true}, {0.125, 12, false}, {0.085, 10, true}, {0.12, 10, false}, {0.129, 16, true}, {0.131, 16, false}} {
		if got := p.bears(c.mass, c.level); got != c.bears {
			t.Errorf("%g kg at level %d: %t", c.mass, c.level, got)
		}
	}
	for range fewDeeds {
		p.deeds = append(p.deeds, p.deeds[0])
	}
	if _, mass := p.mostPress(); mass > 0.04 { // some runs on, practice speaks
		t.Errorf("after %d runs %g kg are borne", len(p.deeds), mass)
	}
	p.deeds = p.deeds[:1]
	p.stalls = []deed{{charge: 0.06, met: 0.06, level: 10}}
	if p.most, p.mass = p.mostPress(); p.bears(0.043, 10) || p.bears(0.052, 20) || !p.bears(0.041, 10) {
		t.Errorf("after a stall %g and %g kg are borne", p.most/p.press(1, 10), p.mass)
	}
	if p = (practice{common: 0.1, deeds: []deed{{charge: 0.03, met: 0.03}}}); true { // no controller: it turns at full speed
		if press, _ := p.mostPress(); press < 0.12-1e-9 || press > 0.12+1e-9 {
			t.Errorf("without a controller %g kg are borne", press)
		}
	}
}

// After a first charge of which little came out the next is ground longer, or less of it
// as long for its mass: never shorter with a hair less in it.
func TestLittleOutIsGroundLonger(t *testing.T) {
	t.Parallel()
	one := func(out float64) practice {
		return practice{levels: 10, deeds: []deed{{charge: 0.05, time: 60, level: 5, out: out}}}
	}
	for _, c := range []struct{ out, longest float64 }{{0, 90}, {0.02, 90}, {0.03, 60}, {-1, 60}} {
		p := one(c.out)
		if charge, time := p.spans(); time[1] != c.longest || charge[1] != 0.05 {
			t.Errorf("%g kg out: up to %g s and %g kg", c.out, time[1], charge[1])
		}
	}
	for _, c := range []struct {
		out, charge float64
		times       []float64
	}{
		{0.02, 0.05, []float64{60, 75, 90}}, {0.02, 0.045, []float64{60, 75, 90}}, {0.02, 0.035, []float64{50, 60, 75, 90}}, {0.02, 0.02, []float64{30, 40, 50, 60, 75, 90}},
		{0, 0.05, []float64{75, 90}}, {0.004, 0.045, []float64{75, 90}}, {0.006, 0.045, []float64{60, 75, 90}}, {0, 0.02, []float64{40, 50, 60, 75, 90}}, // of next to nothing the same again teaches nothing
		{0.03, 0.05, []float64{20, 30, 40, 50, 60, 75, 90}},
	} {
		p := one(c.out)
		if got := p.soon(c.charge, []float64{20, 30, 40, 50, 60, 75, 90}); !slices.Equal(got, c.times) {
			t.Errorf("%g kg after %g kg out: %v s", c.charge, c.out, got)
		}
	}
}

// With few runs on record what was done may cost more than the best, but nobody fills
// dozens of crumbs for it.
func TestCrumbsAreNotRepeatedForPracticesSake(t *testing.T) {
	t.Parallel()
	b := &bench{wanted: []float64{0.5}, practice: practice{deeds: []deed{{charge: 0.02, time: 60}}, yields: []float64{0.02}}}
	at := func(charges int, run float64, away float64) campaign {
		return campaign{cell: &cell{mass: 0.5 / float64(charges), at: []float64{run}}, charges: charges, pause: 60, rest: 60, away: away, shares: held{cool: 1}}
	}
	best := at(14, 105, 0.2)
	for _, c := range []struct {
		charges int
		instead bool
	}{{26, false}, {18, true}} {
		if got := b.instead(at(c.charges, 60, 0), best); got != c.instead {
			t.Errorf("%d charges instead of %d: %t", c.charges, best.charges, got)
		}
	}
}
