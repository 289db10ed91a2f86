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
