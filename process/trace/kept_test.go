package trace

import "testing"

// Of a stall that goes on the first reading is kept and the latest sixty-three.
func TestWhatIsKeptOfAStall(t *testing.T) {
	t.Parallel()
	var s stalling
	var all []Reading
	for at := range 70 {
		all = s.grow(all, Reading{At: float64(at)}, true)
	}
	if len(all) != 64 || all[0].At != 0 || all[1].At != 7 || all[62].At != 68 || all[63].At != 69 {
		t.Errorf("%d kept, from %g, %g to %g, %g", len(all), all[0].At, all[1].At, all[len(all)-2].At, all[len(all)-1].At)
	}
	if all = s.grow(all, Reading{At: 70}, false); len(all) != 0 {
		t.Errorf("%d kept of one that ended", len(all))
	}
}
