package mesh_test

import (
	"bytes"
	"fmt"
	"os"

	"hopperful/process/mesh"
)

// A box of 10 × 20 × 30 mm from a binary STL whose first word is "solid".
func ExampleReadSTL() {
	data, err := os.ReadFile("testdata/box.stl")
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := mesh.ReadSTL(bytes.NewReader(data), mesh.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f cm³, %.0f cm², closed: %t\n", s.Volume*1e6, s.Area*1e4, s.Closed)
	fmt.Println(s.Warnings[0].Caution)
	// Output:
	// 6.0 cm³, 22 cm², closed: true
	// unit assumed
}

// Two brackets of one object, the second twice as wide.
func ExampleRead3MF() {
	data, err := os.ReadFile("testdata/pair.3mf")
	if err != nil {
		fmt.Println(err)
		return
	}
	b, err := mesh.Read3MF(bytes.NewReader(data), int64(len(data)), mesh.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f cm³ in %d shells\n", b.Volume*1e6, b.Shells)
	// Output:
	// 18.0 cm³ in 2 shells
}

// A cube of 4 cm in PLA with walls of 1.2 mm and 15 % infill: how much plastic?
func ExamplePlastic() {
	m, err := mesh.Plastic(mesh.Part{Volume: 64e-6, Area: 96e-4, Wall: 1.2e-3, Infill: 0.15, Density: 1240})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f g (%.1f to %.1f g), solid %.1f g\n", m.Value*1e3, m.Low*1e3, m.High*1e3, m.Solid*1e3)
	// Output:
	// 23.5 g (23.3 to 24.0 g), solid 79.4 g
}
