package plan

import "testing"

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
