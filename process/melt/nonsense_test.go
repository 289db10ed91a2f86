package melt

// Nonsense in: an error or a finite number out, never a panic or a NaN.

import (
	"math"
	"math/rand/v2"
	"testing"
)

var nonsense = []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e-300, 1e300, 1e-12, 1e-6, 1e-4, 1e-3, 2e-3, 0.01, 0.1, 0.25, 0.5, 1, 1.2, 8, 50, 300, 480, 1e3, 1e5, 1e7, 1e9}

func TestNonsenseIsRefused(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(12, 21))
	v := func() float64 { return nonsense[rng.IntN(len(nonsense))] }
	good := func(name string, err error, values ...float64) {
		for _, x := range values {
			if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Errorf("%s gives %v without an error", name, values)
			}
		}
	}
	for range 2000 {
		c, err := NewCross(CrossSet{v(), v(), v()})
		if rng.IntN(2) == 0 {
			c, err = NewPower(v(), v())
		}
		if rng.IntN(2) == 0 {
			c, err = NewCross(CrossSet{5441, 1e5, 0.25})
		}
		if err != nil {
			continue
		}
		x := v()
		y, err := c.Rate(x)
		good("Rate", err, y)
		y, err = c.WallRate(x)
		good("WallRate", err, y)
		y, err = c.Apparent(x)
		good("Apparent", err, y)
		y, err = c.Viscosity(x)
		good("Viscosity", err, y)
		y, err = ConeDrop(c, Cone{v(), v(), v(), v()})
		good("ConeDrop", err, y)
		z := Nozzle{v(), v(), v(), v(), Span{v(), v()}}
		if rng.IntN(2) == 0 {
			z = Nozzle{1e-3, 2e-3, 6e-3, 4e-3, UsualLosses}
		}
		d, err := NozzleDrop(c, z, v())
		good("NozzleDrop", err, d.Total.Low, d.Total.High, d.WallStress)
		y, err = ModelMFR(c, Plastometer{v(), v(), v()})
		good("ModelMFR", err, y)
	}
	for range 2000 {
		temperature, w := v(), Window{v(), v()}
		if c, err := (CrossWLF{v(), v(), v(), v(), v(), v()}).At(temperature, w); err == nil {
			y, err := c.Viscosity(100)
			good("CrossWLF", err, y)
		}
		if c, err := (PowerLaw{v(), v(), v(), v()}).At(temperature, w); err == nil {
			y, err := c.Viscosity(100)
			good("PowerLaw", err, y)
		}
		m, err := Average([]float64{v(), v(), v()})
		good("Average", err, m.Value, m.Scatter, m.Range.Low, m.Range.High)
		s, err := Swell(v())
		good("Swell", err, s.Low, s.High)
		r, err := TimedCuts([]Cut{{v(), v()}, {v(), v()}}, v())
		good("TimedCuts", err, r.Value, r.Range.High, r.StepFrom.Low)
	}
}
