package moisture

// Laws that hold whatever the numbers, over seeded draws of plausible inputs.

import (
	"math"
	"math/rand/v2"
	"testing"
)

const draws = 150

func logBetween(r *rand.Rand, lo, hi float64) float64 {
	return lo * math.Pow(hi/lo, r.Float64())
}

// drawGrains gives up to six classes whose shares add up to 1.
func drawGrains(r *rand.Rand) Grains {
	g := Grains{Shape: Shape(r.IntN(3))}
	n := 1 + r.IntN(6)
	total := 0.0
	for range n {
		g.Size = append(g.Size, logBetween(r, 1e-4, 8e-3))
		s := 0.05 + r.Float64()
		g.Share = append(g.Share, s)
		total += s
	}
	for i := range g.Share {
		g.Share[i] /= total
	}
	return g
}

func drawPlastic(r *rand.Rand) Plastic {
	return Plastic{
		Density: 900 + 600*r.Float64(), Saturated: logBetween(r, 1e-4, 0.1), Diffusivity: logBetween(r, 1e-13, 1e-9),
		Reference: 293.15 + 60*r.Float64(), Energy: 70e3 * r.Float64(), Softening: 330 + 100*r.Float64(),
	}
}

// What is gone rises from 0 to 1; sphere before cylinder before plate; more
// resistance, less gone; and the two forms meet.
func TestLostRises(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range draws {
		biot := logBetween(r, 1e-4, 1e6)
		f := logBetween(r, 1e-7, 10)
		var at [3]float64
		for _, s := range []Shape{Plate, Cylinder, Sphere} {
			b, err := NewBody(s, biot)
			if err != nil {
				t.Fatal(err)
			}
			now, later := b.lost(f), b.lost(f*1.05)
			if !(now >= 0 && later >= now && later <= 1) {
				t.Errorf("shape %d B %g F %g: %g then %g", s, biot, f, now, later)
			}
			free, err := Lost(s, math.Inf(1), f)
			// Below 1e-5 the cylinder's short form is good to 1e-6 only.
			if err != nil || now > free+2e-6 {
				t.Errorf("shape %d B %g F %g: %g with resistance, %g without, %v", s, biot, f, now, free, err)
			}
			at[s] = now
		}
		if !(at[Plate] <= at[Cylinder] && at[Cylinder] <= at[Sphere]) {
			t.Errorf("B %g F %g: %v", biot, f, at)
		}
	}
}

func TestShortFormMeetsSeries(t *testing.T) {
	t.Parallel()
	for _, s := range []Shape{Plate, Cylinder, Sphere} {
		edge, tolerance := shortTime, 1e-12
		if s == Cylinder {
			edge = shortWire
		}
		for _, biot := range []float64{1e-3, 0.1, 0.99999, 1, 1.00001, 3, 1e3, 1e8, math.Inf(1)} {
			b, err := NewBody(s, biot)
			if err != nil {
				t.Fatal(err)
			}
			if below, above := b.lost(edge*(1-1e-13)), b.series(edge); math.Abs(below-above) > tolerance {
				t.Errorf("shape %d B %g: %g below the edge, %g above", s, biot, below, above)
			}
		}
	}
}

// Without resistance the series also knows the first terms of the short form far
// below the edge, where nothing scales it.
func TestShortFormOfTheCylinder(t *testing.T) {
	t.Parallel()
	for _, f := range []float64{1e-5, 1e-4, 1e-3} {
		got, err := Lost(Cylinder, math.Inf(1), f)
		want := shortCylinder(math.Inf(1), f)
		if err != nil || math.Abs(got-want) > f*f {
			t.Errorf("F %g: series %g, short form %g", f, got, want)
		}
	}
}

func TestFourierInvertsLost(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	for range draws {
		s, biot, lost := Shape(r.IntN(3)), logBetween(r, 1e-2, 1e6), 0.001+0.998*r.Float64()
		f, err := FourierFor(s, biot, lost)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := Lost(s, biot, f); err != nil || math.Abs(back-lost) > 1e-10 {
			t.Errorf("shape %d B %g: asked for %g, F %g gives %g, %v", s, biot, lost, f, back, err)
		}
	}
}

// A lot lies between its finest and its coarsest grain; twice the size takes four
// times as long; time and diffusivity count as their product.
func TestLotLaws(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	for range draws / 3 {
		g, d, lost := drawGrains(r), logBetween(r, 1e-13, 1e-9), 0.05+0.9*r.Float64()
		m := Motion{d, math.Inf(1)}
		time, err := LotTime(g, m, lost)
		if err != nil {
			t.Fatal(err)
		}
		big := Grains{g.Shape, make([]float64, len(g.Size)), g.Share}
		lo, hi := math.Inf(1), 0.0
		for i, x := range g.Size {
			big.Size[i] = 2 * x
			alone, err := LotTime(Grains{g.Shape, []float64{x}, []float64{1}}, m, lost)
			if err != nil {
				t.Fatal(err)
			}
			lo, hi = min(lo, alone), max(hi, alone)
		}
		if !(time >= lo*(1-1e-9) && time <= hi*(1+1e-9)) {
			t.Errorf("%+v: %g s, alone %g to %g", g, time, lo, hi)
		}
		if bigger, err := LotTime(big, m, lost); err != nil || math.Abs(bigger-4*time) > 1e-6*time {
			t.Errorf("%+v: %g s, twice as large %g s, %v", g, time, bigger, err)
		}
		if faster, err := LotTime(g, Motion{2 * d, math.Inf(1)}, lost); err != nil || math.Abs(2*faster-time) > 1e-6*time {
			t.Errorf("%+v: %g s, twice the diffusivity %g s, %v", g, time, faster, err)
		}
	}
}

// Air: the dew point of air is the temperature at which it is saturated, heating
// dries, and no humidity leaves its range.
func TestAirLaws(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 8))
	for range draws {
		temperature, rh := 253.15+60*r.Float64(), 0.01+0.99*r.Float64()
		p, err := VapourPressure(temperature, rh)
		if err != nil {
			t.Fatal(err)
		}
		dew, err := DewPoint(p)
		if err != nil || dew > temperature+1e-6 {
			t.Errorf("%g K %g: dew point %g, %v", temperature, rh, dew, err)
		}
		if back, err := SaturationPressure(dew); err != nil || math.Abs(back-p) > 1e-4*p {
			t.Errorf("%g K %g: %g Pa, at the dew point %g, %v", temperature, rh, p, back, err)
		}
		if hot, err := RelativeHumidity(temperature+30, p); err != nil || hot >= rh {
			t.Errorf("%g K %g: heated %g, %v", temperature, rh, hot, err)
		}
	}
}
