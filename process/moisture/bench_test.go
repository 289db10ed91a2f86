package moisture

import (
	"math"
	"testing"
)

func BenchmarkLotTime(b *testing.B) {
	g := Grains{Sphere, []float64{0.0005, 0.001, 0.0015, 0.002, 0.003}, []float64{0.1, 0.2, 0.3, 0.25, 0.15}}
	l, err := NewLot(g, Motion{4.5e-11, math.Inf(1)})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := l.Time(0.9); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNewCylinder(b *testing.B) {
	for b.Loop() {
		if _, err := NewBody(Cylinder, 10); err != nil {
			b.Fatal(err)
		}
	}
}
