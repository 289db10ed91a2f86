package screw

import (
	"math/rand/v2"
	"testing"

	"hopperful/process/melt"
)

// BenchmarkLargestFlows is what every draw of a fitness check pays.
func BenchmarkLargestFlows(b *testing.B) {
	c, err := melt.NewCross(melt.CrossSet{Zero: 5441, Stress: 1e5, N: 0.25})
	if err != nil {
		b.Fatal(err)
	}
	s := Screw{16e-3, 16e-3, 1.6e-3, 0.1e-3, 3e-3, 2e-3, 2e-3, 0.08, 0.14}
	z := melt.Nozzle{Bore: 1.5e-3, Land: 3e-3, Entry: 6e-3, Taper: 4e-3}
	l := Line{Head{s, z, c, c, UsualLoss}, Feed{400, 0.25}, 1120, 6.28, 2e7, Heating{Heaters: 120, Efficiency: 0.6, Heat: 3.3e5}}
	for b.Loop() {
		if _, err := LargestFlows(l); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAgedShare(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 1))
	for b.Loop() {
		if _, err := AgedShare(1 + 3*rng.Float64()); err != nil {
			b.Fatal(err)
		}
	}
}
