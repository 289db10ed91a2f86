package plan_test

import "testing"

// BenchmarkGrind is a whole plan with 400 draws; the aim is under a second on
// two cores.
func BenchmarkGrind(b *testing.B) {
	s := bin(b, scrap("PLA", "black", 2))
	for b.Loop() {
		grind(b, s, bracket(0.6, "PLA"))
	}
}
