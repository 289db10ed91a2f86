package plan

import "testing"

// A stall bounds what may be asked of a rotor, but not below what it took time and
// again: five runs of 80 g say more than one that stalled at 75 g, two do not.
func TestOneStallDoesNotForbidWhatWasDone(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		runs int
		most float64 // charge at level 10 of 20 [kg]
	}{{2, belowStall * 0.075}, {oftenDone, 0.08}, {5, 0.08}} {
		p := practice{levels: 20, stalls: []deed{{charge: 0.075, met: 0.075, level: 10}}}
		for range c.runs {
			p.deeds = append(p.deeds, deed{charge: 0.08, met: 0.1, level: 10})
		}
		if got, want := p.mostPress(), p.press(c.most, 10); got < want*(1-1e-9) || got > want*(1+1e-9) {
			t.Errorf("after %d runs the most is %g, wanted %g", c.runs, got, want)
		}
	}
}
