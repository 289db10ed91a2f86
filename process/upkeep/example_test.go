package upkeep_test

import (
	"fmt"

	"hopperful/process/upkeep"
)

// Three blades that had to be sharpened, and one still in use.
func ExampleFitWeibull() {
	w, err := upkeep.FitWeibull(upkeep.Lives{Failed: []float64{14, 22, 27}, Running: []float64{18}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("shape %.1f, 63 %% are blunt after %.0f kg\n", w.Shape, w.Scale)
	// Output: shape 5.2, 63 % are blunt after 24 kg
}
