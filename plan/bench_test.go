package plan_test

import (
	"testing"

	"hopperful/shop/shoptest"
)

// BenchmarkGrind is a whole plan with 400 draws; the aim is under a second on
// two cores.
func BenchmarkGrind(b *testing.B) {
	s := shoptest.Bin(b, shoptest.Scrap("PLA", "black", 2))
	for b.Loop() {
		grind(b, s, bracket(0.6, "PLA"))
	}
}
