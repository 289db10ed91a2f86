package demo

import (
	"math"

	"hopperful/shop"
)

// The invented people.
const (
	ada   = "Ada"
	jonas = "Jonas"
	mira  = "Mira"
)

// The invented machines.
const (
	rattle  = "Rattle"  // the mill that does nearly all the work
	grumble = "Grumble" // an older one, of which little is known
	puddle  = "Puddle"  // the printer
)

// rpm turns turns a minute into rad/s.
func rpm(n float64) float64 { return n * 2 * math.Pi / 60 }

// setUp describes the shop and what stands in it.
func (b *book) setUp() {
	day := 92
	b.note(b.at(day, 9, 0), ada, &shop.ShopSet{
		Name:             "Lantern Yard (invented)",
		Currency:         "EUR",
		ElectricityPrice: known(0.33 / 3.6e6), // per kWh
		RoomTemperature:  known(celsius(19)),
		RoomHumidity:     known(0.48),
		Handling:         known(240.0),
	})
	for i, name := range []string{ada, jonas, mira} {
		b.note(b.at(day, 9, 5+i), ada, &shop.PersonSet{Name: name})
	}
	b.note(b.at(day, 9, 10), ada, &shop.ScaleSet{Scale: shop.Scale{
		Name: "Bench scale", Resolution: 0.001, Capacity: known(5.0)}})
	b.note(b.at(day, 9, 12), ada, &shop.ScaleSet{Scale: shop.Scale{
		Name: "Letter scale", Resolution: 0.0001, Capacity: known(0.05)}})
	b.note(b.at(day, 9, 15), ada, &shop.MillSet{Mill: millRattle()})
	b.note(b.at(day, 9, 25), ada, &shop.MillSet{Mill: millGrumble()})
	b.note(b.at(day, 9, 30), ada, &shop.PrinterSet{Printer: shop.Printer{
		Name: puddle, Nozzle: known(0.8e-3), ScrewBore: known(14e-3), HeaterWatt: known(160.0),
		Hopper: known(0.9e-3), HopperExit: known(22e-3), LargestIn: known(2.5e-3)}})
}

// millRattle is a kitchen-size impact mill rebuilt with a screen, a magnet and
// a power controller.
func millRattle() shop.Mill {
	return shop.Mill{
		Name:            rattle,
		RatedPower:      known(1800.0),
		ContinuousPower: known(1100.0),
		Chamber:         known(1.1e-3),
		Inlet:           known(70e-3),
		WallMass:        known(2.3),
		WallMetal:       shop.Stainless,
		Painted:         shop.No,
		RotorDiameter:   known(128e-3),
		RotorSpeed:      known(rpm(14000)),
		RotorMass:       known(0.19),
		Screen:          shop.Screen{Hole: known(2e-3), OpenShare: known(0.20)},
		Jar:             known(0.3e-3),
		Magnet:          shop.Yes,
		LidSwitch:       shop.Yes,
		Earth:           shop.Yes,
		ResidualCurrent: shop.Yes,
		Noise:           known(91.0),
		Thermometer:     shop.OuterWall,
		Controller: &shop.Control{
			Continuous: known(1600.0),
			Levels:     20,
			Watts:      []shop.LevelWatts{{Level: 5, Watts: 255}, {Level: 7, Watts: 360}, {Level: 8, Watts: 430}, {Level: 10, Watts: 590}, {Level: 14, Watts: 1010}},
			IdleWatts:  []shop.LevelWatts{{Level: 5, Watts: 122}, {Level: 7, Watts: 158}, {Level: 8, Watts: 182}, {Level: 10, Watts: 236}, {Level: 14, Watts: 370}},
		},
	}
}

// millGrumble came without papers: most of it is unknown, and it lacks a lid
// switch.
func millGrumble() shop.Mill {
	return shop.Mill{
		Name:       grumble,
		RatedPower: known(750.0),
		Chamber:    known(2.5e-3),
		WallMetal:  shop.CastIron,
		Painted:    shop.Yes,
		Screen:     shop.Screen{Hole: known(4e-3)},
		Magnet:     shop.No,
		LidSwitch:  shop.No,
		Earth:      shop.Yes,
	}
}
