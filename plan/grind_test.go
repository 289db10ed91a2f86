package plan_test

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"hopperful/plan"
	"hopperful/shop"
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

func p(v float64) *float64 { return &v }

// benchMill is a mill of our own invention: a converted impact mill with a
// litre of chamber on a twenty-level controller.
func benchMill() shop.Mill {
	return shop.Mill{
		Name: "Rattle", RatedPower: p(2200), ContinuousPower: p(900), Chamber: p(0.0012), Inlet: p(0.06), WallMass: p(3.2), WallMetal: shop.Steel,
		Painted: shop.Yes, RotorDiameter: p(0.15), RotorSpeed: p(1500), RotorMass: p(0.45),
		Screen: shop.Screen{Hole: p(0.003), OpenShare: p(0.3)}, Jar: p(0.0003),
		Magnet: shop.Yes, LidSwitch: shop.Yes, Earth: shop.Yes, ResidualCurrent: shop.Yes, Thermometer: shop.OuterWall,
		Controller: &shop.Control{Continuous: p(1500), Levels: 20, Watts: []shop.LevelWatts{{Level: 8, Watts: 320}, {Level: 12, Watts: 560}, {Level: 16, Watts: 800}},
			IdleWatts: []shop.LevelWatts{{Level: 8, Watts: 180}, {Level: 12, Watts: 300}, {Level: 16, Watts: 420}}},
	}
}

// bin is a shop with that mill and some scrap.
func bin(t testing.TB, bodies ...shop.Body) *shop.State {
	t.Helper()
	all := append([]shop.Body{
		&shop.ShopSet{Name: "Test bench", Currency: "EUR", ElectricityPrice: p(0.3 / 3.6e6), RoomTemperature: p(293.15)},
		&shop.MillSet{Mill: benchMill()},
		&shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.001}},
	}, bodies...)
	records := make([]shop.Record, len(all))
	for i, b := range all {
		records[i] = shop.Record{ID: shop.RecordID(i + 1), At: noon.Add(time.Duration(i-100) * time.Minute), Body: b}
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func scrap(polymer, colour string, mass float64) *shop.TakenIn {
	return &shop.TakenIn{Class: shop.Scrap, Name: "failed prints", Polymer: polymer, Sure: p(0.97), Colour: colour, Halogen: shop.No, Mass: mass,
		Pieces: shop.Pieces{Largest: p(0.035), Wall: p(0.0016), Infill: p(0.2)}}
}

func TestDump(t *testing.T) {
	s := bin(t, scrap("PLA", "black", 2))
	start := time.Now()
	g, err := plan.Grind(s, plan.Request{Need: shop.Need{Name: "bracket", Mass: p(0.6), Polymer: "PLA"}, Now: noon})
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println(time.Since(start))
	g.Charts = nil
	fmt.Println(g.Answer)
	if g.Blocked != nil {
		fmt.Printf("%+v\n", *g.Blocked)
	}
	for _, l := range g.Limits {
		fmt.Println(l.Name, l.Figure.Shown(), l.Figure.ShownRange(), l.Figure.ShownLimit(), l.Holds, l.Binds, l.Relax)
	}
	for _, f := range g.Figures {
		fmt.Println(f.Name, f.Shown(), f.ShownRange())
	}
	fmt.Println(g.Need.Shown(), g.Product.Shown(), g.Product.ShownRange(), g.Setting.Rest.Shown(), g.Setting.Total.Shown(), g.Setting.JarEvery.Shown(), g.Balance.In.Value, g.Balance.Product.Value, g.Balance.Left.Value, g.Balance.Lost.Value)
	for _, x := range g.Steps {
		fmt.Println("-", x.Do, x.Time)
	}
	for _, x := range g.Spoilers {
		fmt.Println("!", x.What, x.Remedy)
	}
	for _, x := range g.Cautions {
		fmt.Println("*", x.Where, x.Text)
	}
	if _, err := json.Marshal(g); err != nil {
		t.Fatal(err)
	}
}
