package blend_test

import (
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What a need says of its looks holds unless the question says otherwise.
func TestTheNeedsColourIsHeldTo(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#1c1c1c", 2), shoptest.Painted("R2", shop.Regrind, "#f2f2ee", 2))
	req := wantBlend(0.5)
	req.Need.RGB, req.Need.Colour = "#f2f2ee", "white"
	if b := find(t, s, req); !b.Possible || b.Wanted == nil || b.Recipes[0].Portions[0].Lot != "R2" {
		t.Errorf("got %v", b.Says)
	}
	req.AnyColour = true
	if b := find(t, s, req); b.Wanted != nil {
		t.Errorf("any colour, and yet held to %+v", b.Wanted)
	}
	req.AnyColour, req.RGB = false, "#1c1c1c"
	if b := find(t, s, req); b.Recipes[0].Portions[0].Lot != "R1" {
		t.Errorf("got %v", b.Says)
	}
}

// One line for all lots of which nobody said that they are free of chlorine.
func TestUnsaidChlorineIsToldOnce(t *testing.T) {
	t.Parallel()
	one, two := shoptest.Painted("R1", shop.Regrind, "#1c1c1c", 0.3), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 0.3)
	one.Halogen, two.Halogen = shop.Unknown, shop.Unknown
	told := 0
	for _, c := range find(t, shoptest.Bin(t, one, two), wantBlend(0.5)).Cautions {
		if c.Code == "bar.uncleared" {
			told++
			if lots, _ := c.Fact("lots"); len(lots.Parts) != 2 {
				t.Errorf("it names %v", lots.Parts)
			}
		}
	}
	if told != 1 {
		t.Errorf("told %d times", told)
	}
}
