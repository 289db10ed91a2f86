package reckon_test

import (
	"math"
	"testing"

	"hopperful/figure"
	"hopperful/plan/reckon"
	"hopperful/process/ageing"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func figureOf(t *testing.T, r reckon.Reckoning, key string) figure.Figure {
	t.Helper()
	for _, f := range r.Figures {
		if f.Key == key {
			return f
		}
	}
	t.Fatalf("%s has no figure %s", r.Topic.Key, key)
	return figure.Figure{}
}

// The drawn shares of regrind lie where the formula for one factor says: what
// nine in ten bear follows from the low end of the factor's range, half from its
// median (package ageing, rows ShareForStrength and ShareForFlow).
func TestLoopBearsWhatTheFormulaSays(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		material, property string
		of                 ageing.Property
		keep, move         float64
	}{
		{"ABS", "toughness", ageing.Toughness, 0.8, 1.5},
		{"PC", "impact strength", ageing.ImpactStrength, 0.7, 1.5},
		{"PP", "melt flow", ageing.MeltFlow, 0.9, 2},
	} {
		r := ask(t, "loop", map[string]float64{"keep": c.keep, "move": c.move}, map[string]string{"material": c.material, "property": c.property})
		f, _, err := ageing.PerPass(c.material, c.of)
		if err != nil {
			t.Fatal(err)
		}
		bears := func(q float64) float64 {
			of, bound := ageing.ShareForStrength, c.keep
			if c.of == ageing.MeltFlow {
				of, bound = ageing.ShareForFlow, c.move
			}
			v, err := of(q, bound)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		careful := bears(f.Low)
		if c.of == ageing.MeltFlow {
			careful = bears(f.High)
		}
		for key, want := range map[string]float64{"most_careful": careful, "most_even": bears(f.Median)} {
			if got := valueOf(t, r, key); math.Abs(got-want) > 0.05 {
				t.Errorf("%s of %s, %s: %.3f, by the formula %.3f", c.property, c.material, key, got, want)
			}
		}
	}
}

// Water at melting takes from what hydrolyses, and from nothing else; more
// regrind never leaves more.
func TestLoopsWearOut(t *testing.T) {
	t.Parallel()
	kept := func(material string, regrind, water float64) float64 {
		return valueOf(t, ask(t, "loop", map[string]float64{"regrind": regrind, "water": water}, map[string]string{"material": material}), "kept")
	}
	if dry, wet := kept("PLA", 0.6, 0), kept("PLA", 0.6, 0.003); wet > dry-0.01 {
		t.Errorf("PLA keeps %g dry and %g damp", dry, wet)
	}
	if dry, wet := kept("ABS", 0.6, 0), kept("ABS", 0.6, 0.003); wet != dry {
		t.Errorf("ABS keeps %g dry and %g damp", dry, wet)
	}
	last := 1.1
	for _, regrind := range []float64{0, 0.2, 0.4, 0.6, 0.8, 0.97} {
		now := kept("ABS", regrind, 0)
		if now > last {
			t.Errorf("%g of regrind keeps %g after %g", regrind, now, last)
		}
		last = now
	}
	if v := kept("ABS", 0, 0); math.Abs(v-1) > 1e-12 {
		t.Errorf("without regrind %g is kept", v)
	}
}

// The chart runs from a new print into the settled loop.
func TestLoopChartSettles(t *testing.T) {
	t.Parallel()
	r := ask(t, "loop", map[string]float64{"regrind": 0.4, "rounds": 40}, map[string]string{"material": "ABS", "property": "toughness"})
	for _, c := range r.Charts {
		if c.Key != "kept" {
			continue
		}
		k, settled := c.Curves[0], figureOf(t, r, "kept")
		n := len(k.X) - 1
		if k.Mid[0] != 1 || math.Abs(k.Mid[n]-settled.Value) > 1e-6 || math.Abs(k.Low[n]-settled.Low) > 1e-6 || math.Abs(k.High[n]-settled.High) > 1e-6 {
			t.Errorf("from %g to %g (%g to %g), settled %g", k.Mid[0], k.Mid[n], k.Low[n], k.High[n], settled.Value)
		}
	}
}

func TestLoopSaysWhatNobodyKnows(t *testing.T) {
	t.Parallel()
	r := ask(t, "loop", nil, map[string]string{"property": "toughness"})
	if r.Head.Code != "reckon.loop_unknown" || !noted(r, "reckon.known_of") || valueOf(t, r, "mean_passes") <= 1 {
		t.Errorf("%+v %+v", r.Head, r.Spoilers)
	}
	r = ask(t, "loop", map[string]float64{"regrind": 0.9, "loss": 0.3}, nil)
	if !noted(r, "reckon.too_much_regrind") {
		t.Errorf("%+v", r.Spoilers)
	}
}

// The shop's own flow tests count: polypropylene of 10 g/10 min that flows at 15
// after two passes has √1.5 = 1.225 a pass (own derivation).
func TestLoopsUseWhatTheShopTaught(t *testing.T) {
	t.Parallel()
	tested := func(lot shop.LotID, grams float64) *shop.FlowTested {
		cut := grams / 600 * 10 / 1000
		return &shop.FlowTested{Lot: lot, Temperature: shoptest.P(503.15), Load: shoptest.P(2.16), CutTime: shoptest.P(10), Cuts: []float64{cut, cut, cut}}
	}
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PP", Mass: 4},
		&shop.Printed{From: "V1", Into: "P1", Print: "vase", Mass: 3}, &shop.Printed{From: "P1", Into: "P2", Print: "vase", Mass: 2},
		tested("V1", 10), tested("P2", 15))
	words := map[string]string{"material": "PP", "property": "melt flow"}
	books := figureOf(t, ask(t, "loop", nil, words), "factor")
	r, err := reckon.Answer(nil, "loop", reckon.Given{Words: words, Shop: s})
	if err != nil {
		t.Fatal(err)
	}
	own := figureOf(t, r, "factor")
	if math.Abs(own.Value-math.Sqrt(1.5)) > 0.02 || own.High/own.Low >= books.High/books.Low || len(own.Records) == 0 || own.Basis != figure.Learned {
		t.Errorf("%+v, the books %+v", own, books)
	}
	if !noted(r, "reckon.own_tests") {
		t.Errorf("%+v", r.Spoilers)
	}
}

// A settled loop of a share r went through r/(1 − r) passes more than a new print: with six tenths
// of regrind, one and a half, and the melt flow moves by the factor of a pass to that power.
func TestASettledMeltFlow(t *testing.T) {
	t.Parallel()
	f, _, err := ageing.PerPass("PP", ageing.MeltFlow)
	if err != nil {
		t.Fatal(err)
	}
	for regrind, power := range map[float64]float64{0: 0, 0.5: 1, 0.6: 1.5, 0.75: 3} {
		got := valueOf(t, ask(t, "loop", map[string]float64{"regrind": regrind, "water": 0}, map[string]string{"material": "PP", "property": "melt flow"}), "kept")
		if want := math.Pow(f.Median, power); math.Abs(got/want-1) > 0.02*power+1e-9 { // of so many draws the middle lies within that
			t.Errorf("%g of regrind moves the flow to %g, wanted %g", regrind, got, want)
		}
	}
}

// A loop of three tenths by hand: 1/(1 − 0.3) passes in the mean, 0.3³ beyond three; 0.3/0.95 has to come back
// where a twentieth is lost, and a kilogram kept takes 0.7/(1 − 0.3/0.95). The old part fades as r^n: below a
// twentieth after ln 0.05/ln r rounds, made whole, one at the least.
func TestALoopByHand(t *testing.T) {
	t.Parallel()
	of := func(regrind float64) reckon.Reckoning {
		return ask(t, "loop", map[string]float64{"regrind": regrind, "loss": 0.05}, map[string]string{"material": "ABS"})
	}
	for key, want := range map[string]float64{"mean_passes": 1 / 0.7, "beyond_three": 0.027, "fresh": 0.7, "back": 0.3 / 0.95, "for_kept": 0.7 / (1 - 0.3/0.95)} {
		if got := valueOf(t, of(0.3), key); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s is %g, by hand %g", key, got, want)
		}
	}
	for regrind, want := range map[float64]float64{0: 1, 0.01: 1, 0.2: 2, 0.22: 2, 0.23: 3, 0.5: 5, 0.9: 29} {
		if got := valueOf(t, of(regrind), "settles"); got != want {
			t.Errorf("a loop of %g settles after %g rounds, by hand %g", regrind, got, want)
		}
	}
	// The chart of shares: (1 − r) r^(n − 1) of n passes.
	for _, c := range of(0.3).Charts {
		if c.Key != "shares" {
			continue
		}
		for k, n := range c.Curves[0].X {
			if want := 0.7 * math.Pow(0.3, n-1); math.Abs(c.Curves[0].Mid[k]-want) > 1e-9 {
				t.Errorf("%g of the plastic has %g passes, by hand %g", c.Curves[0].Mid[k], n, want)
			}
		}
		if one, three := c.Facts[0].Value, c.Facts[1].Value; math.Abs(one-0.7) > 1e-9 || math.Abs(three-(1-0.027)) > 1e-9 {
			t.Errorf("%g of one pass and %g of up to three", one, three)
		}
	}
}

// What is said of the water: where it cuts chains that it is to be known, and where it does not that it does not.
func TestWhatALoopSaysOfWater(t *testing.T) {
	t.Parallel()
	said := []string{"reckon.melted_damp", "reckon.no_hydrolysis", "reckon.falls_sooner"}
	for i, c := range []struct {
		material string
		water    float64
		want     string
	}{{"PLA", 0, said[0]}, {"PLA", 0.003, ""}, {"ABS", 0, ""}, {"ABS", 0.003, said[1]}} {
		r := ask(t, "loop", map[string]float64{"water": c.water}, map[string]string{"material": c.material})
		for _, code := range said {
			if noted(r, code) != (code == c.want) {
				t.Errorf("case %d: says %s: %t", i, code, noted(r, code))
			}
		}
	}
}

// A shop that tested no melt flow taught nothing, and it is not said that it did.
func TestALoopWithoutTests(t *testing.T) {
	t.Parallel()
	r, err := reckon.Answer(nil, "loop", reckon.Given{Words: map[string]string{"material": "PP", "property": "melt flow"}, Shop: shoptest.Bin(t)})
	if err != nil || noted(r, "reckon.own_tests") || figureOf(t, r, "factor").Basis == figure.Learned {
		t.Errorf("%+v, %v", r.Spoilers, err)
	}
}
