package melt_test

import (
	"fmt"

	"hopperful/process/melt"
)

// A lot of PLA regrind weighed 18 g/10 min at 210 °C and 2.16 kg. What pressure
// does a 1 mm nozzle ask for 20 mm³/s at 205 °C?
func Example() {
	book := melt.CrossWLF{N: 0.25, Stress: 1.0086e5, D1: 3.317e9, D2: 373.15, A1: 20.194, A2: 51.6}
	window := melt.Window{Low: 440, Ceiling: 513.15}
	test, err := book.At(483.15, window)
	if err != nil {
		fmt.Println(err)
		return
	}
	model, _ := melt.ModelMFR(test, melt.Plastometer{Load: 2.16, Density: 1120})
	factor, _ := melt.Thinning(18.0/600000, model)
	lot, _ := book.Thinned(factor)
	curve, _ := lot.At(478.15, window)
	drop, err := melt.NozzleDrop(curve, melt.Nozzle{Bore: 1e-3, Land: 2e-3, Entry: 5e-3, Taper: 4e-3, Losses: melt.UsualLosses}, 20e-9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the lot flows %.1f times as fast as the textbook's\n", factor)
	fmt.Printf("cone %.1f MPa, land %.1f MPa, with entrance %.1f to %.1f MPa\n",
		drop.Cone/1e6, drop.Land/1e6, drop.Total.Low/1e6, drop.Total.High/1e6)
	_, err = lot.At(533.15, window)
	fmt.Println(err)
	// Output:
	// the lot flows 4.1 times as fast as the textbook's
	// cone 0.2 MPa, land 0.7 MPa, with entrance 1.0 to 2.2 MPa
	// melt temperature 260 °C is above 240 °C, where this polymer breaks down and gives off fumes: set it lower
}

// Five cuts of half a minute on a scale that shows centigrams.
func ExampleTimedCuts() {
	cuts := []melt.Cut{{Mass: 0.31e-3, Time: 30}, {Mass: 0.30e-3, Time: 30}, {Mass: 0.33e-3, Time: 30}, {Mass: 0.31e-3, Time: 30}, {Mass: 0.32e-3, Time: 30}}
	rate, err := melt.TimedCuts(cuts, 0.01e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f g/10 min, %.1f to %.1f; scale too coarse: %v\n",
		rate.Value*6e5, rate.Range.Low*6e5, rate.Range.High*6e5, rate.Coarse)
	// Output: 6.3 g/10 min, 6.0 to 6.6; scale too coarse: true
}
