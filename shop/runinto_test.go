package shop_test

import (
	"testing"
	"time"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A second run of the same scrap on the same day goes on into the first one's lot;
// the next day, or of other scrap, it opens its own.
func TestARunWithoutATargetGoesOn(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 2), shoptest.Scrap("PLA", "white", 2),
		&shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.1, Product: shoptest.P(0.09), Run: 60})
	at := s.Newest().At
	for name, c := range map[string]struct {
		from shop.LotID
		at   time.Time
		want shop.LotID
	}{
		"same scrap, same day": {"S1", at, "R1"},
		"the next day":         {"S1", at.AddDate(0, 0, 1), ""},
		"other scrap":          {"S2", at, ""},
		"no such scrap":        {"S9", at, ""},
	} {
		if got := s.RunInto("Rattle", c.from, c.at); got != c.want {
			t.Errorf("%s: it goes into %q, want %q", name, got, c.want)
		}
	}
}

// A solid brick is broken up before a small mill takes it; a hollow print, a thin
// one, and one nobody measured are not.
func TestBricksAreBrokenUp(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for name, c := range map[string]struct {
		pieces shop.Pieces
		want   bool
	}{
		"solid all through": {shop.Pieces{Largest: p(0.06), Infill: p(1)}, true},
		"a thick wall":      {shop.Pieces{Wall: p(0.012)}, true},
		"hollow":            {shop.Pieces{Largest: p(0.06), Wall: p(0.0012), Infill: p(0.15)}, false},
		"a small solid one": {shop.Pieces{Largest: p(0.01), Infill: p(1)}, false},
		"nobody measured":   {shop.Pieces{}, false},
	} {
		if got := c.pieces.Bricks(); got != c.want {
			t.Errorf("%s: %t", name, got)
		}
	}
}
