package breakage

// Sizes of classes, what is finer than a size, chances of a stall at both ends, and courses of mills with nothing in them.

import (
	"math"
	"slices"
	"testing"

	"hopperful/internal/checkrow"
)

// Three classes and the pan: 252 to 178.19, to 126, to 89.1, to 63 µm. Finer than a size is what lies below it, in a line over the
// logarithm inside a class and over the size inside the pan.
func TestSizesByHand(t *testing.T) {
	t.Parallel()
	g, err := NewGrid(4 * PanEdge)
	if err != nil {
		t.Fatal(err)
	}
	if g.Classes() != 5 {
		t.Fatalf("%d classes", g.Classes())
	}
	for i, upper := range []float64{4, 2 * math.Sqrt2, 2, math.Sqrt2, 1} {
		lower := upper / math.Sqrt2
		size := math.Sqrt(upper * lower)
		if i == 4 {
			lower, size = 0, 0.5
		}
		for what, c := range map[string][2]float64{"upper": {g.Upper(i), upper}, "lower": {g.Lower(i), lower}, "size": {g.Size(i), size}} {
			if math.Abs(c[0]-c[1]*PanEdge) > 1e-12*PanEdge {
				t.Errorf("%s of class %d is %g, wanted %g", what, i, c[0], c[1]*PanEdge)
			}
		}
	}
	mass := []float64{1, 2, 3, 4, 10} // of 20
	size := []float64{5, 4, 2, 2 * math.Pow(2, 0.25), 1, 0.5, 0.1, 0, -1}
	want := []float64{1, 1, 17.0 / 20, 18.0 / 20, 0.5, 0.25, 0.05, 0, 0}
	share := make([]float64, len(size))
	for i := range size {
		size[i] *= PanEdge
	}
	if err := g.Passing(mass, size, share); err != nil {
		t.Fatal(err)
	}
	for i := range want {
		if math.Abs(share[i]-want[i]) > 1e-12 {
			t.Errorf("finer than %g is %g, wanted %g", size[i], share[i], want[i])
		}
	}
	if err := g.Passing(make([]float64, 5), size, share); err != nil || share[0] != 0 || share[4] != 0 {
		t.Errorf("of nothing %v (%v)", share, err)
	}
	if g.Passing(mass[:4], size, share) == nil || g.Passing(mass, size, share[:3]) == nil {
		t.Error("lists of other lengths are taken")
	}
}

// z = −4.6 + 10 (0.5 − 0.3) + 0.8 ln 2 + 1.5 (1/0.5 − 1); and both ends of all that makes a stall likely.
func TestStallsAtTheirEnds(t *testing.T) {
	t.Parallel()
	p, err := StallChance(DefaultStall, 0.5, 0.002, 0.5)
	if want := 1 / (1 + math.Exp(4.6-2-0.8*math.Ln2-1.5)); err != nil || math.Abs(p-want) > 1e-12 {
		t.Errorf("chance %g, wanted %g (%v)", p, want, err)
	}
	of := func(s Stall, fill, ratio, level float64) error {
		_, err := StallChance(s, fill, ratio, level)
		return err
	}
	checkrow.Range(t, "base", -20, 20, func(v float64) error { return of(Stall{Base: v}, 0.3, 1e-3, 1) })
	checkrow.Range(t, "fill slope", 0, 100, func(v float64) error { return of(Stall{Fill: v}, 0.3, 1e-3, 1) })
	checkrow.Range(t, "ratio slope", 0, 10, func(v float64) error { return of(Stall{Ratio: v}, 0.3, 1e-3, 1) })
	checkrow.Range(t, "level slope", 0, 20, func(v float64) error { return of(Stall{Level: v}, 0.3, 1e-3, 1) })
	checkrow.Range(t, "fill", 0, 2, func(v float64) error { return of(DefaultStall, v, 1e-3, 1) })
	checkrow.Range(t, "ratio", 1e-9, 1e6, func(v float64) error { return of(DefaultStall, 0.3, v, 1) })
	checkrow.Range(t, "level", 0.01, 1, func(v float64) error { return of(DefaultStall, 0.3, 1e-3, v) })
}

// A mill with nothing in it is seen as it is at every look; a run is seen at its very start.
func TestLooksAtNothing(t *testing.T) {
	t.Parallel()
	m, g := benchMill(t, 1e-3)
	for _, held := range []float64{0, 0.08} {
		c := NewCharge(g)
		c.Held[3], c.Passed[5], c.Energy = held, 0.05, 12
		look := Course{Time: []float64{0, 0, 3, 7}, Held: make([]float64, 4), Passed: make([]float64, 4), Power: make([]float64, 4), Energy: make([]float64, 4)}
		if err := m.Run(c, 7, &look); err != nil {
			t.Fatal(err)
		}
		for k := range 4 {
			if held == 0 && (look.Held[k] != 0 || look.Passed[k] != 0.05 || look.Power[k] != 0 || look.Energy[k] != 12) || k < 2 && (math.Abs(look.Held[k]-held) > 1e-15 || math.Abs(look.Passed[k]-0.05) > 1e-15 || look.Energy[k] != 12 || look.Power[k] != m.PowerAt(held)) {
				t.Errorf("%g kg at look %d: %g held, %g passed, %g W, %g J", held, k, look.Held[k], look.Passed[k], look.Power[k], look.Energy[k])
			}
		}
		if math.Abs(look.Held[3]-c.HeldMass()) > 1e-12 || math.Abs(look.Passed[3]-c.PassedMass()) > 1e-12 || look.Energy[3] != c.Energy {
			t.Errorf("at the end %g held of %g", look.Held[3], c.HeldMass())
		}
	}
}

// A step is taken where its error, in units of the tolerance, is 1 or less, and shortened where it is more; after 200 000 trials a run
// is given up.
func TestWhichStepIsTaken(t *testing.T) {
	t.Parallel()
	m, g := benchMill(t, 1e-3)
	c := NewCharge(g)
	c.Held[2] = 0.1
	fault := func(h float64) float64 {
		s := m.begin(c)
		_, _, f := m.trial(c.Held, s.floor, s.first, h, s.now.perMass, 0)
		return f
	}
	for want, taken := range map[float64]bool{0.5: true, 0.95: true, 1.05: false, 1.5: false, 1.95: false} {
		lo, hi := 1e-3, 1e4
		for range 80 {
			if mid := math.Sqrt(lo * hi); fault(mid) < want {
				lo = mid
			} else {
				hi = mid
			}
		}
		if math.Abs(fault(lo)-want) > 1e-3 {
			t.Fatalf("no step has an error of %g, the nearest %g", want, fault(lo))
		}
		s := m.begin(c)
		s.step = lo
		h, err := m.try(c, &s, 1e9)
		if err != nil || (h == lo) != taken || h > lo {
			t.Errorf("an error of %g: %g s of %g are taken (%v)", want, h, lo, err)
		}
	}
	for count, want := range map[int]error{mostSteps - 1: nil, mostSteps: ErrSteps, mostSteps + 1: ErrSteps} {
		s := m.begin(c)
		s.count = count
		if _, err := m.try(c, &s, 1e9); err != want {
			t.Errorf("after %d trials: %v", count, err)
		}
	}
	// Of what is left nearly all is taken whole, more than half of it in two halves, of more than twice as much a step as it is.
	for left, want := range map[float64]float64{0.9e-3: 0.9e-3, 1e-3: 0.5e-3, 1.9e-3: 0.95e-3, 2.1e-3: 1e-3} {
		s := m.begin(c)
		s.step, s.time = 1e-3, 7
		if h, err := m.try(c, &s, 7+left); err != nil || math.Abs(h-want) > 1e-12 {
			t.Errorf("%g s are left: a step of %g, wanted %g (%v)", left, h, want, err)
		}
	}
}

// Debts go to the next finer class; one of the pan is paid by the others, finest first, and what they cannot pay is left over.
func TestDebtsOfClasses(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		mass, want []float64
		first      int
		left       float64
	}{
		{[]float64{1, 2, 3, 4}, []float64{1, 2, 3, 4}, 0, 0}, {[]float64{1, -2, 3, 4}, []float64{1, 0, 1, 4}, 0, 0}, {[]float64{-1, -2, 1, 4}, []float64{0, 0, 0, 2}, 0, 0},
		{[]float64{5, 2, 3, -1}, []float64{5, 2, 2, 0}, 0, 0}, {[]float64{5, 2, 3, -4}, []float64{5, 1, 0, 0}, 0, 0}, {[]float64{5, 2, 3, -6}, []float64{4, 0, 0, 0}, 0, 0}, {[]float64{5, 2, 3, -6}, []float64{5, 0, 0, 0}, 1, -1}, {[]float64{1, 1, 1, -8}, []float64{0, 0, 0, 0}, 0, -5},
		{[]float64{1, 1, -3, 1}, []float64{0, 0, 0, 0}, 0, 0}, {[]float64{-9, 2, 3, 4}, []float64{-9, 2, 3, 4}, 1, 0},
	} {
		if left := settle(c.mass, c.first); left != c.left || !slices.Equal(c.mass, c.want) {
			t.Errorf("%d: %v and %g are left, by hand %v and %g", i, c.mass, left, c.want, c.left)
		}
	}
}
