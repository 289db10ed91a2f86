package blend_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/plan/blend"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// fullShelf is a shop with n lots of regrind in all colours, sieved, some ground
// from prints.
func fullShelf(t testing.TB, n int) *shop.State {
	t.Helper()
	luck := rand.New(rand.NewPCG(4, 4))
	bodies := []shop.Body{virginLot(20, 400)}
	for i := range n {
		id := shop.LotID(fmt.Sprintf("R%d", i+1))
		l := regrind(id, 0.02+0.4*luck.Float64()*luck.Float64())
		l.RGB = fmt.Sprintf("#%02x%02x%02x", 30+luck.IntN(40)*5, 30+luck.IntN(40)*5, 30+luck.IntN(40)*5)
		bodies = append(bodies, l, sieved(id, 0.05*luck.Float64()))
	}
	return shoptest.Bin(t, bodies...)
}

// allLimits asks for a blend under everything that can be limited.
func allLimits(order blend.Order) blend.Request {
	req := wantBlend(0.4)
	req.Order, req.RGB, req.WithinDE = order, "#8a5030", shoptest.P(8)
	req.MeanAge, req.OldestAge, req.Fines = shoptest.P(3), shoptest.P(9), shoptest.P(0.03)
	req.FlowLow, req.FlowHigh, req.MostLots = shoptest.P(1e-6), shoptest.P(1e-4), 4
	return req
}

// A page's question, asked of a shelf that is known and of one that is not, with
// and without the next best and what relaxing would give.
func BenchmarkBlend(b *testing.B) {
	s := fullShelf(b, 1000)
	h, err := blend.NewShelf(s)
	if err != nil {
		b.Fatal(err)
	}
	for _, order := range blend.Orders() {
		for _, soon := range []bool{true, false} {
			req := allLimits(order)
			req.Soon = soon
			name := map[bool]string{true: "soon", false: "thorough"}[soon]
			b.Run(fmt.Sprintf("%s/%s", order, name), func(b *testing.B) {
				for b.Loop() {
					found, err := h.Find(b.Context(), req)
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(len(found.Recipes)), "recipes")
				}
			})
		}
	}
	b.Run("new shelf", func(b *testing.B) {
		req := allLimits(blend.OldFirst)
		req.Soon = true
		for b.Loop() {
			if _, err := blend.Find(s, req); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// sieved is a sieve analysis of 10 g with a share of dust.
func sieved(id shop.LotID, dust float64) *shop.Sieved {
	return &shop.Sieved{Lot: id, Charge: 0.01, Series: shop.OwnSet, Holes: shop.WovenWire,
		Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.01 * (1 - dust) / 2}, {Opening: 0.5e-3, Mass: 0.01 * (1 - dust) / 2}}, Pan: 0.01 * dust}
}
