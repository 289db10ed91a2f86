package blend_test

import (
	"context"
	"math"
	"testing"

	"hopperful/answer"
	"hopperful/plan/blend"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What is in the bucket stays as it was weighed, and the rest makes up the whole
// of the recipe around it.
func TestTheRestIsMadeUpAroundTheBucket(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#1c1c1c", 0.4), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 0.4))
	h, err := blend.NewShelf(s)
	if err != nil {
		t.Fatal(err)
	}
	take := blend.Weighed{{Lot: "R1", Mass: 0.3}, {Lot: "R2", Mass: 0.2}}
	b, err := h.Batch(context.Background(), s, wantBlend(0.5), take, blend.Weighed{{Lot: "R1", Mass: 0.32}})
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := b.Now.Of("R1"); got != 0.32 || math.Abs(b.Now.Total()-0.5) > 1e-9 || b.Broken || b.Finished() {
		t.Errorf("%+v of %g kg, broken %t", b.Now, b.Now.Total(), b.Broken)
	}
	rows := b.Rows()
	if len(rows) != 2 || rows[0].Put == nil || rows[1].Put != nil || math.Abs(rows[1].Running-0.5) > 1e-9 {
		t.Errorf("rows %+v", rows)
	}
	if mass, far := b.Shows("R2", 0.5); math.Abs(mass-0.18) > 1e-12 || far {
		t.Errorf("180 g more on the scale are %g, far %t", mass, far)
	}
	if _, far := b.Shows("R2", 50); !far {
		t.Error("fifty kilograms are near enough")
	}
}

// What is told of a blend of two lots, and what settles a lot left aside, by key.
func TestSpoilersAndLacksAreTyped(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#1c1c1c", 0.3), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 0.3),
		&shop.TakenIn{Lot: "R3", Class: shop.Regrind, Polymer: "PLA", Mass: 0.3, Halogen: shop.No})
	req := wantBlend(0.5)
	req.RGB = "#1c1c1c"
	b := find(t, s, req)
	codes := map[string]bool{}
	for _, f := range b.Spoilers {
		codes[f.Code] = true
	}
	if !codes["blend.streaks"] || !codes["blend.parts_again"] || codes["blend.dusty"] {
		t.Errorf("told %v", codes)
	}
	for _, a := range b.Aside {
		if a.Lot == "R3" && a.Lacks != answer.LacksColour {
			t.Errorf("R3 lacks %q: %v", a.Lacks, a.Why)
		}
	}
}
