// Package growth makes invented shops of any size, for the tests and the figures of how
// cost grows with what is on record.
package growth

import (
	"fmt"
	"time"

	"hopperful/shop"
)

// atOnce is how many records are written in one piece.
const atOnce = 16_384

// Records writes n records of a shop that has worked for years, in pieces: a record
// each ten minutes up to the moment end. Heaps of 4 kg of scrap are ground in twenty runs
// each; two heaps become a lot of granulate that is sieved, put over the magnet, dried,
// printed and used up. A few lots are on hand at any time, thousands are gone.
func Records(n int, end time.Time, write func([]shop.Record) error) error {
	at := end.Add(-time.Duration(n) * 10 * time.Minute)
	list := make([]shop.Record, 0, atOnce)
	left := n
	add := func(b shop.Body) error {
		if left == 0 {
			return nil
		}
		at = at.Add(10 * time.Minute)
		list = append(list, shop.Record{At: at, By: "Ann", Body: b})
		if left--; left > 0 && len(list) < atOnce {
			return nil
		}
		piece := list
		list = make([]shop.Record, 0, atOnce)
		return write(piece)
	}
	for _, b := range tools() {
		if err := add(b); err != nil {
			return err
		}
	}
	for heap := 1; left > 0; heap++ {
		for _, b := range heapOf(heap) {
			if err := add(b); err != nil {
				return err
			}
		}
	}
	return nil
}

// tools are what the shop works with.
func tools() []shop.Body {
	power, chamber, wall := 1500.0, 0.008, 6.0
	return []shop.Body{
		&shop.ShopSet{Name: "Long bench", Currency: "EUR"},
		&shop.MillSet{Mill: shop.Mill{Name: "tub", RatedPower: &power, Chamber: &chamber, WallMass: &wall}},
		&shop.PrinterSet{Printer: shop.Printer{Name: "pellet"}},
		&shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.001}},
		&shop.NeedSet{Need: shop.Need{Name: "bracket", Polymer: "PLA", From: "typed", Mass: &chamber}},
	}
}

// heapOf is what happens to one heap of scrap.
func heapOf(heap int) []shop.Body {
	left, room, cold := 0.004, 294.0, 296.0
	scrap, grain := shop.LotID(fmt.Sprintf("S%d", heap)), shop.LotID(fmt.Sprintf("R%d", (heap+1)/2))
	list := []shop.Body{&shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Colour: "grey", Mass: 4, Lot: scrap}}
	for run := range 20 {
		product := 0.190 + 0.001*float64(run*7%5)
		hot := 312 + float64(run*3%7)
		list = append(list, &shop.Ground{Mill: "tub", From: scrap, Into: grain, Charge: 0.2, Run: 170 + float64(run*11%20),
			Product: &product, Left: &left, Room: &room, WallBefore: &cold, WallAfter: &hot})
	}
	if heap%2 == 1 {
		return list
	}
	return append(list,
		&shop.Sieved{Lot: grain, Charge: 0.1, Series: shop.R20x3, Holes: shop.WovenWire, Pan: 0.02,
			Sieves: []shop.OnSieve{{Opening: 0.004, Mass: 0.02}, {Opening: 0.002, Mass: 0.06}}},
		&shop.PassedMagnet{Lot: grain, Metal: 0.0001},
		&shop.Dried{Lot: grain, Way: shop.Dehydrator, Temperature: 318, Time: 4 * 3600},
		&shop.Printed{From: grain, Print: "bracket", Mass: 7.4, Into: shop.LotID(fmt.Sprintf("P%d", heap/2)), Good: shop.Yes},
		&shop.Weighed{Lot: grain, Mass: 0})
}
