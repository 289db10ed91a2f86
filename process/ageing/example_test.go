package ageing_test

import (
	"fmt"

	"hopperful/process/ageing"
)

// A shop prints with 40 % regrind, batch after batch.
func Example() {
	for _, batch := range []int{1, 2, 3, 10} {
		age, err := ageing.Loop(0.4, batch, 0)
		if err != nil {
			fmt.Println(err)
			return
		}
		mean, err := age.Mean()
		if err != nil {
			fmt.Println(err)
			return
		}
		old, err := age.Beyond(3)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("batch %d: %.2f passes on average, %.1f %% beyond three\n", batch, mean, 100*old)
	}
	// Output:
	// batch 1: 1.00 passes on average, 0.0 % beyond three
	// batch 2: 1.40 passes on average, 0.0 % beyond three
	// batch 3: 1.56 passes on average, 0.0 % beyond three
	// batch 10: 1.67 passes on average, 6.4 % beyond three
}

// How much regrind keeps the melt flow of PLA below one and a half times that
// of a new print, as far as the studies tell, and after a measurement?
func ExampleLearn() {
	prior, _, err := ageing.PerPass("PLA", ageing.MeltFlow)
	if err != nil {
		fmt.Println(err)
		return
	}
	learnt, err := ageing.Learn(prior, 2, 1.20, 0.05) // 20 % up over two passes, measured to 5 %
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range []ageing.Factor{prior, learnt} {
		share, err := ageing.ShareForFlow(f.High, 1.5)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("a pass multiplies by %.2f (%.2f to %.2f): at most %.0f %% regrind\n", f.Median, f.Low, f.High, 100*share)
	}
	// Output:
	// a pass multiplies by 1.15 (1.00 to 1.50): at most 50 % regrind
	// a pass multiplies by 1.10 (1.06 to 1.13): at most 77 % regrind
}
