package store

import (
	"fmt"
	"testing"
	"time"

	"hopperful/shop"
)

// BenchmarkOpen opens shops of many records: scrap taken in, ground and weighed.
func BenchmarkOpen(b *testing.B) {
	for _, n := range []int{1000, 4000, 16_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := fresh(b)
			mustAppend(b, s, shop.Record{Body: &shop.MillSet{Mill: shop.Mill{Name: "shredder"}}})
			var list []shop.Record
			for i := range n {
				at := opening.Add(time.Duration(i-n) * time.Minute)
				if i%4 == 0 {
					list = append(list, shop.Record{At: at, Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Mass: 1, Lot: shop.LotID(fmt.Sprintf("S%d", i/4+1))}})
					continue
				}
				product := 0.19
				list = append(list, shop.Record{At: at, By: "Ann", Body: &shop.Ground{Mill: "shredder", From: shop.LotID(fmt.Sprintf("S%d", i/4+1)), Charge: 0.2, Run: 180, Product: &product, Into: shop.LotID(fmt.Sprintf("R%d", i/400+1))}})
			}
			mustAppend(b, s, list...)
			path := s.Path()
			s.Close()
			b.ReportAllocs()
			for b.Loop() {
				s, err := Open(b.Context(), path, Options{ReadOnly: true})
				if err != nil {
					b.Fatal(err)
				}
				s.Close()
			}
			b.ReportMetric(float64(b.N*n)/b.Elapsed().Seconds(), "records/s")
		})
	}
}
