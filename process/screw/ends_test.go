package screw

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process"
	"hopperful/process/melt"
)

// A Newtonian melt against a nozzle of known resistance: drag shared between nozzle and
// channel gives share = 1/(1 + R·g), R the nozzle's pressure a flow and g the screw's
// fluidity. Down to a ten-thousandth of the drag it is found, below it is refused.
func TestOperatingAgainstATightNozzle(t *testing.T) {
	t.Parallel()
	l, omega := plausible(t, rand.New(rand.NewPCG(3, 3)))
	newtonian, err := melt.NewPower(1000, 1)
	if err != nil {
		t.Fatal(err)
	}
	h := l.Head
	h.InScrew, h.InNozzle, h.Loss = newtonian, newtonian, 0
	share := func(bore float64) float64 {
		h.Nozzle = melt.Nozzle{Bore: bore, Land: 0.5, Entry: bore, Taper: 0}
		p, err := h.drop(1e-12)
		if err != nil {
			t.Fatal(err)
		}
		back, leak, err := h.fluidity(omega)
		if err != nil {
			t.Fatal(err)
		}
		return 1 / (1 + p/1e-12*(back+leak))
	}
	for _, c := range []struct {
		want float64
		in   bool
	}{{0.5, true}, {1.9e-4, true}, {1.05e-4, true}, {0.95e-4, false}} {
		lo, hi := 6e-5, 0.04
		for range 60 {
			if mid := math.Sqrt(lo * hi); share(mid) < c.want {
				lo = mid
			} else {
				hi = mid
			}
		}
		got := share(lo)
		p, err := Operating(h, omega)
		var out *process.RangeError
		switch {
		case math.Abs(got/c.want-1) > 1e-6:
			t.Errorf("no nozzle lets %g through, the nearest %g", c.want, got)
		case c.in && (err != nil || math.Abs(p.Flow/p.Drag/c.want-1) > 1e-5):
			t.Errorf("%g of the drag, wanted %g: %v", p.Flow/p.Drag, c.want, err)
		case !c.in && !errors.As(err, &out):
			t.Errorf("a share of %g: %v", c.want, err)
		}
	}
}

// A drive faster than any is refused by the line's own name for it, whatever asks.
func TestFastestDrive(t *testing.T) {
	t.Parallel()
	l, _ := plausible(t, rand.New(rand.NewPCG(3, 4)))
	l.MostSpeed = 1.01 * mostSpeed
	_, err := LargestFlows(l)
	_, also := RunAt(l, 1e-6)
	for _, err := range []error{err, also} {
		var out *process.RangeError
		if !errors.As(err, &out) || out.Name != "fastest speed" || out.Hi != mostSpeed {
			t.Errorf("%v", err)
		}
	}
}

// A scale is coarse from a hundredth of the lightest weighing on.
func TestCoarseScale(t *testing.T) {
	t.Parallel()
	runs := []Weighing{{0.25, 10}, {0.1, 5}, {0.2, 9}}
	for step, coarse := range map[float64]bool{0: false, 0.99e-3: false, 1.01e-3: true} {
		m, err := PerTurn(runs, step)
		if err != nil || m.Coarse != coarse {
			t.Errorf("a step of %g kg: %+v, %v", step, m, err)
		}
	}
}
