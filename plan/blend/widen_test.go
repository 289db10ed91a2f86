package blend_test

import (
	"math"
	"testing"

	"hopperful/plan/blend"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// White granulate at 20 a kilogram and grey regrind for nothing: the cheapest blend takes as much grey as the
// colour bears, a colour wider by two is offered, and it saves what is said.
func TestAWiderColourIsOffered(t *testing.T) {
	t.Parallel()
	white := shoptest.Painted("V1", shop.Virgin, "#f2f2ee", 2)
	white.Price = shoptest.P(40)
	s := shoptest.Bin(t, white, shoptest.Painted("R1", shop.Regrind, "#c8c8c4", 2))
	price := map[shop.LotID]float64{"V1": 20}
	req := wantBlend(0.5)
	req.Order, req.RGB, req.WithinDE = blend.Cheapest, "#f2f2ee", shoptest.P(6)
	b := find(t, s, req)
	if !b.Possible || len(b.Eases) != 1 || b.Eases[0].Limit != "colour" || len(b.Eases[0].Set) != 1 || *b.Eases[0].Set[0].Value != 8 {
		t.Fatalf("got %v, %+v, %+v", b.Says, b.Eases, b.Limits)
	}
	with, _ := b.Eases[0].Says.Fact("with")
	if upTo, _ := with.Parts[0].Fact("up_to"); upTo.Value != 8 {
		t.Errorf("said up to %g, asked for 8", upTo.Value)
	}
	wider := find(t, s, taken(t, req, b.Eases[0].Set))
	saved, _ := b.Eases[0].Says.Fact("less")
	if want := cost(b, price) - cost(wider, price); want < 0.1 || math.Abs(saved.Figure.Value-want) > 0.05 {
		t.Errorf("said to save %g, saves %g", saved.Figure.Value, want)
	}
}
