package breakage

import (
	"errors"
	"slices"
	"testing"

	"hopperful/process"
)

// Filling a mill is adding feed, whatever was filled in before, and refuses the same.
func TestFillingIsAddingFeed(t *testing.T) {
	m, g := benchMill(t, 1e-3)
	for _, f := range [][4]float64{
		{0.1, 0.06, 0.03, 0.002}, {0.2, 0.06, 0.03, 0.002}, {0.1, 0.06, 0.02, 0.002}, {0.1, 0.04, 0.02, 0.002}, {0.1, 0.04, 0.02, 0.001}, {0, 0.04, 0.02, 0.001},
		{-1, 0.04, 0.02, 0.001}, {0.1, 0.5, 0.02, 0.001}, {0.1, 0.04, 0.05, 0.001}, {0.1, 0.04, 0.02, 0.03}, {0.1, 0.06, 0.03, 0.002},
	} {
		got, want := NewCharge(g), NewCharge(g)
		got.Held[3], want.Held[3] = 0.01, 0.01
		failed, refused := m.Fill(got, f[0], f[1], f[2], f[3]), AddFeed(g, want.Held, f[0], f[1], f[2], f[3])
		if (failed == nil) != (refused == nil) || failed != nil && !errors.As(failed, new(*process.RangeError)) {
			t.Errorf("filling %v: %v, adding it: %v", f, failed, refused)
		}
		if !slices.Equal(got.Held, want.Held) {
			t.Errorf("filling %v gives %v, adding it %v", f, got.Held, want.Held)
		}
	}
}

// A class whose pieces are all broken is looked at no more; its last crumbs stay in the mill.
func TestAnEmptyClassIsLeftAloneAndNothingIsLost(t *testing.T) {
	m, g := benchMill(t, 1e-3)
	c := NewCharge(g)
	if err := m.Fill(c, 0.1, 0.06, 0.03, 0.002); err != nil {
		t.Fatal(err)
	}
	coarse := slices.IndexFunc(c.Held, func(kg float64) bool { return kg > 0 })
	s := m.begin(c)
	if err := m.advance(c, &s, 1200); err != nil {
		t.Fatal(err)
	}
	if s.first <= coarse || c.Held[coarse] != 0 {
		t.Errorf("after twenty minutes class %d holds %g kg and is still looked at", coarse, c.Held[coarse])
	}
	if all := c.HeldMass() + c.PassedMass(); all < 0.1*(1-1e-12) || all > 0.1*(1+1e-12) {
		t.Errorf("100 g came to %.15g kg", all)
	}
}
