package grains_test

import (
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/grains"
	"hopperful/process/grain"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What photographs say of a lot, with its size analysis to keep, is as approved: the numbers
// only notice that something moved.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	mixed := spread(heap(120, 0.4e-3, 1.5), heap(200, 0.9e-3, 1.2), heap(80, 1.6e-3, 1.4), heap(12, 2.4e-3, 1.1), heap(6, 1e-3, 8), heap(2, 7e-3, 1.2))
	few := spread(heap(9, 1.5e-3, 1.3))
	far := spread(heap(200, 0.9e-3, 1.2))
	far.Pixel = 2e-4 // dust is not seen
	scrap := shoptest.Scrap("PETG", "clear", 1)
	scrap.Lot, scrap.Pieces = "S2", shop.Pieces{Wall: shoptest.P(1.2e-3)}
	sieved := &shop.Sieved{Lot: "R1", Charge: 0.02, Series: shop.OwnSet, Holes: shop.RoundHoles, Pan: 0.005,
		Sieves: []shop.OnSieve{{Opening: 1.4e-3, Mass: 0}, {Opening: 0.8e-3, Mass: 0.01}, {Opening: 0.6e-3, Mass: 0.005}}}
	s := ground(t, sieved, scrap, &shop.Ground{Mill: "Rattle", From: "S2", Into: "R2", Charge: 0.1, Product: shoptest.P(0.09), Run: 60})
	for name, ask := range map[string]grains.Ask{
		"mixed":   {Lot: "R1", Samples: []grain.Sample{{Spreads: []*grain.Spread{mixed}}}, Struck: 3, Parted: 2},
		"weighed": {Lot: "R2", Samples: []grain.Sample{{Mass: 0.5e-3, Of: 20e-3, Spreads: []*grain.Spread{mixed, few}}}, Unseen: 2e-3, UnseenBelow: 0.3e-3, Ruled: true},
		"few":     {Samples: []grain.Sample{{Spreads: []*grain.Spread{few}}}},
		"classes": {Lot: "R1", Samples: []grain.Sample{{Of: 18e-3, Spreads: []*grain.Spread{spread(heap(100, 2e-3, 1.2))}}, {Of: 7e-3, Spreads: []*grain.Spread{spread(heap(300, 0.8e-3, 1.2))}}},
			Pictures: []*grain.Measured{{Standing: grain.Standing{Error: 0.02, Card: true}}}},
		"poor": {Lot: "R1", Samples: []grain.Sample{{Spreads: []*grain.Spread{far}}}, Pictures: []*grain.Measured{
			{Spread: grain.Spread{Cover: 0.9 * grain.MuchCover, Pixel: 1e-4, Blur: 3e-3}, PerGrain: 2 * grain.GoodPixels}, {Spread: grain.Spread{Cover: 1.1 * grain.MuchCover}}, {PerGrain: 0.9 * grain.GoodPixels}}},
	} {
		out, err := grains.Of(s, ask)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		checkrow.Approved(t, name, out)
	}
}
