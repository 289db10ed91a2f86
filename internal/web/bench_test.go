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
		s.time(b, p.name, p.path)
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
		s.time(b, path, path)
	}
}

// BenchmarkManyLots draws the pages of a shop that has kept 10,000 lots, half of
// them scrap, half ground from it; the last blend has eaten of five.
func BenchmarkManyLots(b *testing.B) {
	s := demoShop(b, Options{})
	const pairs = 5000
	var all []shop.Record
	add := func(body shop.Body) { all = append(all, shop.Record{At: noon, Body: body}) }
	for i := range pairs {
		scrap := shop.LotID(fmt.Sprintf("S%d", 100+i))
		add(&shop.TakenIn{Lot: scrap, Class: shop.Scrap, Mass: 1, Polymer: "PLA", Colour: "grey"})
		half := 0.4
		add(&shop.Ground{Mill: "Rattle", From: scrap, Into: shop.LotID(fmt.Sprintf("R%d", 100+i)), Charge: 0.5, Product: &half, Run: 120})
	}
	var from []shop.Portion
	for i := range 5 {
		from = append(from, shop.Portion{Lot: shop.LotID(fmt.Sprintf("R%d", 100+i)), Mass: 0.1})
	}
	add(&shop.Blended{From: from, Into: "B100", Name: "five"})
	if _, err := s.store.Append(context.Background(), noon, all...); err != nil {
		b.Fatal(err)
	}
	for _, p := range []struct{ name, path string }{
		{"now", "/"}, {"stock", "/stock"}, {"stock-empty", "/stock?empty=1"}, {"lot", "/stock/R5000"}, {"blend", "/stock/B100"}, {"fits", "/fit"},
		{"materials", "/materials"}, {"machines", "/machines"}, {"records", "/records"}, {"charge", "/record/charge"},
	} {
		s.time(b, p.name, p.path)
	}
}

// time draws a page again and again.
func (s *bench) time(b *testing.B, name, path string) {
	s.get(path)
	b.Run(name, func(b *testing.B) {
		size := 0
		for b.Loop() {
			w := httptest.NewRecorder()
			r := httptest.NewRequest("GET", path, nil)
			r.Host = "localhost"
			s.pages.ServeHTTP(w, r)
			if w.Code != http.StatusOK {
				b.Fatalf("%s answers %d", path, w.Code)
			}
			size = w.Body.Len()
		}
		b.ReportMetric(float64(size)/1e3, "kB")
	})
}
