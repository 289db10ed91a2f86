package melt

import "testing"

// BenchmarkNozzleDrop is what every draw of a fitness check pays.
func BenchmarkNozzleDrop(b *testing.B) {
	c, err := NewCross(CrossSet{5441, 1e5, 0.25})
	if err != nil {
		b.Fatal(err)
	}
	z := Nozzle{Bore: 1e-3, Land: 2e-3, Entry: 6e-3, Taper: 4e-3, Losses: UsualLosses}
	for b.Loop() {
		if _, err := NozzleDrop(c, z, 1e-8); err != nil {
			b.Fatal(err)
		}
	}
}
