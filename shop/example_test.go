package shop_test

import (
	"fmt"
	"log"
	"time"

	"hopperful/shop"
)

// A small shop's day: a bin of scrap is taken in, ground in two runs, printed
// from, and every gram is somewhere.
func ExampleFold() {
	at := func(h, m int) time.Time { return time.Date(2026, 5, 4, h, m, 0, 0, time.UTC) }
	kg := func(x float64) *float64 { return &x }
	day := []shop.Record{
		{At: at(8, 0), Body: &shop.MillSet{Mill: shop.Mill{Name: "bench mill", Chamber: kg(0.002)}}},
		{At: at(8, 10), Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Colour: "black", Mass: 1.2}},
		{At: at(8, 30), Body: &shop.Ground{Mill: "bench mill", From: "S1", Charge: 0.240, Product: kg(0.228), Left: kg(0.008), Run: 180}},
		{At: at(8, 50), Body: &shop.Ground{Mill: "bench mill", From: "S1", Into: "R1", Charge: 0.240, Product: kg(0.243), Left: kg(0.002), Run: 200}},
		{At: at(16, 0), Body: &shop.Printed{From: "R1", Print: "spool holder", Mass: 0.4, Purged: kg(0.015), Good: shop.Yes}},
	}
	s, err := shop.Fold(day)
	if err != nil {
		log.Fatal(err)
	}
	b := shop.BalanceOf(s)
	fmt.Printf("in %.0f g\n", 1000*b.In)
	for _, l := range s.Stock("") {
		fmt.Printf("on hand %s %s %.0f g\n", l.ID, l.Class, 1000*l.Mass)
	}
	fmt.Printf("in the mill %.0f g\n", 1000*b.InMills)
	fmt.Printf("printed %.0f g\n", 1000*b.Printed)
	fmt.Printf("purged %.0f g, lost in grinding %.0f g\n", 1000*b.Losses[shop.Purged], 1000*b.Losses[shop.LostGrinding])
	fmt.Printf("unaccounted for %.0f g\n", 1000*b.Residual)
	// Output:
	// in 1200 g
	// on hand S1 scrap 720 g
	// on hand R1 regrind 71 g
	// on hand P1 print 385 g
	// in the mill 2 g
	// printed 385 g
	// purged 15 g, lost in grinding 7 g
	// unaccounted for 0 g
}
