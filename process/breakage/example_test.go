package breakage_test

import (
	"fmt"

	"hopperful/process/breakage"
)

// A hundred grams of PLA scrap in a small impact mill with a 2 mm screen: what
// is through after one, two and three minutes?
func Example() {
	grid, _ := breakage.NewGrid(0.08)
	mill, err := breakage.NewMill(grid,
		breakage.Kernel{Rate: 2e-4, SizeExponent: 1.1, RotorSize: 0.08, RotorExponent: 3, Phi: 0.35, Gamma: 0.9, Beta: 3.5},
		breakage.Screen{Hole: 0.002, OpenShare: 0.2, Rate: 0.25},
		breakage.Power{Net: 250, MinHeld: 0.02}, 1e-6)
	if err != nil {
		fmt.Println(err)
		return
	}
	charge := breakage.NewCharge(grid)
	charge.Held[2], charge.Held[5] = 0.04, 0.06
	course := &breakage.Course{Time: []float64{60, 120, 180}, Passed: make([]float64, 3), Energy: make([]float64, 3)}
	if err := mill.Run(charge, 180, course); err != nil {
		fmt.Println(err)
		return
	}
	for k, t := range course.Time {
		fmt.Printf("%3.0f s: %4.1f g through, %4.1f kJ\n", t, 1000*course.Passed[k], course.Energy[k]/1000)
	}
	fines := make([]float64, 1)
	if err := grid.Passing(charge.Passed, []float64{0.0005}, fines); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("finer than 0.5 mm: %.0f %%\n", 100*fines[0])
	// Output:
	//  60 s: 63.5 g through, 14.4 kJ
	// 120 s: 96.1 g through, 21.7 kJ
	// 180 s: 99.7 g through, 22.7 kJ
	// finer than 0.5 mm: 70 %
}

// Compensated grinding has a solution in closed form, Reid (1965): the oversize
// at x after t is R0 exp(−K x^α t).
func ExampleLinear() {
	mill := breakage.Linear{Break: []float64{0.6, 0.3, 0}, Debris: [][]float64{nil, {0.7}, {0.3, 1}}}
	held, passed := []float64{1, 0, 0}, make([]float64, 3)
	if err := mill.Advance(held, passed, 2); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.6f\n", held)
	// Output: [0.301194 0.346664 0.352141]
}

// What one 10 mm piece does in that mill: how fast it breaks, how fine its debris
// is, how soon a 1 mm grain leaves, and what a mixed bin begins with.
func ExampleSpecificRate() {
	k := breakage.Kernel{Rate: 2e-4, SizeExponent: 1.1, RotorSize: 0.08, RotorExponent: 3, Phi: 0.35, Gamma: 0.9, Beta: 3.5}
	rate, err := breakage.SpecificRate(k, 0.01)
	if err != nil {
		fmt.Println(err)
		return
	}
	finer, err := breakage.DebrisFiner(k, 0.001, 0.01)
	if err != nil {
		fmt.Println(err)
		return
	}
	leaving, err := breakage.LeavingRate(breakage.Screen{Hole: 0.002, OpenShare: 0.2, Rate: 0.25}, 0.0007, 0.001)
	if err != nil {
		fmt.Println(err)
		return
	}
	feed, err := breakage.FeedFiner(0.02, 0.08, 0.03, 0.002)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("breaks at %.4f a second for each W/kg\n", rate)
	fmt.Printf("%.1f %% of its debris is finer than 1 mm\n", 100*finer)
	fmt.Printf("grains of 0.7 to 1 mm leave at %.4f 1/s\n", leaving)
	fmt.Printf("%.0f %% of the bin is finer than 20 mm\n", 100*feed)
	// Output:
	// breaks at 0.0002 a second for each W/kg
	// 4.4 % of its debris is finer than 1 mm
	// grains of 0.7 to 1 mm leave at 0.0169 1/s
	// 37 % of the bin is finer than 20 mm
}
