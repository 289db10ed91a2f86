package sieve

import "testing"

func BenchmarkWeigh(b *testing.B) {
	s := Stack{Sieves: bench(), Portions: []Portion{portion(0.125, []float64{0, 0.001, 0.02, 0.04, 0.03, 0.02, 0.01, 0.004})}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Weigh(s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFitAll(b *testing.B) {
	a, err := Weigh(Stack{Sieves: bench(), Portions: []Portion{portion(0.125, []float64{0, 0.001, 0.02, 0.04, 0.03, 0.02, 0.01, 0.004})}})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := FitAll(a.Points(), Weighting{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSound(b *testing.B) {
	base, err := NewSound(Prior{})
	if err != nil {
		b.Fatal(err)
	}
	sample := Sample{Mass: 0.05, Coarse: 0.012, Long: 0}
	b.Run("new", func(b *testing.B) {
		for b.Loop() {
			if _, err := NewSound(Prior{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("after", func(b *testing.B) {
		for b.Loop() {
			if _, err := base.After(screen2, sample); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("test", func(b *testing.B) {
		for b.Loop() {
			if _, err := base.Test(screen2, sample, 0); err != nil {
				b.Fatal(err)
			}
		}
	})
}
