package plan_test

import (
	"testing"

	"hopperful/plan"
)

// BenchmarkLearn is everything the page of a mill with 200 runs shows; the aim
// is under two seconds on two cores.
func BenchmarkLearn(b *testing.B) {
	s := workshop(b, 200)
	for b.Loop() {
		if _, err := plan.Learn(s, "Kettle"); err != nil {
			b.Fatal(err)
		}
	}
}
