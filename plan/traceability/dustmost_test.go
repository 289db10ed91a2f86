package traceability

import (
	"math"
	"testing"

	"hopperful/polymer"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// However well dusty lots print, no printer is believed to bear more than 99 % of dust, and a limit counts from a ten-thousandth to 95 %.
func TestNoPrinterBearsAllDust(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	dusty := &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.01}, {Opening: 0.5e-3, Mass: 0}}, Pan: 0.09}
	for most, want := range map[float64]float64{0.95: 0.95, 0.99: 0.95, 1e-5: 1e-4, 0.3: 0.3} {
		b := DustBorneBy(shoptest.Bin(t, &shop.ShopSet{Name: "Bench", MostDust: p(most)}))
		if math.Abs(b.Median-want) > 1e-12 || !b.Own || math.Abs(b.Low-want/1.25) > 1e-12 || math.Abs(b.High-math.Min(want*1.25, 0.99)) > 1e-12 {
			t.Errorf("a limit of %g: %+v", most, b)
		}
	}
	lot := &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}
	of := func(limit *float64, good shop.YesNo, prints int) DustBorne {
		all := []shop.Body{&shop.ShopSet{Name: "Bench", MostDust: limit}, lot, dusty}
		for range prints {
			all = append(all, &shop.Printed{From: "R1", Print: "a", Mass: 0.001, Good: good, Why: "x"})
		}
		return DustBorneBy(shoptest.Bin(t, all...))
	}
	if b := of(p(0.95), shop.Yes, 3); b.High != 0.99 || b.Prints != 3 || b.Median <= 0.9 {
		t.Errorf("%+v", b)
	}
	usual := of(nil, shop.Yes, 0)
	if math.Abs(usual.Median-0.1) > 1e-12 || math.Abs(usual.Low-0.0625) > 1e-12 || math.Abs(usual.High-0.16) > 1e-12 || usual.Own {
		t.Errorf("%+v", usual)
	}
	// A print that is neither good nor bad teaches nothing.
	if b := of(nil, shop.Unknown, 2); b.Prints != 0 || b.Median != usual.Median {
		t.Errorf("%+v", b)
	}
	if good, bad := of(nil, shop.Yes, 1), of(nil, shop.No, 1); !(good.Median > usual.Median && bad.Median <= usual.Median+1e-3) {
		t.Errorf("good %g, bad %g, before %g", good.Median, bad.Median, usual.Median)
	}
}

// Water at rest in the room is that of the books where it lies below what saturates; at saturation itself nothing is told of the room.
func TestWaterAtRestInTheRoom(t *testing.T) {
	t.Parallel()
	w, err := NewAger(shoptest.Bin(t, &shop.ShopSet{Name: "Bench", RoomHumidity: shoptest.P(0.5)}))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"PLA", "PET", "PETG", "PA6", "PC"} {
		found, err := w.table.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		p := w.described(found)
		if !p.cut {
			continue
		}
		room, err := found.Value(polymer.WaterRoom)
		if err != nil {
			continue
		}
		if all, err := found.Value(polymer.WaterSaturated); err == nil && (math.Abs(p.rest-room.Value) > 0.02*room.Value || p.rest >= all.Value) {
			t.Errorf("%s holds %g at half the humidity, the books have %g of %g", name, p.rest, room.Value, all.Value)
		}
	}
}
