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

// Five weighings of twenty turns; the printer had reckoned with 5.2 g each.
func ExamplePerTurn() {
	runs := []screw.Weighing{{Mass: 4.83e-3, Turns: 20}, {Mass: 5.02e-3, Turns: 20}, {Mass: 4.91e-3, Turns: 20}, {Mass: 4.79e-3, Turns: 20}, {Mass: 4.96e-3, Turns: 20}}
	turn, err := screw.PerTurn(runs, 0.01e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	factor, interval, err := screw.FlowFactor(1, 5.2e-3/20, turn.Mean)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f g a turn; enter %.3f (%.3f to %.3f)\n", 1000*turn.Value, factor, interval.Low, interval.High)
	// Output: 0.245 g a turn; enter 1.061 (1.036 to 1.087)
}
