package reckon

// The closed form of what a loop bears against the loop itself.

import (
	"testing"

	"pgregory.net/rapid"
)

// The share a dry loop bears keeps what was asked, and a little more does not.
func TestADryLoopBearsJustWhatItSays(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := loop{flow: rapid.Bool().Draw(t, "flow")}
		h := history{factor: rapid.Float64Range(0.6, 0.995).Draw(t, "factor")}
		l.bound = rapid.Float64Range(0.5, 0.99).Draw(t, "keep")
		if l.flow {
			l.bound = rapid.Float64Range(1.05, 3).Draw(t, "move")
			if rapid.Bool().Draw(t, "thins") {
				h.factor = 1 / h.factor
			}
		}
		most := l.most(h)
		if most > 0 && !l.holds(l.settled(most*(1-1e-9), h)) {
			t.Errorf("%g of regrind does not hold %+v with %+v", most, l, h)
		}
		if more := most + 1e-6; most < mostRound && l.holds(l.settled(more, h)) {
			t.Errorf("more than %g of regrind holds %+v with %+v", most, l, h)
		}
	})
}
