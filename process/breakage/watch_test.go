package breakage

import (
	"math"
	"testing"
)

// What is seen between two steps is what a run with a thousandth of the error has there, to
// the tolerance, and neither masses nor energy turn back.
func TestWhatIsSeenBetweenStepsIsThere(t *testing.T) {
	const looks = 57
	for _, tolerance := range []float64{5e-3, 1e-3, 1e-4} {
		for _, duration := range []float64{3, 40, 180, 2400} {
			course := func(classes bool) *Course {
				c := &Course{Time: make([]float64, looks), Held: make([]float64, looks), Passed: make([]float64, looks), Power: make([]float64, looks), Energy: make([]float64, looks)}
				for k := range looks {
					c.Time[k] = duration * float64(k) / (looks - 1)
				}
				if classes {
					c.HeldClasses = make([][]float64, looks)
				}
				return c
			}
			run := func(tolerance float64, c *Course) {
				m, g := benchMill(t, tolerance)
				for k := range c.HeldClasses {
					c.HeldClasses[k] = make([]float64, g.Classes())
				}
				charge := NewCharge(g)
				if err := m.Fill(charge, 0.1, 0.06, 0.03, 0.002); err != nil {
					t.Fatal(err)
				}
				if err := m.Run(charge, duration, c); err != nil {
					t.Fatal(err)
				}
			}
			seen, there := course(false), course(true)
			run(tolerance, seen)
			run(tolerance/1000, there)
			for k := range looks {
				if off := math.Abs(seen.Held[k] - there.Held[k]); off > 0.1*tolerance {
					t.Errorf("tolerance %g, %g s: %.6g kg held after %g s, wanted %.6g", tolerance, duration, seen.Held[k], seen.Time[k], there.Held[k])
				}
				if math.Abs(seen.Held[k]+seen.Passed[k]-0.1) > 1e-12 {
					t.Errorf("tolerance %g, %g s: 100 g came to %.15g kg after %g s", tolerance, duration, seen.Held[k]+seen.Passed[k], seen.Time[k])
				}
				if off := math.Abs(seen.Energy[k] - there.Energy[k]); off > tolerance*there.Energy[looks-1] {
					t.Errorf("tolerance %g, %g s: %.6g J after %g s, wanted %.6g", tolerance, duration, seen.Energy[k], seen.Time[k], there.Energy[k])
				}
				if k > 0 && (seen.Held[k] > seen.Held[k-1] || seen.Energy[k] < seen.Energy[k-1]) {
					t.Errorf("tolerance %g, %g s: turns back after %g s", tolerance, duration, seen.Time[k])
				}
			}
		}
	}
}
