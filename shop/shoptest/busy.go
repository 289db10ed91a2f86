package shoptest

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"hopperful/shop"
)

// Busy is a shop of some weeks' work: scrap and bought granulate of three plastics, some of
// it coloured, ground warm and cold and once stalled, swept, sieved, dusted, led past the
// magnet, dried, blended, printed well and badly, parts looked at and found damaged; much
// was not weighed. The same luck gives the same shop. All of it is invented.
func Busy(t testing.TB, luck *rand.Rand) *shop.State {
	t.Helper()
	b := &busy{luck: luck, at: Noon.Add(-40 * 24 * time.Hour)}
	b.add(&shop.ShopSet{Name: "Busy bench", Currency: "EUR", ElectricityPrice: P(0.3 / 3.6e6), RoomTemperature: P(293.15), RoomHumidity: P(0.45)},
		&shop.MillSet{Mill: Mill()}, &shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.001}},
		&shop.PrinterSet{Printer: shop.Printer{Name: "Wide", Nozzle: P(1.2e-3), ScrewBore: P(0.016), HeaterWatt: P(200), HopperExit: P(0.03)}})
	rgb := map[string]string{"PLA": "#c0402a", "PETG": "#e8eef0", "ABS": "#1c1c1c"}
	for i, polymer := range []string{"PLA", "PETG", "ABS"} {
		s := Scrap(polymer, "red", 3+b.some(2))
		s.Lot, s.RGB, s.Sure = shop.LotID(fmt.Sprintf("S%d", i+1)), rgb[polymer], P(0.8+b.some(0.19))
		b.add(s, &shop.TakenIn{Lot: shop.LotID(fmt.Sprintf("V%d", i+1)), Class: shop.Virgin, Polymer: polymer, Sure: P(1), Halogen: shop.No, Colour: "white", RGB: "#f2f2ee",
			Mass: 1, Price: P(15 + 10*b.some(1))})
	}
	for week := range 4 {
		b.week(week)
	}
	s, err := shop.Fold(b.records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

type busy struct {
	luck    *rand.Rand
	at      time.Time
	records []shop.Record
}

func (b *busy) some(most float64) float64 { return most * b.luck.Float64() }

// maybe is a value that was noted two times of three.
func (b *busy) maybe(v float64) *float64 {
	if b.luck.IntN(3) == 0 {
		return nil
	}
	return &v
}

func (b *busy) add(all ...shop.Body) {
	for _, x := range all {
		b.records = append(b.records, shop.Record{ID: shop.RecordID(len(b.records) + 1), At: b.at, By: []string{"Ada", "Ben"}[len(b.records)/7%2], Body: x})
		b.at = b.at.Add(time.Duration(5+b.luck.IntN(20)) * time.Minute)
	}
}

func (b *busy) week(n int) {
	i := n%3 + 1
	scrap, regrind := shop.LotID(fmt.Sprintf("S%d", i)), shop.LotID(fmt.Sprintf("R%d", i))
	for k := range 4 {
		charge, level := 0.08+b.some(0.04), []int{8, 12, 16}[b.luck.IntN(3)]
		g := &shop.Ground{Mill: Mill().Name, From: scrap, Into: regrind, Charge: charge, Product: P(charge * (0.85 + b.some(0.1))), Left: b.maybe(charge * 0.03), Swept: b.maybe(0.001),
			Run: 60 + b.some(60), Level: &level, WallBefore: b.maybe(293 + b.some(10)), WallAfter: b.maybe(305 + b.some(12)), RestBefore: b.maybe(600), Energy: b.maybe(3e4 + b.some(2e4))}
		if n == 1 && k == 2 {
			g.Stalled = true
		}
		b.add(g)
	}
	pan := 0.004 + b.some(0.01)
	b.add(&shop.Sieved{Lot: regrind, Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Hole: P(0.003), LongFound: &n,
		Sieves: []shop.OnSieve{{Opening: 2.8e-3, Mass: 0.002 + b.some(0.002)}, {Opening: 2e-3, Mass: 0.03}, {Opening: 1e-3, Mass: 0.04}, {Opening: 0.5e-3, Mass: 0.024 - pan}}, Pan: pan},
		&shop.Dedusted{Lot: regrind, Dust: 0.005, Opening: b.maybe(0.5e-3)},
		&shop.PassedMagnet{Lot: regrind, Metal: 1e-6 * float64(1+b.luck.IntN(5)), Passed: b.maybe(0.3)},
		&shop.JarWeighed{Lot: regrind, Jar: 200e-6, Poured: 0.085 + b.some(0.01), Tapped: b.maybe(0.1)},
		&shop.Dried{Lot: regrind, Way: []shop.Way{shop.Oven, shop.DesiccantBox}[n%2], Temperature: 318.15, Time: 4 * 3600, Energy: b.maybe(1e6), Bed: P(0.02)},
		&shop.Blended{From: []shop.Portion{{Lot: regrind, Mass: 0.12}, {Lot: shop.LotID(fmt.Sprintf("V%d", i)), Mass: 0.1}}, Into: shop.LotID(fmt.Sprintf("B%d", n+1))})
	good, why := shop.Yes, ""
	if n == 2 {
		good, why = shop.No, "bridged"
	}
	b.add(&shop.Printed{From: shop.LotID(fmt.Sprintf("B%d", n+1)), Into: shop.LotID(fmt.Sprintf("P%d", n+1)), Print: "hook", Mass: 0.15, Purged: b.maybe(0.012), Energy: b.maybe(8e5), Good: good, Why: why, Moisture: b.maybe(2e-4)},
		&shop.Sorted{From: shop.LotID(fmt.Sprintf("P%d", n+1)), Into: []shop.Part{{Lot: shop.LotID(fmt.Sprintf("S%d", 10+n)), Mass: 0.05}}, Waste: P(0.002)},
		&shop.Serviced{Mill: Mill().Name, Part: []shop.MillPart{shop.ScreenPart, shop.BladePart}[n%2], What: shop.Inspected, Sound: shop.Yes})
	if n == 2 {
		b.add(&shop.Serviced{Mill: Mill().Name, Part: shop.ScreenPart, What: shop.FoundDamaged, Sound: shop.No})
	}
	b.at = b.at.Add(7 * 24 * time.Hour)
}
