package toolpath_test

import (
	"fmt"
	"strings"

	"hopperful/process/toolpath"
)

// A straight wall of 100 mm takes 10 mm of filament at 10 mm/s.
func ExampleRead() {
	const print = `G21 ; millimetres
G28
M83
G1 F600
G1 X100 E10
`
	s, err := toolpath.Read(strings.NewReader(print), toolpath.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Taken)
	fmt.Printf("%.2f mm³ in %.0f s, at most %.2f mm³/s\n", s.Volume*1e9, s.Time, s.Peak.Flow*1e9)
	// Output:
	// usual length
	// 24.05 mm³ in 10 s, at most 2.41 mm³/s
}

// A screw that delivers 32 mm³ a turn.
func ExampleRead_revolutions() {
	s, err := toolpath.Read(strings.NewReader("G1 X100 E10 F600\n"),
		toolpath.Options{E: toolpath.ERevolution, PerRevolution: 32e-9})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.0f mm³\n", s.Taken, s.Volume*1e9)
	// Output: given turns: 320 mm³
}

// A file that is no G-code says so.
func ExampleRead_other() {
	_, err := toolpath.Read(strings.NewReader("\x89PNG\r\n"), toolpath.Options{})
	fmt.Println(err)
	// Output: this is not G-code: PNG picture
}
