package grain_test

import (
	"fmt"

	"hopperful/process/grain"
)

// How much to spread for d50 within 5 % of granulate of 1.5 mm.
func ExampleGrainsNeeded() {
	n, err := grain.GrainsNeeded(1.6, 0.5, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := grain.SampleNeeded(n, 1.6, 1.5e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f grains: %.1f g of PLA on %.0f cm²\n", s.Grains, s.Volume*1240*1e3, s.Area*1e4)
	// Output: 3893 grains: 3.2 g of PLA on 284 cm²
}

// A flake 3 mm broad, cut from a wall of 1.2 mm, falls through a hole of 2.97 mm.
func ExampleHoleRectangular() {
	d, err := grain.HoleRectangular(3e-3, 1.2e-3)
	fmt.Printf("%.2f mm %v\n", d*1e3, err)
	// Output: 2.97 mm <nil>
}
