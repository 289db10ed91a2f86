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

// A screen colour as L*a*b*, step by step, and the two laws about the surface and
// the body of plastic there and back.
func ExampleScreenLab() {
	orange, err := colour.ParseHex("#e07b39")
	if err != nil {
		fmt.Println(err)
		return
	}
	at, err := colour.ScreenLab(orange)
	if err != nil {
		fmt.Println(err)
		return
	}
	light, _ := colour.ScreenXYZ(orange)
	again, _ := colour.ToLab(light, colour.ScreenWhite())
	red, _ := colour.Linear(orange.R)
	fmt.Printf("L* %.1f a* %.1f b* %.1f, again %.1f; red light %.3f\n", at.L, at.A, at.B, again.L, red)
	inside, _ := colour.Below(0.3, colour.PhotoSurface())
	ratio, _ := colour.Ratio(inside)
	back, _ := colour.Reflectance(ratio)
	outside, _ := colour.Above(back, colour.PhotoSurface())
	fmt.Printf("0.3 outside is %.3f inside, K/S %.3f, and back %.3f\n", inside, ratio, outside)
	// Output:
	// L* 61.9 a* 34.3 b* 51.7, again 61.9; red light 0.745
	// 0.3 outside is 0.532 inside, K/S 0.206, and back 0.300
}
