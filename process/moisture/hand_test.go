package moisture

// Formulas with their numbers written out, and both sides of what divides them.

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hopperful/process"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if got != want && !(math.Abs(got-want) <= within*math.Abs(want)) {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

func plastic() Plastic {
	return Plastic{Density: 1250, Saturated: 0.006, Room: 0.0025, Diffusivity: 3e-12, Reference: 296.15, Energy: 45e3, Softening: 340, Heat: 1500, Comes: 293.15}
}

// What plastic takes up: at half saturation and at saturation what is said, between by k h/(1 − b h); and back.
func TestSorptionByHand(t *testing.T) {
	t.Parallel()
	for _, s := range []Sorption{{Saturated: 0.008}, {Room: 0.003, Saturated: 0.008}, {Room: 0.004, Saturated: 0.008}, {Room: 0.006, Saturated: 0.008}} {
		half := s.Room
		if half == 0 {
			half = 0.004
		}
		r := 0.008 / half
		b := (r - 2) / (r - 1)
		for _, rh := range []float64{0, 0.2, 0.5, 0.8, 1} {
			got, err := EquilibriumWater(s, rh)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "water", got, 0.008*(1-b)*rh/(1-b*rh), 1e-12)
			back, err := HumidityAtRest(s, got)
			near(t, "humidity", back, rh, 1e-9)
			if err != nil {
				t.Fatal(err)
			}
		}
		if got := s.at(0.5); math.Abs(got-half) > 1e-15 {
			t.Errorf("at half saturation %g, wanted %g", got, half)
		}
	}
	for room, ok := range map[float64]bool{0.8e-4: true, 0.79e-4: false, 0.00792: true, 0.00793: false} {
		if _, err := EquilibriumWater(Sorption{Room: room, Saturated: 0.008}, 0.5); (err == nil) != ok {
			t.Errorf("%g at half saturation: %v", room, err)
		}
	}
	if h, err := HumidityAtRest(Sorption{Saturated: 0.008}, 0.0081); err != nil || h != 1 {
		t.Errorf("wetter than saturated: %g %v", h, err)
	}
}

// A bed by its formulas: pores to the power 1.5, what grains hold beside the air, time by depth squared; what air carries; warming up.
func TestBedsByHand(t *testing.T) {
	t.Parallel()
	p, b := plastic(), Bed{Mass: 2, Depth: 0.03, Density: 700}
	const temperature = 323.15
	full := saturation(temperature) * 0.01801528 / (8.314462618 * temperature)
	r := p.Saturated / p.Room
	k := p.Saturated * (1 - (r-2)/(r-1))
	void := 1 - 700.0/1250
	want := math.Pow(void, 1.5) * 2.178e-5 * math.Pow(temperature/273.15, 1.81) / (void + 700*k/full)
	d, err := BedDiffusivity(p, 700, temperature)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "diffusivity of the bed", d, want, 1e-9)
	f, err := FourierFor(Plate, math.Inf(1), 0.8)
	if err != nil {
		t.Fatal(err)
	}
	// Crank's series for a plate: 1 − 8/π² Σ exp(−(2n+1)²π²F/4)/(2n+1)².
	left := 0.0
	for n := range 40 {
		odd := float64(2*n + 1)
		left += 8 / (math.Pi * math.Pi * odd * odd) * math.Exp(-odd*odd*math.Pi*math.Pi*f/4)
	}
	near(t, "lost", 1-left, 0.8, 1e-9)
	time, err := BedTime(p, b, temperature, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "time of the bed", time, f*9e-4/want, 1e-9)
	air := Dryer{Temperature: temperature, Vapour: 500, Flow: 0.002}
	carry, err := CarryTime(p, b, air, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "time of the air", carry, 2*k/(0.002*full)*math.Log(5), 1e-9)
	lag, err := WarmLag(p, air, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "lag in air", lag, 2*1500/(0.002*101325*0.0290/(8.314462618*temperature)*1005), 1e-9)
	still := Dryer{Temperature: temperature, Vapour: 500}
	lag, err = WarmLag(p, still, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "lag on a tray", lag, 9e-4*700*1500/0.3+700*1500*0.03/10, 1e-9)
	loss, err := WarmingLoss(p, still, b)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	const n = 4000
	for i := range n { // eight lags, finely
		at := temperature - 30*math.Exp(-8*(float64(i)+0.5)/n)
		sum += (1 - math.Exp(45e3/8.314462618*(1/temperature-1/at))) * 8 / n
	}
	near(t, "loss to warming", loss, lag*sum, 3e-3)
	for comes, want := range map[float64]bool{322.15: true, 323.15: false, 330: false} {
		q := p
		q.Comes = comes
		if loss, err := WarmingLoss(q, still, b); err != nil || (loss > 0) != want {
			t.Errorf("from %g K: %g s (%v)", comes, loss, err)
		}
	}
	diffusivity, err := DiffusivityAt(p, temperature)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "diffusivity", diffusivity, 3e-12*math.Exp(45e3/8.314462618*(1/296.15-1/temperature)), 1e-12)
}

// A loss of 50 g to 49.7 g, read to a tenth of a gram: 0.6 %, and from 0.4 to 0.8 by rounding.
func TestWeighedLossByHand(t *testing.T) {
	t.Parallel()
	l, err := LossOnDrying(Weighing{Before: 0.05, After: 0.0497, Resolution: 1e-4})
	if err != nil || !l.Seen {
		t.Fatal(l, err)
	}
	for what, x := range map[string][2]float64{"wet": {l.Wet, 0.3 / 50}, "dry": {l.Dry, 0.3 / 49.7}, "low": {l.Low, 1 - 49.75/49.95}, "high": {l.High, 1 - 49.65/50.05}, "detectable": {l.Detectable, 0.002}} {
		near(t, what, x[0], x[1], 1e-9)
	}
	for after, seen := range map[float64]bool{0.0499: false, 0.04989: true, 0.0501: false, 0.05011: true} {
		if l, err := LossOnDrying(Weighing{Before: 0.05, After: after, Resolution: 1e-4}); err != nil || l.Seen != seen {
			t.Errorf("50 g to %g kg: %+v (%v)", after, l, err)
		}
	}
	for what, c := range map[string]struct {
		w  Weighing
		ok bool
	}{"ten digits": {Weighing{1e-3, 1e-3, 1e-4}, true}, "nine": {Weighing{1e-3, 0.9e-3, 1e-4}, false}, "most": {Weighing{1e3, 1e3, 1e-4}, true}, "more": {Weighing{1001, 1e3, 1e-4}, false},
		"finest": {Weighing{1, 1, 1e-9}, true}, "finer": {Weighing{1, 1, 0.9e-9}, false}, "coarsest": {Weighing{20, 20, 1}, true}, "coarser": {Weighing{20, 20, 1.1}, false}} {
		if _, err := LossOnDrying(c.w); (err == nil) != c.ok {
			t.Errorf("%s: %v", what, err)
		}
	}
	m, err := SampleFor(1e-4, 0.0005)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sample", m, 0.6, 1e-12)
	if !l.CanSee(0.00201) || l.CanSee(0.002) {
		t.Error("what can be seen")
	}
}

// The parts of the short forms on both sides of where they change: e^(z²) erfc z by a continued fraction, its tail by its series.
func TestShortFormsByHand(t *testing.T) {
	t.Parallel()
	for _, z := range []float64{5, 12, 19.9, 20.1, 40} {
		tail := z // z + (1/2)/(z + 1/(z + (3/2)/(z + …)))
		for k := 200; k > 0; k-- {
			tail = z + float64(k)/2/tail
		}
		near(t, "scaled", scaledErfc(z), 1/(tail*math.Sqrt(math.Pi)), 1e-9)
	}
	for _, n := range []int{2, 3} {
		for _, z := range []float64{-1.2, -0.51, -0.49, 0, 0.3, 0.49, 0.51, 1.2} {
			sum := 0.0
			for k := n; k < 90; k++ {
				sum += math.Pow(-z, float64(k-n)) / math.Gamma(1+float64(k)/2)
			}
			near(t, "tail", tail(z, n), sum, 1e-9)
		}
	}
	// Rates spread: the weights are of one whole, the spread of their logarithms is what was asked, its fourth moment three times its square.
	g, err := Uneven(Grains{Shape: Sphere, Size: []float64{2e-3}, Share: []float64{1}}, 0.6)
	if err != nil || len(g.Size) != 7 {
		t.Fatal(g, err)
	}
	var m [5]float64
	for i, d := range g.Size {
		x := -2 * math.Log(d/2e-3)
		for k := range m {
			m[k] += g.Share[i] * math.Pow(x, float64(k))
		}
	}
	for k, want := range []float64{1, 0, 0.36, 0, 3 * 0.36 * 0.36} {
		if math.Abs(m[k]-want) > 1e-9 {
			t.Errorf("moment %d is %g, wanted %g", k, m[k], want)
		}
	}
	for spread, ok := range map[float64]bool{0: true, -0.01: false, 3: true, 3.01: false} {
		if _, err := Uneven(g, spread); (err == nil) != ok {
			t.Errorf("a spread of %g: %v", spread, err)
		}
	}
	near(t, "a root", between(1, 3, func(x float64) float64 { return x*x - 5 }), math.Sqrt(5), 1e-13)
	near(t, "a falling one", between(0, 3, func(x float64) float64 { return 2 - math.Exp(x) }), math.Ln2, 1e-13)
	near(t, "where it rises past", rising(0.3, 1e9, func(x float64) float64 { return x / (1 + x) }), 3.0/7, 1e-12)
}

// Up to a Fourier number of 0.02, of a wire 10⁻⁵, the form for short times is taken, beyond it the sum: each exactly, on both sides.
func TestWhichFormOfAnEarlyDrying(t *testing.T) {
	t.Parallel()
	for _, biot := range []float64{0.3, 4, 200, math.Inf(1)} {
		for shape, edge := range map[Shape]float64{Plate: 0.02, Sphere: 0.02, Cylinder: 1e-5} {
			b, err := NewBody(shape, biot)
			if err != nil {
				t.Fatal(err)
			}
			for _, share := range []float64{0.1, 0.51, 0.99, 1, 1.01, 1.9} {
				f := share * edge
				want := b.series(f)
				if share < 1 {
					want = map[Shape]func(biot, f float64) float64{Plate: shortPlate, Sphere: shortSphere, Cylinder: func(biot, f float64) float64 { return b.scale * shortCylinder(biot, f) }}[shape](biot, f)
				}
				if got := b.lost(f); got != want {
					t.Errorf("shape %v, Biot %g, at %g of the edge: %.17g, wanted %.17g", shape, biot, share, got, want)
				}
			}
		}
	}
}

// Where a rising function reaches a value; where it never does the end, and where it begins above it the start.
func TestWhereARisingFunctionGets(t *testing.T) {
	t.Parallel()
	line := func(x float64) float64 { return x }
	level := func(float64) float64 { return 0.8 }
	for _, c := range []struct {
		value, hi float64
		f         func(float64) float64
		want      float64
	}{
		{0.5, 3, line, 0.5}, {1e-9, 3, line, 1e-9}, {3, 3, line, 3}, {7, 3, line, 3}, {0, 3, line, 3 * math.Exp(-110)}, {0.3, 2, level, 2 * math.Exp(-110)}, {0.8, 2, level, 2 * math.Exp(-110)}, {0.9, 2, level, 2},
		{0.75, 100, func(x float64) float64 { return 1 - 1/(1+x) }, 3}, {2, 100, math.Sqrt, 4},
	} {
		near(t, "it gets there at", rising(c.value, c.hi, c.f), c.want, 1e-12)
	}
	for _, c := range []struct {
		lo, hi float64
		f      func(float64) float64
		want   float64
	}{{0, 2, func(x float64) float64 { return x*x*x - 2 }, math.Cbrt(2)}, {1, 2, func(x float64) float64 { return 1.25 - x }, 1.25}, {0, 3, math.Cos, math.Pi / 2}, {0, 1, func(x float64) float64 { return math.Pow(x, 9) - 1e-6 }, math.Pow(1e-6, 1.0/9)}} {
		near(t, "root", between(c.lo, c.hi, c.f), c.want, 1e-13)
	}
}

// Roots lie one in each interval, in order, and solve their equation; the farther ones of a wire too.
func TestRootsLieWhereTheyMay(t *testing.T) {
	t.Parallel()
	zeros := besselZeros()
	for _, biot := range []float64{1e-3, 0.3, 1, 4, 1e3} {
		for shape, f := range map[Shape]func(b float64) float64{
			Plate:    func(b float64) float64 { return b*math.Sin(b) - biot*math.Cos(b) },
			Cylinder: func(b float64) float64 { return b*math.J1(b) - biot*math.J0(b) },
			Sphere:   func(b float64) float64 { return b*math.Cos(b) + (biot-1)*math.Sin(b) },
		} {
			for n := 1; n <= 60; n++ {
				lo, hi := float64(n-1)*math.Pi, float64(n)*math.Pi
				switch shape {
				case Plate:
					hi = (float64(n) - 0.5) * math.Pi
				case Cylinder:
					if lo, hi = 0, zeros.j0[n-1]; n > 1 {
						lo = zeros.j1[n-2]
					}
				}
				if r := root(shape, biot, n); !(r > lo && r < hi) || math.Abs(f(r)) > 1e-10*(1+biot)*(1+r) {
					t.Errorf("shape %v, Biot %g: root %d is %.12g, between %g and %g, and leaves %g", shape, biot, n, r, lo, hi, f(r))
				}
			}
		}
	}
	for i := range 60 { // zeros of J0 and J1 take turns
		if math.Abs(math.J0(zeros.j0[i])) > 1e-14 || math.Abs(math.J1(zeros.j1[i])) > 1e-14 || zeros.j1[i] < zeros.j0[i] || i > 0 && zeros.j0[i] < zeros.j1[i-1] {
			t.Errorf("zeros %d are %.15g and %.15g", i+1, zeros.j0[i], zeros.j1[i])
		}
	}
	// Water quicker than 10⁻⁶ m²/s, or slower than 10⁻²⁰, is refused.
	for d, ok := range map[float64]bool{0.99e-6: true, 1.01e-6: false, 1.01e-20: true, 0.99e-20: false} {
		p := plastic()
		at := 450.0
		if d < 1e-10 {
			at = 200
		}
		p.Energy, p.Diffusivity = 60e3, d/math.Exp(60e3/8.31446261815324*(1/p.Reference-1/at))
		var out *process.RangeError
		if got, err := DiffusivityAt(p, at); (err == nil) != ok || ok && math.Abs(got/d-1) > 1e-9 || !ok && (!errors.As(err, &out) || out.Lo != 1e-20 || out.Hi != 1e-6) {
			t.Errorf("%g m²/s: %g, %v", d, got, err)
		}
	}
}

// What is said of a dryer too hot and of air too wet: in degrees Celsius and parts in a million.
func TestWhatTooHotAndTooWetSay(t *testing.T) {
	t.Parallel()
	hot := (&TooHotError{Temperature: 353.15, Softening: 333.15}).Error()
	wet := (&TooWetError{Equilibrium: 1500e-6, Limit: 250e-6}).Error()
	for _, c := range [][2]string{{hot, "at 80 °C"}, {hot, "soften at 60 °C"}, {wet, "keeps 1500 ppm"}, {wet, "limit is 250 ppm"}} {
		if !strings.Contains(c[0], c[1]) {
			t.Errorf("%q does not say %q", c[0], c[1])
		}
	}
	d := Drying{Time: 7200, Warm: 1200, Grain: 3000}
	for time, want := range map[float64]float64{0: 0, 1200: 0, 1000: 0, 4200: 1500, 7200: 3000} {
		near(t, "grains alone", d.InGrains(time), want, 1e-12)
	}
	near(t, "where warming up is all", Drying{Time: 900, Warm: 900, Grain: 5}.InGrains(300), 300, 0)
}
