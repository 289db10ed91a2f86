package blend_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/blend"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What the room makes of busy shops is as approved: go test ./plan/blend -run AsApproved
// -update keeps what has been looked at.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	for _, luck := range []uint64{1, 2} {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck, 1)))
		for i, req := range []blend.Request{
			{Order: blend.Cheapest, MeanAge: shoptest.P(0.8), Step: 0.005},
			{Order: blend.NearestColour, RGB: "#d08070", MostLots: 2, Step: 0.002},
			{Order: blend.OldFirst, WithinDE: shoptest.P(30), RGB: "#d08070", Least: 0.02, WhyNot: []shop.LotID{"V1", "R2"}},
			{Order: blend.OldFirst, RGB: "#1e5aa8"},
		} {
			req.Need = shop.Need{Name: "vase", From: "typed", Mass: shoptest.P(0.15), Polymer: "PLA"}
			req.Reserve = shoptest.P(0.05)
			b, err := blend.Find(s, req)
			if err != nil {
				t.Fatal(err)
			}
			checkrow.Approved(t, fmt.Sprintf("recipe%d-%d", luck, i), b)
		}
	}
}
