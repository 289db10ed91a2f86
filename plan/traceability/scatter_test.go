package traceability_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hopperful/fact"
	"hopperful/plan/traceability"
	"hopperful/process/colour"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// plastic is one of our own invention: what it looks like and how strongly it
// scatters. Nothing in the shop knows the second.
type plastic struct {
	curve   colour.Curve
	scatter float64
}

func invented(luck *rand.Rand) plastic {
	p := plastic{scatter: math.Exp(2.4*luck.Float64() - 1.2)}
	low, high, edge, wide := 0.03+0.1*luck.Float64(), 0.2+0.6*luck.Float64(), 430+220*luck.Float64(), 15+50*luck.Float64()
	if luck.IntN(2) == 0 {
		low, high = high, low
	}
	for b := range p.curve {
		p.curve[b] = low + (high-low)/(1+math.Exp(-(colour.Wavelength(b)*1e9-edge)/wide))
	}
	return p
}

// melt is the true colour of a melted mix.
func melt(t testing.TB, parts []plastic, shares []float64) colour.Curve {
	t.Helper()
	var bodies []colour.Body
	for _, p := range parts {
		b, err := colour.BodyOf(p.curve, p.scatter, colour.PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		bodies = append(bodies, b)
	}
	c, err := colour.Mixed(bodies, shares, colour.PhotoSurface())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// measured is a curve as an instrument writes it down.
func measured(id shop.LotID, c colour.Curve, melted shop.YesNo) *shop.Coloured {
	b := &shop.Coloured{Lot: id, How: shop.Instrument, Melted: melted}
	for i, r := range c {
		b.Curve = append(b.Curve, shop.TakenBand{Wavelength: colour.Wavelength(i), Light: min(1, r)})
	}
	return b
}

// pictured is a curve as a photo shows it: with a wrong exposure and a coloured
// light.
func pictured(t testing.TB, id shop.LotID, c colour.Curve, luck *rand.Rand) *shop.Coloured {
	t.Helper()
	a, b := 0.2*luck.NormFloat64(), 0.1*luck.NormFloat64()
	for i := range c {
		c[i] = min(0.93, c[i]*math.Exp(a+b*(2*float64(i)/35-1)))
	}
	rgb, err := colour.ScreenOf(c)
	if err != nil {
		t.Fatal(err)
	}
	code, _ := rgb.Hex()
	return &shop.Coloured{Lot: id, How: shop.CardPhoto, RGB: code}
}

func regrinds(n int) []shop.Body {
	var all []shop.Body
	for i := range n {
		all = append(all, &shop.TakenIn{Lot: shop.LotID(fmt.Sprint("R", i+1)), Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Halogen: shop.No, Mass: 50})
	}
	return all
}

func portion(id shop.LotID, kg float64) shop.Portion { return shop.Portion{Lot: id, Mass: kg} }

func chipOf(from, into shop.LotID) *shop.Printed {
	return &shop.Printed{From: from, Into: into, Print: "chip", Mass: 0.05}
}

// pairs makes prints of mixes of neighbouring lots and takes their colours.
func pairs(t testing.TB, parts []plastic, take func(id shop.LotID, c colour.Curve) shop.Body, shares ...float64) []shop.Body {
	t.Helper()
	var all []shop.Body
	n := 0
	for i := range len(parts) - 1 {
		for _, c := range shares {
			n++
			b, p := shop.LotID(fmt.Sprint("B", n)), shop.LotID(fmt.Sprint("P", n))
			all = append(all, shoptest.Blended(b, portion(shop.LotID(fmt.Sprint("R", i+1)), 1-c), portion(shop.LotID(fmt.Sprint("R", i+2)), c)),
				chipOf(b, p), take(p, melt(t, parts[i:i+2], []float64{1 - c, c})))
		}
	}
	return all
}

func off(t testing.TB, c traceability.LotColour, truth colour.Curve) float64 {
	t.Helper()
	lab, err := colour.LabOf(truth, colour.TwoDegrees)
	if err != nil {
		t.Fatal(err)
	}
	far, err := colour.Difference(lab, traceability.LabOf(*c.Mixed))
	if err != nil {
		t.Fatal(err)
	}
	return far
}

// Plastics of our own invention, of which the shop knows only the colours: what
// it learned from prints forecasts a mix nobody made before better than without.
func TestLearnedForecastIsNearerToTheTruth(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		shops  int
		photo  bool
		better float64 // of the mean error without learning
	}{"instrument": {25, false, 0.6}, "photos": {40, true, 0.92}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			luck := rand.New(rand.NewPCG(5, 11))
			taught, plain, sure, unsure, told := 0.0, 0.0, 0.0, 0.0, 0
			for range c.shops {
				parts := []plastic{invented(luck), invented(luck), invented(luck)}
				shares := []float64{0.4, 0.25, 0.35}
				ids := []shop.LotID{"R1", "R2", "R3"}
				take := func(id shop.LotID, k colour.Curve) shop.Body {
					if c.photo {
						return pictured(t, id, k, luck)
					}
					return measured(id, k, shop.Unknown)
				}
				start := regrinds(3)
				for i, id := range ids {
					start = append(start, measured(id, parts[i].curve, shop.Unknown)) // one plastic each: grains or melt are alike
				}
				asked := shoptest.Blended("B99", portion("R1", 0.4), portion("R2", 0.25), portion("R3", 0.35))
				truth := melt(t, parts, shares)
				with := coloured(t, shoptest.Bin(t, slices.Concat(start, pairs(t, parts, take, 0.2, 0.5, 0.8), []shop.Body{asked})...), "B99")
				without := coloured(t, shoptest.Bin(t, append(slices.Clone(start), asked)...), "B99")
				taught, plain = taught+off(t, with, truth), plain+off(t, without, truth)
				sure, unsure = sure+with.Doubt.High, unsure+without.Doubt.High
				if len(without.Learned) != 0 {
					t.Errorf("learned %v from nothing", without.Learned)
				}
				if len(with.Learned) > 0 {
					told++
				}
			}
			t.Logf("off by %.2f with learning, %.2f without; told %.1f and %.1f", taught/float64(c.shops), plain/float64(c.shops), sure/float64(c.shops), unsure/float64(c.shops))
			if taught > c.better*plain {
				t.Errorf("off by %.2f with learning, %.2f without", taught/float64(c.shops), plain/float64(c.shops))
			}
			if 4*told < 3*c.shops { // some plastics look so alike that no photo tells
				t.Errorf("%d of %d shops learned something", told, c.shops)
			}
			if sure >= unsure {
				t.Error("learning narrowed no range")
			}
		})
	}
}

// The truth lies within the range that is told about as often as it says.
func TestColourDoubtIsHonest(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(8, 3))
	within, all := 0, 150
	for range all {
		parts := []plastic{invented(luck), invented(luck)}
		for i := range parts {
			parts[i].scatter = math.Exp(0.7 * luck.NormFloat64())
		}
		bodies := regrinds(2)
		for i, id := range []shop.LotID{"R1", "R2"} {
			bodies = append(bodies, measured(id, parts[i].curve, shop.Unknown))
		}
		c := coloured(t, shoptest.Bin(t, append(bodies, shoptest.Blended("B1", portion("R1", 0.7), portion("R2", 0.3)))...), "B1")
		if off(t, c, melt(t, parts, []float64{0.7, 0.3})) <= c.Doubt.High {
			within++
		}
	}
	if share := float64(within) / float64(all); share < 0.82 || share > 0.99 { // the colours themselves are exact here, the range allows for more
		t.Errorf("%.2f of the true colours lie below the high end", share)
	}
}

// Nothing is learned from nothing: without melted mixes, from grains, from prints
// of one plastic, from mixes of three.
func TestNothingIsLearnedFromNothing(t *testing.T) {
	t.Parallel()
	red := func(id shop.LotID, melted shop.YesNo) shop.Body {
		return &shop.Coloured{Lot: id, How: shop.CardPhoto, RGB: "#c0402a", Melted: melted}
	}
	lots := []shop.Body{shoptest.Painted("R1", shop.Regrind, "#f5c400", 1), shoptest.Painted("R2", shop.Regrind, "#1e5aa8", 1), shoptest.Painted("R3", shop.Regrind, "#c0402a", 1)}
	two, three := shoptest.Blended("B1", portion("R1", 0.3), portion("R2", 0.3)), shoptest.Blended("B1", portion("R1", 0.2), portion("R2", 0.2), portion("R3", 0.2))
	for name, c := range map[string]struct {
		more []shop.Body
		note string
	}{
		"no colour taken":  {[]shop.Body{two}, ""},
		"grains":           {[]shop.Body{two, red("B1", shop.Unknown)}, "colour.of_grains"},
		"three plastics":   {[]shop.Body{three, chipOf("B1", "P1"), red("P1", shop.Unknown)}, ""},
		"one plastic":      {[]shop.Body{two, chipOf("R1", "P1"), red("P1", shop.Unknown)}, ""},
		"alike":            {[]shop.Body{shoptest.Painted("R4", shop.Regrind, "#f5c400", 1), shoptest.Blended("B1", portion("R1", 0.3), portion("R4", 0.3)), chipOf("B1", "P1"), red("P1", shop.Unknown)}, ""},
		"struck from rest": {[]shop.Body{two, red("R1", shop.Unknown)}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got := coloured(t, shoptest.Bin(t, slices.Concat(lots, c.more)...), "B1")
			if len(got.Learned) > 0 {
				t.Errorf("learned %v", got.Learned)
			}
			for _, p := range got.Parts {
				if p.Scatter.Value != 1 || p.Scatter.Runs != 0 {
					t.Errorf("%s scatters %+v", p.Lot, p.Scatter)
				}
			}
			if c.note != "" && !slices.ContainsFunc(got.Notes, func(s fact.Saying) bool { return s.Code == c.note }) {
				t.Errorf("notes %+v", got.Notes)
			}
		})
	}
	got := coloured(t, shoptest.Bin(t, slices.Concat(lots, []shop.Body{three, chipOf("B1", "P1"), red("P1", shop.Unknown)})...), "P1")
	if !slices.ContainsFunc(got.Notes, func(s fact.Saying) bool { return s.Code == "colour.from_many" }) {
		t.Errorf("three plastics: notes %+v", got.Notes)
	}
}

// One photo moves the strength a little, many move it near the truth, and one
// that is far off hardly moves it.
func TestPhotosAreWeighedMildly(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(4, 4))
	white, blue := plastic{scatter: 3}, plastic{scatter: 1}
	for b := range white.curve {
		white.curve[b] = 0.85
		nm := colour.Wavelength(b) * 1e9
		blue.curve[b] = 0.04 + 0.4*math.Exp(-(nm-450)*(nm-450)/2500)
	}
	parts := []plastic{white, blue}
	ratio := func(n int, wrong bool) (float64, float64, int) {
		bodies := append(regrinds(2), measured("R1", white.curve, shop.Unknown), measured("R2", blue.curve, shop.Unknown))
		for i := range n {
			b, p := shop.LotID(fmt.Sprint("B", i+1)), shop.LotID(fmt.Sprint("P", i+1))
			bodies = append(bodies, shoptest.Blended(b, portion("R1", 0.8), portion("R2", 0.2)), chipOf(b, p))
			if wrong && i == 0 {
				bodies = append(bodies, &shop.Coloured{Lot: p, How: shop.CardPhoto, RGB: "#202028"})
				continue
			}
			bodies = append(bodies, pictured(t, p, melt(t, parts, []float64{0.8, 0.2}), luck))
		}
		c := coloured(t, shoptest.Bin(t, append(bodies, shoptest.Blended("B99", portion("R1", 0.5), portion("R2", 0.5)))...), "B99")
		s := map[shop.LotID]float64{}
		for _, p := range c.Parts {
			s[p.Lot] = p.Scatter.Value
		}
		return math.Log(s["R1"] / s["R2"]), c.Doubt.High, c.Parts[0].Scatter.Runs
	}
	truth := math.Log(3)
	none, _, _ := ratio(0, false)
	one, wide, n1 := ratio(1, false)
	many, narrow, n12 := ratio(12, false)
	if none != 0 || !(one > 0 && one < truth) || math.Abs(many-truth) > 0.35 || narrow >= wide || n1 != 1 || n12 != 12 {
		t.Errorf("ln ratio %.2f, %.2f, %.2f, it is %.2f; doubt %.1f and %.1f; %d and %d photos", none, one, many, truth, wide, narrow, n1, n12)
	}
	if spoilt, _, _ := ratio(12, true); math.Abs(spoilt-many) > 0.35 {
		t.Errorf("one wrong photo of twelve moves it from %.2f to %.2f", many, spoilt)
	}
}

// With what was learned a mix still does not depend on the order or the steps.
func TestLearnedColoursMixInAnyOrder(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(6, 1))
	parts := []plastic{invented(luck), invented(luck), invented(luck)}
	start := regrinds(3)
	for i, p := range parts {
		start = append(start, measured(shop.LotID(fmt.Sprint("R", i+1)), p.curve, shop.Unknown))
	}
	start = append(start, pairs(t, parts, func(id shop.LotID, c colour.Curve) shop.Body { return measured(id, c, shop.Unknown) }, 0.3)...)
	var all []traceability.LotColour
	for _, steps := range [][]shop.Body{
		{shoptest.Blended("B51", portion("R1", 0.1), portion("R2", 0.2), portion("R3", 0.3))},
		{shoptest.Blended("B51", portion("R3", 0.3), portion("R1", 0.1), portion("R2", 0.2))},
		{shoptest.Blended("B50", portion("R1", 0.2), portion("R2", 0.4)), shoptest.Blended("B51", portion("B50", 0.3), portion("R3", 0.3))},
	} {
		all = append(all, coloured(t, shoptest.Bin(t, slices.Concat(start, steps)...), "B51"))
	}
	for _, c := range all[1:] {
		for i, v := range c.Mixed.Curve {
			if math.Abs(v-all[0].Mixed.Curve[i]) > 1e-9 || math.Abs(c.Unmixed.Curve[i]-all[0].Unmixed.Curve[i]) > 1e-9 {
				t.Fatalf("band %d: %g and %g", i, v, all[0].Mixed.Curve[i])
			}
		}
		if math.Abs(c.Doubt.High-all[0].Doubt.High) > 1e-6 || math.Abs(c.Apart.Low-all[0].Apart.Low) > 1e-6 {
			t.Errorf("doubt %+v and %+v", c.Doubt, all[0].Doubt)
		}
	}
}

// Heaps sorted out of one bin by their colour are plastics of their own; a bin
// ground in two charges is one.
func TestPlasticsBeginWhereTheyWereSorted(t *testing.T) {
	t.Parallel()
	ground := func(from, into shop.LotID) *shop.Ground {
		return &shop.Ground{Mill: "Rattle", From: from, Into: into, Charge: 0.1, Product: shoptest.P(0.1), Left: shoptest.P(0), Run: 60}
	}
	start := []shop.Body{&shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Colour: "mixed", Halogen: shop.No, Mass: 3},
		&shop.Sorted{From: "S1", Into: []shop.Part{{Lot: "S2", Colour: "white", RGB: "#f2f2ee", Mass: 1}, {Lot: "S3", Colour: "orange", RGB: "#d9772b", Mass: 1}}},
		ground("S2", "R2"), ground("S2", "R4"), ground("S3", "R3"),
		shoptest.Blended("B1", portion("R2", 0.06), portion("R3", 0.012)), chipOf("B1", "P1"), &shop.Coloured{Lot: "P1", How: shop.CardPhoto, RGB: "#f0c8a0"}}
	s := shoptest.Bin(t, append(start, shoptest.Blended("B2", portion("R4", 0.05), portion("R3", 0.05)))...)
	c := coloured(t, s, "B2")
	if len(c.Learned) != 2 || c.Parts[0].Scatter.Runs != 1 {
		t.Errorf("learned %v", c.Learned)
	}
}

// BenchmarkTinter reckons the colours of three hundred lots anew, of which forty
// prints taught something.
func BenchmarkTinter(b *testing.B) {
	var bodies []shop.Body
	for i := range 60 {
		bodies = append(bodies, shoptest.Painted(shop.LotID(fmt.Sprint("R", i+1)), shop.Regrind, fmt.Sprintf("#%02x%02x%02x", 20+3*i, 230-2*i, 40+(67*i)%190), 9))
	}
	for i := range 120 {
		into := shop.LotID(fmt.Sprint("B", i+1))
		bodies = append(bodies, shoptest.Blended(into, portion(shop.LotID(fmt.Sprint("R", i%60+1)), 0.1), portion(shop.LotID(fmt.Sprint("R", (i*7+3)%60+1)), 0.1)), chipOf(into, shop.LotID(fmt.Sprint("P", i+1))))
		if i%3 == 0 {
			bodies = append(bodies, &shop.Coloured{Lot: shop.LotID(fmt.Sprint("P", i+1)), How: shop.CardPhoto, RGB: "#707060"})
		}
	}
	s := shoptest.Bin(b, bodies...)
	old := traceability.NewTinter(s)
	for _, mode := range []string{"anew", "after"} {
		b.Run(mode, func(b *testing.B) {
			for b.Loop() {
				w := traceability.NewTinter(s)
				if mode == "after" {
					w = old.After(s)
				}
				for _, id := range s.Order {
					if _, err := w.Of(s.Lots.At(id)); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}
