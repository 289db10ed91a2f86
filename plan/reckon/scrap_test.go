package reckon_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"hopperful/figure"
	"hopperful/plan/reckon"
	"hopperful/process/colour"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func heap(t *testing.T, text string, words map[string]string) reckon.Reckoning {
	t.Helper()
	list, err := colour.ParsePortions(text)
	if err != nil {
		t.Fatal(err)
	}
	r, err := reckon.Answer(nil, "scrap-colour", reckon.Given{Words: words, Colours: map[string][]colour.Portion{"colours": list}})
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return r
}

func swatchOf(t *testing.T, r reckon.Reckoning, key string) reckon.Swatch {
	t.Helper()
	for _, s := range r.Swatches {
		if s.Key == key {
			return s
		}
	}
	t.Fatalf("%s has no colour %s", r.Topic.Key, key)
	return reckon.Swatch{}
}

// alike holds two codes against each other, part by part.
func alike(t *testing.T, got, want string, steps float64) {
	t.Helper()
	a, err := colour.ParseHex(got)
	if err != nil {
		t.Fatal(err)
	}
	b, err := colour.ParseHex(want)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []float64{a.R - b.R, a.G - b.G, a.B - b.B} {
		if math.Abs(255*d) > steps {
			t.Errorf("%s, want %s within %g", got, want, steps)
			return
		}
	}
}

// The two ends are those of another program after the same method with plain
// sums every 10 nm (rows Ends and EndsBelow of package colour), the lightness of
// one colour alone is culori's lab65 (Culori2025).
func TestHeapsHaveTheColoursOfTheChecks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, melted, streaks string }{
		{"#1c1c1c 5, #f2f2ee 95", "#6a6a6a", "#edede9"},
		{"#1c1c1c 1, #f2f2ee 99", "#9d9d9d", "#f1f1ed"},
		{"#c0402a 50, #f2f2ee 50", "#d1563e", "#dbb6b1"},
		{"#f5c400 2 kg, #1e5aa8 2 kg", "#357359", "#b59b7a"},
	} {
		r := heap(t, c.text, nil)
		alike(t, swatchOf(t, r, "melted").RGB, c.melted, 1.01)
		alike(t, swatchOf(t, r, "streaks").RGB, c.streaks, 1.01)
	}
	if l := valueOf(t, heap(t, "#c0402a", nil), "lightness"); math.Abs(l-45.692) > 0.01 {
		t.Errorf("lightness %g", l)
	}
	r := ask(t, "concentrate", map[string]float64{"share": 0.05, "strength": 1, "doubt": 1}, map[string]string{"concentrate": "#1c1c1c", "taken": "instrument"})
	alike(t, swatchOf(t, r, "melted").RGB, "#6a6a6a", 1.01)
}

// leftOut are the colours it says to leave out.
func leftOut(r reckon.Reckoning) (names []string) {
	advice, _ := r.Head.Fact("advice")
	for _, a := range advice.Parts {
		told, _ := a.Fact("names")
		for _, p := range told.Parts {
			names = append(names, p.Text("text"))
		}
	}
	return names
}

// Black spoils a light heap first, whatever stands in front; counting narrows; a
// wanted colour decides what is better.
func TestLeavingOutWinsMost(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"#1c1c1c 10, #f2f2ee 45, #f5c400 45", "#f5c400 45, #f2f2ee 45, #1c1c1c 10"} {
		r := heap(t, text, nil)
		if !slices.Equal(leftOut(r), []string{"#1c1c1c"}) || swatchOf(t, r, "without_1").Name.Text("names") != "#1c1c1c" || valueOf(t, r, "without_1") < valueOf(t, r, "lightness")+10 {
			t.Errorf("%+v", r.Head)
		}
	}
	r := heap(t, "#1c1c1c 60, #f2f2ee 40", map[string]string{"wanted": "#1c1c1c"})
	if !slices.Equal(leftOut(r), []string{"#f2f2ee"}) {
		t.Errorf("for black: %+v", r.Head)
	}
	// One of several dark lots wins little, all of them much: a few shares of black
	// ruin white (common practice, no source).
	r = heap(t, "#1c1c1c 20, #202020 20, #181818 20, #f2f2ee 40", nil)
	if left := valueOf(t, r, "left_out"); math.Abs(left-0.6) > 1e-9 || valueOf(t, r, "rest") < 90 || valueOf(t, r, "without_1") > 40 {
		t.Errorf("left out %g: %+v", left, r.Head)
	}
	if r := heap(t, "#c0402a 50, #c1412b 50", nil); !noted(r, "reckon.wins_little") {
		t.Errorf("two of one colour: %+v", r.Head)
	}
	wide := func(how string) float64 {
		f := figureOf(t, heap(t, "#1c1c1c 10, #f2f2ee 90", map[string]string{"looked": how}), "lightness")
		return f.High - f.Low
	}
	if look, scale := wide("a look"), wide("weighed"); look < 1.2*scale {
		t.Errorf("a look leaves %g, the scale %g", look, scale)
	}
}

// The share a colour bears is the edge: mixed so, it is as far off as allowed.
func TestWhatALightColourBearsIsTheEdge(t *testing.T) {
	t.Parallel()
	f := figureOf(t, heap(t, "#1c1c1c 10, #f2f2ee 90", nil), "bears_1")
	r := ask(t, "concentrate", map[string]float64{"share": f.Value, "strength": 1, "doubt": 1}, map[string]string{"concentrate": "#1c1c1c", "taken": "instrument"})
	if far := valueOf(t, r, "from_base"); math.Abs(far-5) > 1e-3 || !(f.Low < f.Value && f.Value < f.High) {
		t.Errorf("%g of black is %g off; %g to %g", f.Value, far, f.Low, f.High)
	}
}

func TestLotsMakeAHeap(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 0.95), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 0.05),
		&shop.TakenIn{Lot: "S3", Class: shop.Scrap, Polymer: "PLA", Colour: "white", Mass: 1}, &shop.TakenIn{Lot: "S4", Class: shop.Scrap, Halogen: shop.Yes, Mass: 1})
	of := func(ids ...shop.LotID) (reckon.Reckoning, error) {
		return reckon.Answer(nil, "scrap-colour", reckon.Given{Lots: map[string][]shop.LotID{"lot": ids}, Shop: s})
	}
	r, err := of("R1", "R2", "S3", "R1")
	if err != nil {
		t.Fatal(err)
	}
	alike(t, swatchOf(t, r, "melted").RGB, "#6a6a6a", 1.01)
	if !noted(r, "reckon.uncoloured") || r.Words["looked"] != "weighed" {
		t.Errorf("%+v %v", r.Spoilers, r.Words)
	}
	for _, c := range []struct {
		ids  []shop.LotID
		says string
	}{{[]shop.LotID{"S3"}, "reckon.all_uncoloured"}, {[]shop.LotID{"R1", "S4"}, "bar.halogen"}, {[]shop.LotID{"R9"}, "shop.no_lot"}, {make([]shop.LotID, 30), "reckon.most_lots"}} {
		_, err := of(c.ids...)
		var refused *shop.Error
		if !errors.As(err, &refused) || refused.What.Code != c.says || refused.Field != "lot" || refused.Advice.Empty() {
			t.Errorf("%v: %v", c.ids, err)
		}
	}
	if _, err := reckon.Answer(nil, "scrap-colour", reckon.Given{Lots: map[string][]shop.LotID{"lot": {"R1"}}}); err == nil {
		t.Error("lots of no shop")
	}
	if _, err := reckon.Answer(nil, "concentrate", reckon.Given{Lots: map[string][]shop.LotID{"lot": {"R1"}}}); err == nil {
		t.Error("a topic takes lots it does not ask for")
	}
}

// A wanted colour that is a mix of the two is found at its share; a trial teaches
// the strength it was mixed with; another hue is out of reach.
func TestConcentrateFindsItsShare(t *testing.T) {
	t.Parallel()
	sure := map[string]string{"taken": "instrument"}
	at := func(share, strength float64, words map[string]string) reckon.Reckoning {
		all := map[string]string{"taken": "instrument"}
		for k, v := range words {
			all[k] = v
		}
		return ask(t, "concentrate", map[string]float64{"share": share, "strength": strength, "doubt": 1, "within": 1}, all)
	}
	mixed := swatchOf(t, at(0.03, 6, sure), "melted").RGB
	r := at(0.03, 6, map[string]string{"wanted": mixed})
	if near := valueOf(t, r, "nearest"); math.Abs(near-0.03) > 1e-3 || valueOf(t, r, "nearest_off") > 0.3 || valueOf(t, r, "needed") >= near || valueOf(t, r, "chance") != 1 {
		t.Errorf("nearest %g: %+v", near, r.Head)
	}
	r = ask(t, "concentrate", map[string]float64{"share": 0.03, "trial_share": 0.03}, map[string]string{"trial": mixed, "taken": "instrument"})
	if s := valueOf(t, r, "learned"); math.Abs(s-6) > 0.1 {
		t.Errorf("the trial teaches %g, it was mixed with 6", s)
	}
	r = at(0.02, 10, map[string]string{"wanted": "#c0402a"})
	if !noted(r, "reckon.not_reached") || valueOf(t, r, "chance") != 0 {
		t.Errorf("%+v", r.Head)
	}
	r = at(0.02, 10, map[string]string{"wanted": "#f2f2ee"})
	if !noted(r, "reckon.base_is_near") {
		t.Errorf("%+v", r.Head)
	}
	photo := figureOf(t, ask(t, "concentrate", map[string]float64{"doubt": 1}, nil), "lightness")
	exact := figureOf(t, ask(t, "concentrate", map[string]float64{"doubt": 1}, sure), "lightness")
	if exact.High-exact.Low > 1e-9 || photo.High-photo.Low < 2 || figure.Check(photo) != nil {
		t.Errorf("an instrument leaves %g to %g, a photo %g to %g", exact.Low, exact.High, photo.Low, photo.High)
	}
}

// What a melted mix taught of how strongly a lot tints is used, and said.
func TestHeapsUseWhatMeltedMixesTaught(t *testing.T) {
	t.Parallel()
	taken := func(id shop.LotID, rgb string, melted shop.YesNo) shop.Body {
		return &shop.Coloured{Lot: id, How: shop.Instrument, RGB: rgb, Melted: melted}
	}
	start := []shop.Body{shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 0.95), taken("R1", "#f2f2ee", shop.Yes), shoptest.Painted("R2", shop.Regrind, "#1e5aa8", 0.3), taken("R2", "#1e5aa8", shop.Yes),
		shoptest.Blended("B1", shop.Portion{Lot: "R1", Mass: 0.19}, shop.Portion{Lot: "R2", Mass: 0.05})}
	look := func(more ...shop.Body) reckon.Reckoning {
		r, err := reckon.Answer(nil, "scrap-colour", reckon.Given{Lots: map[string][]shop.LotID{"lot": {"R1", "R2"}}, Shop: shoptest.Bin(t, append(slices.Clone(start), more...)...)})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	// The mix is as dark as one of a blue that tints twice as strongly.
	before, after := look(), look(taken("B1", "#427ec4", shop.Yes))
	b, a := figureOf(t, before, "bears_1"), figureOf(t, after, "bears_1")
	if a.Value > 0.8*b.Value || a.High/a.Low >= b.High/b.Low || !noted(after, "colour.tints") {
		t.Errorf("before %g (%g to %g), after %g (%g to %g): %v", b.Value, b.Low, b.High, a.Value, a.Low, a.High, after.Spoilers)
	}
}
