package screw_test

import (
	"fmt"
	"math"

	"hopperful/process/melt"
	"hopperful/process/screw"
)

// A small head with a 16 mm screw prints PLA regrind: how much can it do, what
// stops it, and what does a change of colour cost?
func Example() {
	curve, err := melt.NewCross(melt.CrossSet{Zero: 2400, Stress: 1.0086e5, N: 0.25})
	if err != nil {
		fmt.Println(err)
		return
	}
	s := screw.Screw{Diameter: 0.016, Lead: 0.016, Flight: 0.0016, Clearance: 1e-4,
		FeedDepth: 0.003, DepthIn: 0.002, DepthOut: 0.002, Pump: 0.08, Heated: 0.14}
	line := screw.Line{
		Head: screw.Head{Screw: s, InScrew: curve, InNozzle: curve, Loss: screw.UsualLoss,
			Nozzle: melt.Nozzle{Bore: 1.5e-3, Land: 3e-3, Entry: 6e-3, Taper: 4e-3}},
		Feed: screw.Feed{Bulk: 400, Filling: 0.25}, Density: 1120,
		MostSpeed: 2 * math.Pi, MostPressure: 2e7,
		Heating: screw.Heating{Heaters: 120, Efficiency: 0.6, Heat: 325.6e3},
	}
	bounds, err := screw.LargestFlows(line)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, b := range bounds {
		fmt.Printf("%-8s %5.0f g/h", b.By, b.Flow*3.6e6)
		if b.Open {
			fmt.Print(" or more")
		}
		fmt.Println()
	}
	volume, _ := screw.MeltVolume(s, 0.5e-6)
	purge, _ := screw.PurgeMass(volume, line.Density, 0.01)
	fmt.Printf("purge %.0f to %.0f g\n", 1000*purge.Low, 1000*purge.High)
	// Output:
	// starve     632 g/h
	// heater     832 g/h
	// flood     2216 g/h
	// pressure 44314 g/h or more
	// purge 25 to 76 g
}
