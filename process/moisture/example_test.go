package moisture_test

import (
	"errors"
	"fmt"
	"math"

	"hopperful/process/moisture"
)

// A kilogram of damp PLA regrind is to be below 250 ppm. An oven in a normal
// room cannot do it at a temperature the grains stand; dry air can.
func Example() {
	pla := moisture.Plastic{Density: 1240, Saturated: 0.008, Diffusivity: 4.5e-11, Reference: 323.15, Energy: 40e3, Softening: 331.15}
	grains := moisture.Grains{Shape: moisture.Sphere, Size: []float64{0.001, 0.002, 0.003}, Share: []float64{0.3, 0.5, 0.2}}
	bed := moisture.Bed{Mass: 1, Depth: 0.02, Density: 550}
	need := moisture.Need{Now: 0.003, Limit: 250e-6}

	room, _ := moisture.VapourPressure(293.15, 0.5)
	oven, _ := moisture.NewOven(323.15, room)
	_, err := moisture.DryingTime(pla, grains, oven, bed, need)
	var wet *moisture.TooWetError
	fmt.Println(errors.As(err, &wet), err)

	dry, _ := moisture.NewDryAir(323.15, 233.15, 20.0/60000)
	d, err := moisture.DryingTime(pla, grains, dry, bed, need)
	fmt.Printf("dry air: %.1f h, of it %.1f h for the grains, %v\n", d.Time/3600, d.Grain/3600, err)

	open, _ := moisture.NewRoom(293.15, 0.5)
	o, err := moisture.OpenTime(pla, grains, open, moisture.Need{Now: 100e-6, Limit: 250e-6})
	fmt.Printf("in the open: %s after %.0f s, %v\n", o.Standing, o.Time, err)
	// Output:
	// true in this air the plastic keeps 758 ppm of water, the limit is 250 ppm; use drier air or a higher temperature
	// dry air: 1.6 h, of it 1.4 h for the grains, <nil>
	// in the open: passes after 9 s, <nil>
}

// The uptake of a sphere of 0.2 mm after 100 s as a public library prints it.
func ExampleLost() {
	m, err := moisture.Lost(moisture.Sphere, math.Inf(1), 1e-11*100/(1e-4*1e-4))
	fmt.Printf("%.13f %v\n", m, err)
	// Output: 0.7704787380260 <nil>
}

// A kitchen scale and 250 ppm.
func ExampleLossOnDrying() {
	l, _ := moisture.LossOnDrying(moisture.Weighing{Before: 0.500, After: 0.499, Resolution: 0.001})
	need, _ := moisture.SampleFor(0.001, 250e-6)
	fmt.Printf("loss %.1f %%, anything from %.1f to %.1f %%; seen: %v; sees 250 ppm: %v, would need %.0f kg\n",
		100*l.Wet, 100*l.Low, 100*l.High, l.Seen, l.CanSee(250e-6), need)
	// Output: loss 0.2 %, anything from 0.0 to 0.4 %; seen: false; sees 250 ppm: false, would need 12 kg
}

// The first root behind a sphere's drying, and what a lot of three sizes has lost
// after an hour: the small grains first.
func ExampleLotLost() {
	first, err := moisture.Root(moisture.Sphere, math.Inf(1), 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	grains := moisture.Grains{Shape: moisture.Sphere, Size: []float64{0.001, 0.002, 0.003}, Share: []float64{0.3, 0.5, 0.2}}
	lost, err := moisture.LotLost(grains, moisture.Motion{Diffusivity: 4.5e-11, Transfer: math.Inf(1)}, 3600)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("root %.4f, %.0f %% lost\n", first, 100*lost)
	// Output: root 3.1416, 88 % lost
}
