package colour_test

import (
	"fmt"
	"math/rand/v2"

	"hopperful/process/colour"
)

// One percent of black scrap in white: melted into one, and as dry granules
// seen from afar.
func Example() {
	var curves []colour.Curve
	var bodies []colour.Body
	for _, code := range []string{"#f2f2ee", "#1c1c1c"} {
		picked, err := colour.ParseHex(code)
		if err != nil {
			fmt.Println(err)
			return
		}
		curve, _, err := colour.FromPhoto(picked)
		if err != nil {
			fmt.Println(err)
			return
		}
		body, err := colour.BodyOf(curve, 1, colour.PhotoSurface())
		if err != nil {
			fmt.Println(err)
			return
		}
		curves, bodies = append(curves, curve), append(bodies, body)
	}
	shares := []float64{0.99, 0.01}
	well, err := colour.Mixed(bodies, shares, colour.PhotoSurface())
	if err != nil {
		fmt.Println(err)
		return
	}
	side, err := colour.Unmixed(curves, shares)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range []colour.Curve{well, side} {
		look, err := colour.LookOf(c)
		if err != nil {
			fmt.Println(err)
			return
		}
		code, _ := look.Screen.Hex()
		fmt.Println(code, look.Name)
	}
	most, err := colour.MostStray(bodies[0], bodies[1], 2, colour.PhotoSurface())
	fmt.Printf("at most %.2g g of black in a kilogram of white, %v\n", 1000*most, err)
	// Output:
	// #9d9d9d grey
	// #f1f1ed white
	// at most 0.11 g of black in a kilogram of white, <nil>
}

// What becomes of a bin of prints in four colours whose shares were only
// looked at?
func ExampleForecast() {
	heap := colour.Heap{Surface: colour.PhotoSurface(), Counted: 10, Draws: 400}
	shares := []float64{0.3, 0.3, 0.2, 0.2}
	for i, code := range []string{"#c0402a", "#1e5aa8", "#3a8f4a", "#f2f2ee"} {
		picked, err := colour.ParseHex(code)
		if err != nil {
			fmt.Println(err)
			return
		}
		curve, _, err := colour.FromPhoto(picked)
		if err != nil {
			fmt.Println(err)
			return
		}
		heap.Parts = append(heap.Parts, colour.Scrap{Colour: curve, Scatter: 1, Share: shares[i]})
	}
	o, err := colour.Forecast(heap, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		fmt.Println(err)
		return
	}
	code, _ := o.Mixed.Screen.Hex()
	fmt.Println(code, o.Mixed.Name)
	fmt.Printf("L* %.0f to %.0f, nine of ten within %.0f of it\n", o.Lightness.Low, o.Lightness.High, o.Spread)
	// Output:
	// #5c584d dark brown-grey
	// L* 35 to 42, nine of ten within 15 of it
}
