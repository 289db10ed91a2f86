package metal_test

import (
	"fmt"

	"hopperful/process/metal"
)

// Worn blades, a 2 mm screen, one magnet, 200 g through a 0.8 mm nozzle.
func ExamplePrintRisk() {
	wear, _ := metal.Worn.Prior()
	m := metal.Metal{
		Wear:  wear.Median,
		Parts: []metal.Part{{Kind: metal.Ferritic, Share: 0.9}, {Kind: metal.Brass, Share: 0.1}},
		Sizes: metal.WearSpectrum, Screen: 0.002, Slip: 1, Passes: 1,
	}
	o, err := metal.PrintRisk(m, metal.Print{Mass: 0.2, Nozzle: 0.0008})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f chips a kilogram (%.1f to %.1f), the print meets one with %.0f %%\n", o.Rate, o.Low, o.High, 100*o.Chance)
	fmt.Printf("%.0f %% of the metal stays in, %.0f %% no magnet catches\n", 100*o.Staying.Share, 100*o.Staying.Never)
	c, err := metal.FinerScreen(m, metal.Print{Mass: 0.2, Nozzle: 0.0008}, 0.00025)
	fmt.Printf("after a 0.25 mm screen: %.1f chips a kilogram, %v\n", c.After.Rate, err)
	// Output:
	// 1.9 chips a kilogram (1.6 to 2.9), the print meets one with 31 %
	// 13 % of the metal stays in, 10 % no magnet catches
	// after a 0.25 mm screen: 0.0 chips a kilogram, <nil>
}

// Twelve prints of 0.3 kg without a blocked nozzle, then one that blocked.
func ExampleLearn() {
	r := metal.Rate{Shape: 0.5}
	r, _ = metal.Learn(r, 1, 12*0.3+0.3)
	mean, _ := r.Mean()
	clean, err := r.Clean(0.3)
	fmt.Printf("%.2f a kilogram, the next print of 0.3 kg stays clean with %.0f %%, %v\n", mean, 100*clean, err)
	// Output: 0.38 a kilogram, the next print of 0.3 kg stays clean with 89 %, <nil>
}

// What a magnet under the chute takes out, best caught first.
func ExampleKinds() {
	for _, k := range metal.Kinds() {
		fmt.Printf("%s: %.0f %%\n", k.Name, 100*k.Catch)
	}
	// Output:
	// hardened or mild steel, iron, nickel: 97 %
	// austenitic stainless steel, cold-worked: 30 %
	// austenitic stainless steel, annealed: 2 %
	// brass, copper: 0 %
	// aluminium: 0 %
}
