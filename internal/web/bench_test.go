package web

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"testing"

	"hopperful/shop"
)

// BenchmarkPage draws each kind of page of the invented shop. The aim is under
// 100 ms a page on a workshop's old computer; the plan's page is measured with
// the plan reckoned already, as package plan measures the reckoning.
func BenchmarkPage(b *testing.B) {
	s := plannedShop(b, Options{})
	for _, p := range shown {
		s.get(p.path)
		b.Run(p.name, func(b *testing.B) {
			for b.Loop() {
				w := httptest.NewRecorder()
				r := httptest.NewRequest("GET", p.path, nil)
				r.Host = "localhost"
				s.pages.ServeHTTP(w, r)
				if w.Code != http.StatusOK {
					b.Fatalf("%s answers %d", p.path, w.Code)
				}
			}
		})
	}
}

// BenchmarkLotAmongMany draws the pages of a lot with ten thousand elders, of the
// bag all of them are blended with, and of one that went into a thousand prints.
// The aim is the same.
func BenchmarkLotAmongMany(b *testing.B) {
	const many = 10_000
	records := []shop.Record{{Body: &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 900}}, {Body: &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 0.05}},
		{Body: &shop.TakenIn{Lot: "V2", Class: shop.Virgin, Polymer: "PLA", Mass: 900}}}
	last := shop.LotID("R1")
	for i := range many {
		into := shop.LotID(fmt.Sprintf("B%d", i+1))
		records = append(records, shop.Record{At: noon, Body: &shop.Blended{From: []shop.Portion{{Lot: last, Mass: 0.05}, {Lot: "V1", Mass: 0.05}}, Into: into}})
		if last = into; i%10 == 0 {
			records = append(records, shop.Record{At: noon, Body: &shop.Printed{From: "V2", Print: "part", Mass: 0.1}})
		}
	}
	s := emptyShop(b, Options{})
	if _, err := s.store.Append(context.Background(), noon, records...); err != nil {
		b.Fatal(err)
	}
	for _, path := range []string{"/stock/" + string(last), "/stock/B5000", "/stock/V1", "/stock/V2", "/stock/" + string(last) + "/family", "/stock/V1/family"} {
		b.Run(path, func(b *testing.B) {
			for b.Loop() {
				if w := s.get(path); w.Code != http.StatusOK {
					b.Fatalf("%s answers %d", path, w.Code)
				}
			}
		})
	}
}
