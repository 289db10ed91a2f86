package polymer_test

import (
	"errors"
	"fmt"

	"hopperful/polymer"
)

func ExampleFind() {
	p, err := polymer.Find("nylon 12")
	fmt.Println(p.Name, err)
	_, err = polymer.Find("PETX")
	var unknown *polymer.UnknownError
	if errors.As(err, &unknown) {
		fmt.Println(err, unknown.Near)
	}
	// Output:
	// PA12 <nil>
	// unknown material "PETX" [PETG PET PE-HD]
}

func ExamplePolymer_All() {
	pla, err := polymer.Find("PLA")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range pla.All(polymer.DryingTemperature) {
		fmt.Printf("%.1f °C, %s (%s)\n", v.Value-273.15, v.Grade, v.Mark)
	}
	// Output:
	// 47.5 °C, amorphous (common practice)
	// 85.0 °C, crystallised (published)
}

func ExampleTable_With() {
	mine, err := polymer.Own("PLA", polymer.Density, 1237, 1230, 1244, polymer.MeasuredHere, "23 °C, ten chips")
	if err != nil {
		fmt.Println(err)
		return
	}
	table, err := polymer.Books().With([]polymer.Value{mine})
	if err != nil {
		fmt.Println(err)
		return
	}
	pla, err := table.Find("PLA")
	if err != nil {
		fmt.Println(err)
		return
	}
	v, err := pla.Value(polymer.Density)
	fmt.Println(v.Value, v.Mark, err)
	// Output: 1237 measured here <nil>
}
