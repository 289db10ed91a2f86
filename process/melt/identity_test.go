package melt

// Laws that hold for every melt and nozzle, on seeded plausible draws.

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process"
)

// plausible draws a melt, a nozzle and a flow from wide but sensible ranges;
// every third melt is a power law.
func plausible(t *testing.T, rng *rand.Rand) (Curve, Nozzle, float64) {
	t.Helper()
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	scale := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rng.Float64()) }
	c, err := NewCross(CrossSet{scale(50, 1e5), scale(1e4, 3e5), between(0.15, 0.9)})
	if rng.IntN(3) == 0 {
		c, err = NewPower(scale(100, 2e4), between(0.25, 1))
	}
	if err != nil {
		t.Fatal(err)
	}
	bore := scale(0.3e-3, 3e-3)
	low := between(0, 2)
	z := Nozzle{bore, bore * between(0, 5), bore * between(1, 8), bore * between(0.1, 10), Span{low, low + between(0, 8)}}
	return c, z, scale(1e-10, 2e-8)
}

func TestNozzleLaws(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 2))
	for range 100 {
		c, z, flow := plausible(t, rng)
		d, err := NozzleDrop(c, z, flow)
		if err != nil {
			t.Fatalf("%+v %+v at %g: %v", c, z, flow, err)
		}
		if !(d.Cone > 0) || d.Land < 0 || !(d.Total.High >= d.Total.Low) || math.IsInf(d.Total.High, 0) {
			t.Fatalf("%+v %+v at %g: %+v", c, z, flow, d)
		}
		if n := c.n; d.WallRate < d.Apparent*(1-1e-9)*min(1, (3*n+1)/(4*n)) || d.WallRate > d.Apparent*(1+1e-9)*max(1, (3*n+1)/(4*n)) {
			t.Errorf("%+v: wall rate %g at apparent %g", c, d.WallRate, d.Apparent)
		}
		more, err := NozzleDrop(c, z, 1.1*flow)
		if err != nil || more.Total.Low <= d.Total.Low {
			t.Errorf("%+v: more flow %g Pa, %g Pa, %v", z, d.Total.Low, more.Total.Low, err)
		}
	}
}

// A lot that is thinner by f flows f times as fast at the same pressure, in any
// nozzle: that is what makes one melt flow rate scale the whole curve.
func TestThinnedFlowsInProportion(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 8))
	for range 100 {
		c, z, flow := plausible(t, rng)
		d, err := NozzleDrop(c, z, flow)
		if err != nil {
			t.Fatal(err)
		}
		f := math.Exp(4*rng.Float64() - 2)
		thin, err := c.Thinned(f)
		if err != nil {
			t.Fatal(err)
		}
		same, err := NozzleDrop(thin, z, f*flow)
		if err != nil || math.Abs(same.Total.High/d.Total.High-1) > 1e-8 {
			t.Errorf("%+v thinned by %g: %g Pa, wanted %g: %v", c, f, same.Total.High, d.Total.High, err)
		}
	}
}

func TestCurveInvertsAndThins(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 5))
	for range 300 {
		c, _, _ := plausible(t, rng)
		rate := math.Exp(14*rng.Float64() - 4)
		stress, err := c.Stress(rate)
		if err != nil {
			t.Fatal(err)
		}
		back, err := c.Rate(stress)
		if err != nil || math.Abs(back/rate-1) > 1e-11 {
			t.Errorf("%+v: rate %g, stress %g, back %g, %v", c, rate, stress, back, err)
		}
		apparent, err := c.Apparent(rate)
		if err != nil {
			t.Fatal(err)
		}
		if back, err = c.WallRate(apparent); err != nil || math.Abs(back/rate-1) > 1e-9 {
			t.Errorf("%+v: wall rate %g, apparent %g, back %g, %v", c, rate, apparent, back, err)
		}
		// The curve and the law it is made of say the same.
		if law := lawOf(c, rate); math.Abs(law*rate/stress-1) > 1e-12 {
			t.Errorf("%+v: the law gives %g, the curve %g", c, law*rate, stress)
		}
	}
}

func TestCrossLimits(t *testing.T) {
	t.Parallel()
	c, err := NewCross(CrossSet{5441, 1e5, 0.25})
	if err != nil {
		t.Fatal(err)
	}
	if eta, err := c.Viscosity(leastRate); err != nil || math.Abs(eta/5441-1) > 1e-4 {
		t.Errorf("at rest %g, %v", eta, err)
	}
	if n, err := c.Exponent(mostRate); err != nil || math.Abs(n-0.25) > 1e-4 {
		t.Errorf("far above the exponent is %g, %v", n, err)
	}
	fast, err := NewPower(math.Pow(5441, 0.25)*math.Pow(1e5, 0.75), 0.25)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := c.Stress(1e7)
	b, _ := fast.Stress(1e7)
	if math.Abs(a/b-1) > 1e-3 {
		t.Errorf("stress far above %g, its power law %g", a, b)
	}
}

// Hotter is thinner, for every law and inside its window.
func TestHotterIsThinner(t *testing.T) {
	t.Parallel()
	cross := CrossWLF{0.25, 1.00861e5, 3.31719e9, 373.15, 20.194, 51.6}
	power := PowerLaw{7500, 0.38, 250, 473.15}
	last := [2]float64{math.Inf(1), math.Inf(1)}
	for temperature := 440.0; temperature <= 510; temperature += 5 {
		for k, at := range []func(float64, Window) (Curve, error){cross.At, power.At} {
			c, err := at(temperature, window)
			if err != nil {
				t.Fatal(err)
			}
			eta, err := c.Viscosity(100)
			if err != nil || eta >= last[k] {
				t.Errorf("law %d at %g K: %g after %g, %v", k, temperature, eta, last[k], err)
			}
			last[k] = eta
		}
	}
}

func TestRefusesOutsideTheWindow(t *testing.T) {
	t.Parallel()
	law := CrossWLF{0.25, 1.00861e5, 3.31719e9, 373.15, 20.194, 51.6}
	_, err := law.At(530, window)
	var hot *TooHotError
	var outside *process.RangeError
	if !errors.As(err, &hot) || hot.Ceiling != window.Ceiling || !errors.As(err, &outside) || outside.Hi != window.Ceiling {
		t.Errorf("too hot: %v", err)
	}
	if got := err.Error(); got != "melt temperature 257 °C is above 240 °C, where this polymer breaks down and gives off fumes: set it lower" {
		t.Errorf("it says %q", got)
	}
	for name, at := range map[string]func() (Curve, error){
		"not molten":      func() (Curve, error) { return law.At(420, window) },
		"no number":       func() (Curve, error) { return law.At(math.NaN(), window) },
		"infinite":        func() (Curve, error) { return law.At(math.Inf(1), window) },
		"window upside":   func() (Curve, error) { return law.At(480, Window{500, 400}) },
		"power too hot":   func() (Curve, error) { return PowerLaw{7500, 0.38, 250, 473.15}.At(600, window) },
		"power bad fold":  func() (Curve, error) { return PowerLaw{7500, 0.38, 0, 473.15}.At(480, window) },
		"thinned nothing": func() (Curve, error) { m, err := law.Thinned(0); return Curve{}, errors.Join(err, check(m)) },
	} {
		if _, err := at(); !errors.As(err, &outside) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := (Curve{}).Viscosity(1); !errors.As(err, &outside) {
		t.Errorf("an empty curve answers: %v", err)
	}
}

// check says whether a law is untouched by a refused thinning.
func check(m CrossWLF) error {
	if m.D1 != 3.31719e9 {
		return errors.New("the law changed")
	}
	return nil
}

// A law thinned with temperature and its curve thinned agree.
func TestThinnedLaws(t *testing.T) {
	t.Parallel()
	cross := CrossWLF{0.25, 1.00861e5, 3.31719e9, 373.15, 20.194, 51.6}
	power := PowerLaw{7500, 0.38, 250, 473.15}
	thinCross, err1 := cross.Thinned(3)
	thinPower, err2 := power.Thinned(3)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	for _, pair := range [][2]func(float64, Window) (Curve, error){{cross.At, thinCross.At}, {power.At, thinPower.At}} {
		book, err1 := pair[0](480, window)
		lot, err2 := pair[1](480, window)
		thin, err3 := book.Thinned(3)
		if err := errors.Join(err1, err2, err3); err != nil {
			t.Fatal(err)
		}
		a, _ := lot.Stress(50)
		b, _ := thin.Stress(50)
		if math.Abs(a/b-1) > 1e-12 {
			t.Errorf("law %g, curve %g", a, b)
		}
	}
}

func TestSwellGrowsWithStress(t *testing.T) {
	t.Parallel()
	last := Span{}
	for stress := 0.0; stress <= 5e5; stress += 1e4 {
		s, err := Swell(stress)
		if err != nil || s.Low > s.High || s.High < last.High || s.Low < 1 {
			t.Errorf("at %g Pa: %+v after %+v, %v", stress, s, last, err)
		}
		last = s
	}
}

// lawOf is the viscosity at a rate by the law a curve is made of.
func lawOf(c Curve, rate float64) float64 {
	if c.stress == 0 {
		return c.zero * math.Pow(rate, c.n-1)
	}
	return c.zero / (1 + math.Pow(c.zero*rate/c.stress, 1-c.n))
}
