package demo

import (
	"testing"

	"hopperful/plan"
	"hopperful/shop"
)

// Three months of records are enough to plan with: nobody would begin what was ground
// a dozen times with a trial of one charge, though one of the dozen stalled.
func TestWhatTheShopGrindsIsPlannedFor(t *testing.T) {
	t.Parallel()
	state, err := shop.Fold(records(t, 1))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		polymer, colour string
		mass            float64
	}{{"PETG", "clear", 0.24}, {"PLA", "black", 0.5}, {"PLA", "white", 0.3}} {
		t.Run(c.polymer+" "+c.colour, func(t *testing.T) {
			t.Parallel()
			g, err := plan.Grind(state, plan.Request{Need: shop.Need{Name: "print", From: "typed", Polymer: c.polymer, Mass: &c.mass}, Colour: c.colour, Now: today})
			if err != nil {
				t.Fatal(err)
			}
			if !g.Possible || g.Trial != nil {
				t.Fatalf("possible %v, trial %+v", g.Possible, g.Trial)
			}
			if level, charge := g.Setting.Level.Value, g.Setting.Charge.Value; level < 6 || level > 9 || charge < 0.04 || charge > 0.11 {
				t.Errorf("%g g at level %g is nothing this shop does", 1000*charge, level)
			}
		})
	}
}
