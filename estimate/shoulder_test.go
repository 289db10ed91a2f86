package estimate

import (
	"math"
	"testing"
)

// Draws are drawn in to their middle, which stays, and keep their order.
func TestDrawsAreDrawnInToTheirMiddle(t *testing.T) {
	t.Parallel()
	draws := []float64{9, 1, 5, 3, 7}
	shouldered(draws, 0.8)
	for i, want := range []float64{8.2, 1.8, 5, 3.4, 6.6} { // 5 + 0.8 (v − 5)
		if math.Abs(draws[i]-want) > 1e-12 {
			t.Errorf("draw %d becomes %g, not %g", i, draws[i], want)
		}
	}
	// Student's t with four degrees of freedom: its 90 % point 1.5332 (tables of the t,
	// from memory) over its standard deviation √2, over the normal's 1.2816.
	const student = 1.5332 / math.Sqrt2 / tail
	for q, by := range append([]float64{productShoulder, sizesShoulder}, shoulder[OfEnergy], shoulder[OfCharge]) {
		if math.Abs(by-student) > 0.05 {
			t.Errorf("%d: draws are drawn in to %g, a Student's t to %.3f", q, by, student)
		}
	}
}
