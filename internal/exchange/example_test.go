package exchange_test

import (
	"fmt"
	"os"
	"strings"

	"hopperful/internal/exchange"
	"hopperful/process/sieve"
)

// A stack as a spreadsheet with a decimal comma saves it.
func ExampleReadStack() {
	text := "opening (mm);retained (g)\n2,8;0\n1,4;52,3\n0,5;40,2\npan;7,1\ncharge;99,8\n"
	s, err := exchange.ReadStack("stack.csv", strings.NewReader(text), int64(len(text)), exchange.Reading{})
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := sieve.Weigh(s.Stack)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d sieves, %.1f g found of %.1f g\n", len(s.Sieves), a.Recovered*1e3, a.Charge*1e3)
	// Output:
	// 3 sieves, 99.6 g found of 99.8 g
}

// A table to fill in, for sieves of one's own.
func ExampleWriteTemplate() {
	sieves, err := exchange.SievesNamed("4mm 2mm 1mm")
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := exchange.WriteTemplate(os.Stdout, "en", sieves, true, exchange.CSV); err != nil {
		fmt.Println(err)
	}
	// Output:
	// # What each sieve kept back, coarsest first, 0 for an empty one; take out the lines of sieves that were not in the stack.
	// lot,
	// screen hole (mm),
	// charge (g),
	// sieve,opening (mm),full (g),empty (g)
	// 4.00 mm,4,,
	// 2.00 mm,2,,
	// 1.00 mm,1,,
	// pan,,,
}
