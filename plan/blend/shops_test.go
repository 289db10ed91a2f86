package blend_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/blend"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Recipes of four busy shops, asked for in every way there is, a line each, as approved: no number or word of an answer
// moves unseen.
func TestManyRecipesAreAsApproved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	var out strings.Builder
	for luck := range uint64(4) {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck+3, 1)))
		for i, req := range []blend.Request{
			{Order: blend.OldFirst}, {Order: blend.Cheapest, MostLots: 1, Step: 0.01, Weighed: []shop.Portion{{Lot: "R1", Mass: 0.05}}}, {Order: blend.NearestColour, RGB: "#f0e0d8", Step: 0.004}, {Order: blend.OldFirst, MeanAge: p(0.2), OldestAge: p(2), MostLots: 3, Sturdy: true},
			{Order: blend.Cheapest, WithinDE: p(6), RGB: "#d8b0a4"}, {Order: blend.OldFirst, FlowLow: p(1e-6), FlowHigh: p(1e-5)}, {Order: blend.OldFirst, Moisture: p(0.001)}, {Order: blend.OldFirst, Metal: p(2e-6)},
			{Order: blend.Cheapest, Fines: p(0.03), Least: 0.03}, {Order: blend.OldFirst, WhyNot: []shop.LotID{"V1", "V2", "R1", "B1"}},
		} {
			req.Need = shop.Need{Name: "vase", From: "typed", Mass: p(0.1 + 0.4*float64(i%3)), Polymer: []string{"PLA", "PETG"}[i%2]}
			b, err := blend.Find(s, req)
			if err != nil {
				t.Fatal(luck, i, err)
			}
			fmt.Fprintf(&out, "%d %d %s\n", luck, i, checkrow.Whole(t, b))
		}
	}
	checkrow.ApprovedText(t, "recipes", out.String())
}
