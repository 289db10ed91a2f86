package plan_test

import (
	"fmt"
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// BenchmarkGrind is a whole plan with 400 draws; the aim is under a second on
// two cores.
func BenchmarkGrind(b *testing.B) {
	s := shoptest.Bin(b, shoptest.Scrap("PLA", "black", 2))
	for b.Loop() {
		grind(b, s, bracket(0.6, "PLA"))
	}
}

// BenchmarkGrindAfter learns from so many runs that nobody has learned from yet, and
// plans; the aim is half a second after 40 and a second after 1 000, on two cores.
func BenchmarkGrindAfter(b *testing.B) {
	for _, runs := range []int{40, 1000} {
		b.Run(fmt.Sprint(runs), func(b *testing.B) {
			s := workshop(b, runs)
			n := 0
			for b.Loop() {
				b.StopTimer()
				r := s.Newest() // as if another product had been weighed
				body := *r.Body.(*shop.Ground)
				n++
				body.Product = shoptest.P(*body.Product - 1e-6*float64(n))
				next, err := s.With(shop.Record{At: r.At, NotedAt: r.At, Corrects: r.ID, Body: &body})
				if err != nil {
					b.Fatal(err)
				}
				req := bracket(0.1, "PLA")
				req.Mill, req.Lots = "Kettle", []shop.LotID{"S1"}
				b.StartTimer()
				grind(b, next, req)
			}
		})
	}
}
