package metal

// Laws over seeded draws, and what is refused.

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process"
)

const draws = 400

func logBetween(r *rand.Rand, lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

func drawMetal(r *rand.Rand) Metal {
	a, b := r.Float64(), r.Float64()
	total := a + b + 0.2
	return Metal{
		Wear:   logBetween(r, 1e-7, 1e-4),
		Parts:  []Part{{Ferritic, a / total}, {ColdWorked, b / total}, {Aluminium, 0.2 / total}},
		Sizes:  Spectrum{logBetween(r, 5e-5, 1e-3), 0.2 + r.Float64()},
		Screen: logBetween(r, 5e-4, 8e-3), Slip: 1 + r.Float64(), Passes: r.IntN(4),
	}
}

// More wear, a coarser screen, a finer nozzle, a longer print: never less likely.
// One more magnet, a finer screen: never more.
func TestRiskIsMonotone(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range draws {
		m, p := drawMetal(r), Print{Mass: logBetween(r, 0.01, 10), Nozzle: logBetween(r, 2e-4, 5e-3)}
		risk := func(m Metal, p Print) Outlook {
			o, err := PrintRisk(m, p)
			if err != nil || !(o.Chance >= 0 && o.Chance <= 1) || o.Low > o.Rate || o.Rate > o.High {
				t.Fatalf("%+v %+v: %+v, %v", m, p, o, err)
			}
			return o
		}
		base := risk(m, p).Rate
		worn, coarse, clean := m, m, m
		worn.Wear *= 1.5
		coarse.Screen *= 1.5
		clean.Passes++
		if risk(worn, p).Rate < base || risk(coarse, p).Rate < base || risk(clean, p).Rate > base {
			t.Errorf("%+v: %g; worn %g, coarse %g, clean %g", m, base, risk(worn, p).Rate, risk(coarse, p).Rate, risk(clean, p).Rate)
		}
		if fine := risk(m, Print{Mass: p.Mass, Nozzle: p.Nozzle * 0.8}).Rate; fine < base {
			t.Errorf("%+v: %g, finer nozzle %g", m, base, fine)
		}
		if long := risk(m, Print{Mass: p.Mass * 2, Nozzle: p.Nozzle}).Chance; long < risk(m, p).Chance {
			t.Errorf("%+v: longer print %g", m, long)
		}
		c, err := FinerScreen(m, p, m.Screen*(0.2+0.8*r.Float64()))
		if err != nil || c.Fewer > 1+1e-12 || c.After.Rate > base*(1+1e-12) {
			t.Errorf("%+v: finer screen %+v, %v", m, c, err)
		}
	}
}

// Windows side by side add up.
func TestBlockersAdd(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	for range draws / 4 {
		s := Spectrum{logBetween(r, 1e-4, 1e-3), 0.2 + 0.8*r.Float64()}
		count := func(from, to float64) float64 {
			n, err := Blockers(s, Window{from, to}, 7850)
			if err != nil || !(n >= 0) {
				t.Fatalf("%+v: %g, %v", s, n, err)
			}
			return n
		}
		lo, mid, hi := 1e-5, s.Median, 0.05
		if whole, parts := count(lo, hi), count(lo, mid)+count(mid, hi); math.Abs(whole-parts) > 1e-9*whole {
			t.Errorf("%+v: %g, in two windows %g", s, whole, parts)
		}
	}
}

// The limits of a count are the rates at which it becomes unlikely, and what a
// rate learns in steps it learns at once.
func TestCountsAndRates(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 6))
	for range draws {
		k, confidence := r.IntN(40), 0.6+0.39*r.Float64()
		upper, err := CountAtMost(k, confidence)
		if err != nil {
			t.Fatal(err)
		}
		below, term := 0.0, math.Exp(-upper)
		for i := 0; i <= k; i++ {
			below += term
			term *= upper / float64(i+1)
		}
		if math.Abs(below-(1-confidence)) > 1e-8 {
			t.Errorf("%d at %g: upper limit %g leaves %g", k, confidence, upper, below)
		}
		prior := Rate{logBetween(r, 0.1, 20), logBetween(r, 0.1, 100)}
		m1, m2, k2 := 5*r.Float64(), 5*r.Float64(), r.IntN(9)
		a, err1 := Learn(prior, k, m1)
		a, err2 := Learn(a, k2, m2)
		b, err3 := Learn(prior, k+k2, m1+m2)
		if err := errors.Join(err1, err2, err3); err != nil || math.Abs(a.Shape-b.Shape) > 1e-12*b.Shape || math.Abs(a.Exposure-b.Exposure) > 1e-12*b.Exposure {
			t.Errorf("%+v: in steps %+v, at once %+v, %v", prior, a, b, err)
		}
		p := 0.01 + 0.98*r.Float64()
		q, err := b.Quantile(p)
		if err != nil {
			t.Fatal(err)
		}
		if above, err := b.Above(q); err != nil || math.Abs(above-(1-p)) > 1e-8 {
			t.Errorf("%+v: above its quantile %g lies %g, %v", b, p, above, err)
		}
	}
}

func TestPriorsAreOrdered(t *testing.T) {
	t.Parallel()
	last := 0.0
	for _, b := range []Blade{Sharp, Worn, Chipped} {
		e, ok := b.Prior()
		if !ok || !(e.Low >= 1e-6 && e.Low < e.Median && e.Median < e.High && e.High <= 100e-6) || e.Median <= last {
			t.Errorf("%d: %+v %v", b, e, ok)
		}
		last = e.Median
	}
	if _, ok := Blade(9).Prior(); ok {
		t.Error("an unknown state has a prior")
	}
	best := 1.0
	for _, k := range Kinds() {
		if !(k.Low <= k.Catch && k.Catch <= k.High && k.Catch <= best) || k.Source == "" || k.Note == "" {
			t.Errorf("%+v", k)
		}
		best = k.Catch
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	second := func(_ any, err error) error { return err }
	good := bench(0.002, 1, 1)
	with := func(change func(*Metal)) error {
		m := good
		change(&m)
		return second(PrintRisk(m, benchPrint))
	}
	for name, err := range map[string]error{
		"NaN part":         second(WearFromParts(PartWeighing{nan, 1, 1, 1e-4})),
		"nothing ground":   second(WearFromParts(PartWeighing{1, 1, 0, 1e-4})),
		"more metal":       second(WearFromMagnet(MagnetYield{10, 1, 0.5})),
		"NaN yield":        second(WearFromMagnet(MagnetYield{nan, 1, 0.5})),
		"many passes":      second(StaysIn(blend(0.5), 21)),
		"narrow":           second(Blockers(Spectrum{2e-4, 0}, Window{1e-4, 1e-3}, 7850)),
		"no window":        second(Blockers(WearSpectrum, Window{}, 7850)),
		"light metal":      second(Blockers(WearSpectrum, Window{1e-4, 1e-3}, 1)),
		"negative rate":    second(Chance(-1, 1)),
		"NaN mass":         second(Chance(1, nan)),
		"no rate":          second(CleanMass(0, 0.95)),
		"certain count":    second(CountAtMost(3, 1)),
		"negative find":    second(Learn(Rate{1, 1}, -1, 1)),
		"NaN shape":        second(Learn(Rate{nan, 1}, 1, 1)),
		"certain quantile": second(Rate{1, 1}.Quantile(1)),
		"NaN wear":         with(func(m *Metal) { m.Wear = nan }),
		"NaN catch":        with(func(m *Metal) { m.Parts = []Part{{Kind{Density: 7850, Catch: nan}, 1}} }),
		"no screen":        with(func(m *Metal) { m.Screen = 0 }),
		"no slip":          with(func(m *Metal) { m.Slip = 0 }),
		"no nozzle":        second(PrintRisk(good, Print{Mass: 1, Nozzle: 0})),
		"no print":         second(PrintRisk(good, Print{Mass: 0, Nozzle: 1e-3})),
	} {
		var out *process.RangeError
		if !errors.As(err, &out) {
			t.Errorf("%s: got %v, wanted a RangeError", name, err)
		}
	}
}
