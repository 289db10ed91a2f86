package traceability

// Conditions of ages, lessons, colours and dust on both sides, by hand.

import (
	"fmt"
	"math"
	"testing"

	"hopperful/polymer"
	"hopperful/process/ageing"
	"hopperful/process/colour"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What a melt-flow test of regrind from outside is worth: its passes are 1 to 2, so that their doubt is (2 − 1)/2/1.2816 of what a pass may do,
// beside the doubt of the test, 0.05, and how lots differ, 0.03.
func TestALessonByHand(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PP", Mass: 1}, &shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "PET", Mass: 1}, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PP", Mass: 1})
	w, err := NewAger(s)
	if err != nil {
		t.Fatal(err)
	}
	prior, _, err := ageing.PerPass("PP", ageing.MeltFlow)
	if err != nil {
		t.Fatal(err)
	}
	far := math.Max(math.Abs(math.Log(prior.Low)), math.Abs(math.Log(prior.High)))
	of := func(id shop.LotID, tests ...flowMeasure) ageing.FlowTest {
		lot, _ := s.Lot(id)
		x, ok, err := w.lesson(lot, tests, w.plasticOf(lot.Polymer))
		if err != nil || !ok {
			t.Fatal(id, ok, err)
		}
		return x
	}
	one := of("R1", flowMeasure{rate: 2e-5, doubt: 0.05})
	if want := math.Hypot(math.Hypot(0.05, 0.03), (2.0-1)/2/1.2815515655446004*far); math.Abs(one.Doubt-want) > 1e-9 || math.Abs(one.Rate-2e-5) > 1e-15 || math.Abs(one.Passes-1/(1-outsideLoop)) > 1e-9 || one.Gain != 1 || one.GainDoubt != 0 {
		t.Errorf("%+v, its doubt by hand %g", one, want)
	}
	// Two tests weigh by their precision: 1/0.05² and 1/0.1² are 4 to 1, together 500.
	two := of("V1", flowMeasure{rate: 2e-5, doubt: 0.05}, flowMeasure{rate: 3e-5, doubt: 0.1})
	if want := 2e-5 * math.Pow(1.5, 0.2); math.Abs(two.Rate/want-1) > 1e-9 || math.Abs(two.Doubt-math.Hypot(1/math.Sqrt(500), 0.03)) > 1e-9 || two.Passes != 0 {
		t.Errorf("%+v, its rate by hand %g", two, want)
	}
	if wild := of("V1", flowMeasure{rate: 2e-5, doubt: 9}); wild.Doubt != 3 {
		t.Errorf("a doubt of %g", wild.Doubt)
	}
	// Water made some of it thinner elsewhere, at the high end: half of the logarithm between both ends, in standard deviations.
	pet := w.plasticOf("PET")
	lot, _ := s.Lot("R2")
	age, err := w.Of(lot)
	if err != nil {
		t.Fatal(err)
	}
	ends := age.all()
	thin, err := pet.gain(0, ends[2].Cuts)
	if err != nil || thin <= 1 {
		t.Fatalf("%g, %v", thin, err)
	}
	if wet := of("R2", flowMeasure{rate: 2e-5, doubt: 0.05}); math.Abs(wet.GainDoubt-math.Log(thin)/2/1.2815516) > 1e-6 {
		t.Errorf("water makes a doubt of %g, by hand %g", wet.GainDoubt, math.Log(thin)/2/1.2815516)
	}
}

// A lot's age is by mass what came into it: what was judged, said and not said as well; of a lot of nothing it is that of what comes from outside.
func TestAgesAreByMass(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 4}, &shop.Printed{From: "V1", Into: "P1", Print: "a", Mass: 1, Moisture: p(1e-4)}, &shop.Printed{From: "V1", Into: "P2", Print: "b", Mass: 1},
		&shop.Blended{From: []shop.Portion{{Lot: "P1", Mass: 0.3}, {Lot: "P2", Mass: 0.1}}, Into: "B1"}, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 2}, &shop.Blended{From: []shop.Portion{{Lot: "V1", Mass: 0.3}, {Lot: "R1", Mass: 0.1}}, Into: "B2"})
	w, err := NewAger(s)
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[shop.LotID][3]float64{"V1": {0, 0, 0}, "P1": {0, 1, 0}, "P2": {0, 0, 1}, "B1": {0, 0.75, 0.25}, "R1": {1, 0, 0}, "B2": {0.25, 0, 0}} {
		lot, _ := s.Lot(id)
		a, err := w.Of(lot)
		if err != nil || math.Abs(a.judged-want[0]) > 1e-9 || math.Abs(a.said-want[1]) > 1e-9 || math.Abs(a.unsaid-want[2]) > 1e-9 {
			t.Errorf("%s: judged %g, said %g, not said %g; by hand %v; %v", id, a.judged, a.said, a.unsaid, want, err)
		}
	}
	v1, _ := s.Lot("V1")
	for i, c := range []struct {
		lot    shop.Lot
		judged float64
	}{
		{shop.Lot{ID: "R9", Class: shop.Regrind, Polymer: "PLA"}, 1}, {shop.Lot{ID: "R8", Class: shop.Regrind, Polymer: "PLA", In: 1, Parents: []shop.Edge{{Lot: v1.ID, Mass: 0.5}}}, 0.5},
		{shop.Lot{ID: "R7", Class: shop.Regrind, Polymer: "PLA", In: 1, Parents: []shop.Edge{{Lot: v1.ID, Mass: 1}}}, 0},
	} {
		a, err := w.Of(&c.lot)
		if err != nil || math.Abs(a.judged-c.judged) > 1e-9 {
			t.Errorf("case %d: %v, judged %g", i, err, a.judged)
		}
	}
	// Of ages beyond what is followed the lot is refused; of a blend made elsewhere some may be new.
	elsewhere, err := w.ageOutside(&shop.Lot{Class: shop.Blend, Polymer: "PLA"})
	if err != nil || elsewhere.low.Shares[0] != 1 {
		t.Errorf("%v %+v", err, elsewhere.low)
	}
	if ground, err := w.ageOutside(&shop.Lot{Class: shop.Regrind, Polymer: "PLA"}); err != nil || ground.low.Shares[0] != 0 || ground.judged != 1 {
		t.Errorf("%v %+v", err, ground.low)
	}
}

// The dust at a print is that of the last sieving before it, from a hundred parts in a million to 99 %.
func TestTheDustAtAPrint(t *testing.T) {
	t.Parallel()
	sieved := func(pan float64) *shop.Sieved {
		return &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.1 - pan}, {Opening: 0.5e-3, Mass: 0}}, Pan: pan}
	}
	print := &shop.Printed{From: "R1", Print: "a", Mass: 0.01, Good: shop.Yes}
	for i, c := range []struct {
		of    []shop.Body
		dust  float64
		known bool
	}{
		{[]shop.Body{print}, 0, false}, {[]shop.Body{print, sieved(0.02)}, 0, false}, {[]shop.Body{sieved(0.02), print}, 0.2, true}, {[]shop.Body{sieved(0.02), sieved(0.03), print, sieved(0.05)}, 0.3, true},
		{[]shop.Body{sieved(0), print}, 1e-4, true}, {[]shop.Body{sieved(0.1), print}, 0.99, true},
	} {
		s := shoptest.Bin(t, append([]shop.Body{&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}}, c.of...)...)
		prints := s.Prints()
		got, known := dustAt(s, prints[len(prints)-1])
		if known != c.known || known && math.Abs(got-c.dust) > 1e-9 {
			t.Errorf("case %d: %g, known %t", i, got, known)
		}
		if b := DustBorneBy(s); (b.Prints == 1) != c.known || len(b.Records) != b.Prints {
			t.Errorf("case %d: %d prints teach", i, b.Prints)
		}
	}
}

// A colour is lifted where any part of it is darker or whiter than a photo can tell, whichever comes first.
func TestWhichColoursAreLifted(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#000000", 2), shoptest.Painted("R2", shop.Regrind, "#c08040", 2), shoptest.Painted("R3", shop.Regrind, "#40c080", 2),
		shoptest.Blended("B1", shop.Portion{Lot: "R1", Mass: 0.1}, shop.Portion{Lot: "R2", Mass: 0.1}), shoptest.Blended("B2", shop.Portion{Lot: "R2", Mass: 0.1}, shop.Portion{Lot: "R1", Mass: 0.1}), shoptest.Blended("B3", shop.Portion{Lot: "R2", Mass: 0.1}, shop.Portion{Lot: "R3", Mass: 0.1}),
		shoptest.Blended("B4", shop.Portion{Lot: "R2", Mass: 0.1}, shop.Portion{Lot: "R1", Mass: 0.1}), &shop.Coloured{Lot: "B4", How: shop.ByEye, RGB: "#c08040", Melted: shop.No},
		shoptest.Blended("B5", shop.Portion{Lot: "R2", Mass: 0.1}, shop.Portion{Lot: "R3", Mass: 0.1}), &shop.Coloured{Lot: "B5", How: shop.ByEye, RGB: "#000000", Melted: shop.No},
		shoptest.Blended("B6", shop.Portion{Lot: "R2", Mass: 0.1}, shop.Portion{Lot: "R3", Mass: 0.1}), &shop.Coloured{Lot: "B6", How: shop.ByEye, RGB: "#80a060", Melted: shop.No})
	w := NewTinter(s)
	for id, want := range map[shop.LotID]bool{"R1": true, "R2": false, "R3": false, "B1": true, "B2": true, "B3": false, "B4": true, "B5": true, "B6": false} {
		lot, _ := s.Lot(id)
		got, err := w.Of(lot)
		if err != nil || got.lifted != want {
			t.Errorf("%s: lifted %t, %v", id, got.lifted, err)
		}
		if (id == "B4" || id == "B5" || id == "B6") && (!got.grains || got.forecast == nil) {
			t.Errorf("%s: %+v is not of grains side by side", id, got)
		}
	}
	// What came from outside beside its parents has a colour nobody knows.
	for i, c := range []struct {
		lot     shop.Lot
		unknown bool
	}{{shop.Lot{ID: "R8", In: 1}, true}, {shop.Lot{ID: "R8", In: 1, Parents: []shop.Edge{{Lot: "R2", Mass: 0.5}}}, true}, {shop.Lot{ID: "R8", In: 1, Parents: []shop.Edge{{Lot: "R2", Mass: 1}}}, false}} {
		if got, err := w.parents(&c.lot); err != nil || (got.Basis == ColourUnknown) != c.unknown {
			t.Errorf("case %d: %s, %v", i, got.Basis, err)
		}
	}
}

// Curves are carried over to the shop's next state until there are two thousand of them and of what mixes told.
func TestHowManyColoursAreKept(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t)
	for _, c := range []struct {
		curves, ratios int
		kept           bool
	}{{1999, 0, true}, {2000, 0, false}, {1000, 999, true}, {1000, 1000, false}} {
		w := NewTinter(s)
		for i := range c.curves {
			w.curves[fmt.Sprint(i)] = ownTint{}
		}
		for i := range c.ratios {
			w.ratios[mixSeen{share: float64(i)}] = mixTold{}
		}
		if next := w.After(s); (len(next.curves)+len(next.ratios) > 0) != c.kept {
			t.Errorf("%+v: %d and %d are kept", c, len(next.curves), len(next.ratios))
		}
	}
	// A code is turned into a curve once; a curve that was measured stands for itself.
	w := NewTinter(s)
	w.curves["#a0b0c0"] = ownTint{lifted: true}
	w.curves[""] = ownTint{lifted: true}
	if o, err := w.see(&shop.Lot{RGB: "#a0b0c0"}); err != nil || !o.lifted || o.basis != ColourPicked {
		t.Errorf("%+v, %v", o, err)
	}
	flat := make([]shop.TakenBand, 36)
	for i := range flat {
		flat[i] = shop.TakenBand{Wavelength: 380e-9 + 10e-9*float64(i), Light: 0.4}
	}
	if o, err := w.see(&shop.Lot{Taken: &shop.Coloured{How: shop.Instrument, Curve: flat}}); err != nil || o.lifted || math.Abs(o.curve[10]-0.4) > 1e-6 || len(w.curves) != 2 {
		t.Errorf("%+v, %v", o, err)
	}
	if o, err := w.see(&shop.Lot{Taken: &shop.Coloured{How: shop.ByEye, RGB: "#204060"}}); err != nil || o.basis != ColourTaken || len(w.curves) != 3 {
		t.Errorf("%+v, %v", o, err)
	}
}

// What nobody can be taught: a plastic without a melt flow in the books, and one that flows not at all.
func TestWhatTeachesNoFlow(t *testing.T) {
	t.Parallel()
	w, err := NewAger(shoptest.Bin(t))
	if err != nil {
		t.Fatal(err)
	}
	var none taught
	if err := w.teach(plastic{Polymer: polymer.Polymer{}}, &none); err != nil || none.lots != 0 {
		t.Errorf("%+v, %v", none, err)
	}
	// Water that may have made it a million times as thin teaches nothing: of chains of 100 kg/mol, c mol/kg leave (1 + 100c)^3.4 as much.
	p := plastic{Polymer: w.plasticOf("PP").Polymer, known: true, cut: true, chain: ageing.Chain{Molar: 100}}
	for gain, teaches := range map[float64]bool{0.9e6: true, 1.5e6: false} {
		one := ageing.Virgin()
		thin := one
		thin.Cuts = (math.Pow(gain, 1/3.4) - 1) / 100
		w.known["R9"] = Spread{low: one, mid: one, high: thin}
		if _, ok, err := w.lesson(&shop.Lot{ID: "R9"}, []flowMeasure{{rate: 1e-5, doubt: 0.05}}, p); err != nil || ok != teaches {
			t.Errorf("%g times as thin: teaches %t, %v", gain, ok, err)
		}
	}
}

// What a mix tells of the scattering: the ratio it was made with, and how far that may be off, halfway between where the colour is off by
// as much as the colours are, each way in steps of a twentieth (held against a walk in steps a hundred times as fine).
func TestWhatAMixTellsByHand(t *testing.T) {
	t.Parallel()
	base, err := bodyOf(grey(0.2), 1)
	if err != nil {
		t.Fatal(err)
	}
	added, err := bodyOf(grey(0.7), 1)
	if err != nil {
		t.Fatal(err)
	}
	mixed := func(x float64) colour.Curve {
		b := added
		for i := range b.K {
			b.K[i], b.S[i] = b.K[i]*math.Exp(x), b.S[i]*math.Exp(x)
		}
		c, err := colour.Mixed([]colour.Body{base, b}, []float64{0.7, 0.3}, colour.PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for _, ratio := range []float64{0.5, -0.4} {
		seen := mixed(ratio)
		told, err := mixSeen{base: grey(0.2), added: grey(0.7), seen: seen, share: 0.3, errs: 3}.tell()
		if err != nil || math.Abs(told.ratio-ratio) > 0.01 {
			t.Fatalf("%g: %+v, %v", ratio, told, err)
		}
		sd := 0.0
		for _, way := range []float64{-1, 1} {
			x := 0.0
			for ; x < 7; x += 5e-4 {
				far, err := apartOf(mixed(told.ratio+way*x), seen)
				if err != nil {
					t.Fatal(err)
				}
				if far >= 3 {
					break
				}
			}
			sd += math.Ceil(x/0.05) * 0.05 / 2
		}
		if math.Abs(told.sd-sd) > 1e-6 {
			t.Errorf("%g: off by %g, by a finer walk %g", ratio, told.sd, sd)
		}
	}
}

// A melted mix teaches where each of its two parts is one plastic, whichever comes first; where one is a mix itself it is told to.
func TestWhichMixesTeach(t *testing.T) {
	t.Parallel()
	portion := func(id shop.LotID, kg float64) shop.Portion { return shop.Portion{Lot: id, Mass: kg} }
	melted := func(id shop.LotID, code string) *shop.Coloured {
		return &shop.Coloured{Lot: id, How: shop.Instrument, RGB: code, Melted: shop.Yes}
	}
	granules := func(id shop.LotID, code string) *shop.Coloured {
		return &shop.Coloured{Lot: id, How: shop.Instrument, RGB: code}
	}
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#c04020", 9), shoptest.Painted("R2", shop.Regrind, "#e0e0d0", 9), shoptest.Painted("R3", shop.Regrind, "#3050a0", 9),
		granules("R1", "#c04020"), granules("R2", "#e0e0d0"), granules("R3", "#3050a0"),
		shoptest.Blended("B1", portion("R1", 1), portion("R2", 1)), melted("B1", "#c08070"), shoptest.Blended("B2", portion("R2", 1), portion("R3", 1)), melted("B2", "#5870a8"),
		shoptest.Blended("B3", portion("B1", 0.3), portion("R3", 0.3)), melted("B3", "#806878"), shoptest.Blended("B4", portion("R3", 0.3), portion("B1", 0.3)), melted("B4", "#806878"),
		shoptest.Blended("B5", portion("B1", 0.3), portion("B2", 0.3)), melted("B5", "#a05060"), shoptest.Blended("B6", portion("R1", 0.3), portion("R2", 0.3), portion("R3", 0.3)), melted("B6", "#a07070"),
		shoptest.Blended("B7", portion("R1", 0.3), portion("R2", 0.3)), &shop.Coloured{Lot: "B7", How: shop.ByEye, RGB: "#c08070", Melted: shop.No})
	w := NewTinter(s)
	if err := w.learn(); err != nil {
		t.Fatal(err)
	}
	for id, code := range map[shop.LotID]string{"B1": "", "B2": "", "B3": "colour.from_mixes", "B4": "colour.from_mixes", "B5": "colour.from_mixes", "B6": "colour.from_many"} {
		if got := w.learned.unclear[id].Code; got != code || w.learned.told[id] != (code == "") {
			t.Errorf("%s: %q, told %t", id, got, w.learned.told[id])
		}
	}
	if len(w.learned.results) != 2 || w.learned.told["B7"] || len(w.learned.unclear) != 4 {
		t.Errorf("%+v, unclear %v", w.learned.results, w.learned.unclear)
	}
}
