// Package shoptest builds small shops for tests: a mill, a scale and what a
// test puts into the bins. The mill and all its values are invented.
package shoptest

import (
	"testing"
	"time"

	"hopperful/shop"
)

// Noon is when tests take place; the records of [Bin] lie before it.
var Noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// P is a value that was entered.
func P(v float64) *float64 { return &v }

// Mill is a mill of our own invention: a converted impact mill with a litre of
// chamber on a twenty-level controller.
func Mill() shop.Mill {
	return shop.Mill{
		Name: "Rattle", RatedPower: P(2200), ContinuousPower: P(900), Chamber: P(0.0012), Inlet: P(0.06), WallMass: P(3.2), WallMetal: shop.Steel,
		Painted: shop.Yes, RotorDiameter: P(0.15), RotorSpeed: P(1500), RotorMass: P(0.45),
		Screen: shop.Screen{Hole: P(0.003), OpenShare: P(0.3)}, Jar: P(0.0003),
		Magnet: shop.Yes, LidSwitch: shop.Yes, Earth: shop.Yes, ResidualCurrent: shop.Yes, Thermometer: shop.OuterWall,
		Controller: &shop.Control{Continuous: P(1500), Levels: 20, Watts: []shop.LevelWatts{{Level: 8, Watts: 320}, {Level: 12, Watts: 560}, {Level: 16, Watts: 800}},
			IdleWatts: []shop.LevelWatts{{Level: 8, Watts: 180}, {Level: 12, Watts: 300}, {Level: 16, Watts: 420}}},
	}
}

// Bin is a shop with that mill, a scale, and the records given, a minute apart.
func Bin(t testing.TB, bodies ...shop.Body) *shop.State {
	t.Helper()
	all := append([]shop.Body{
		&shop.ShopSet{Name: "Test bench", Currency: "EUR", ElectricityPrice: P(0.3 / 3.6e6), RoomTemperature: P(293.15)},
		&shop.MillSet{Mill: Mill()},
		&shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.001}},
	}, bodies...)
	records := make([]shop.Record, len(all))
	for i, b := range all {
		records[i] = shop.Record{ID: shop.RecordID(i + 1), At: Noon.Add(time.Duration(i-100) * time.Minute), Body: b}
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Scrap is a bin of failed prints taken in.
func Scrap(polymer, colour string, mass float64) *shop.TakenIn {
	return &shop.TakenIn{Class: shop.Scrap, Name: "failed prints", Polymer: polymer, Sure: P(0.97), Colour: colour, Halogen: shop.No, Mass: mass,
		Pieces: shop.Pieces{Largest: P(0.035), Wall: P(0.0016), Infill: P(0.2)}}
}

// Painted is PLA of a colour picked from a photo.
func Painted(id shop.LotID, class shop.Class, rgb string, mass float64) *shop.TakenIn {
	return &shop.TakenIn{Lot: id, Class: class, Polymer: "PLA", Sure: P(1), Colour: rgb, RGB: rgb, Halogen: shop.No, Mass: mass}
}

// Blended is a blend of the portions.
func Blended(into shop.LotID, from ...shop.Portion) *shop.Blended {
	return &shop.Blended{From: from, Into: into}
}
