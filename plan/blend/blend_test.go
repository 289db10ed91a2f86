package blend_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/blend"
	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// wantBlend is a request for so much of PLA, without a reserve.
func wantBlend(mass float64) blend.Request {
	return blend.Request{Need: shop.Need{Name: "vase", From: "typed", Mass: shoptest.P(mass), Polymer: "PLA"}, Reserve: shoptest.P(0), Step: 0.001}
}

// says reports whether a code stands in what is said.
func says(what any, code string) bool { return strings.Contains(fmt.Sprint(what), code) }

// find asks, and holds what every answer must be.
func find(t testing.TB, s *shop.State, req blend.Request) blend.Blending {
	t.Helper()
	b, err := blend.Find(s, req)
	if err != nil {
		t.Fatal(err)
	}
	if b.Says.Empty() || b.Possible == (b.Blocked != nil) || b.Possible == (len(b.Recipes) == 0) {
		t.Errorf("got %+v", b)
	}
	for i, r := range b.Recipes {
		if len(r.Breaks) > 0 || math.Abs(r.Mass.Value-b.Need.Value) > 1e-9 {
			t.Errorf("recipe %d: %g kg for %g, breaks %v", i, r.Mass.Value, b.Need.Value, r.Breaks)
		}
		weighable(t, s, req, r)
	}
	if b.Nearest != nil {
		weighable(t, s, blend.Request{}, *b.Nearest)
	}
	if _, err := json.Marshal(b); err != nil {
		t.Error(err)
	}
	return b
}

// weighable holds that a recipe adds up, takes no more than there is, and comes
// in whole steps.
func weighable(t testing.TB, s *shop.State, req blend.Request, r blend.Recipe) {
	t.Helper()
	sum, shares := 0.0, 0.0
	for _, x := range r.Portions {
		sum += x.Mass.Value
		shares += x.Share
		if x.Mass.Value > s.Lots.At(x.Lot).Mass || x.Left < 0 || x.Mass.Value <= 0 {
			t.Errorf("%s: %g kg of %g", x.Lot, x.Mass.Value, s.Lots.At(x.Lot).Mass)
		}
		if steps := x.Mass.Value / req.Step; req.Step > 0 && math.Abs(steps-math.Round(steps)) > 1e-6 {
			t.Errorf("%s: %g kg is no whole step", x.Lot, x.Mass.Value)
		}
		if math.Abs(x.Running-sum) > 1e-9 {
			t.Errorf("%s: running total %g, is %g", x.Lot, x.Running, sum)
		}
	}
	if math.Abs(sum-r.Mass.Value) > 1e-9 || math.Abs(shares-1) > 1e-9 {
		t.Errorf("masses add up to %g of %g, shares to %g", sum, r.Mass.Value, shares)
	}
	if req.MostLots > 0 && len(r.Portions) > req.MostLots {
		t.Errorf("%d lots, at most %d wanted", len(r.Portions), req.MostLots)
	}
	for _, f := range r.Figures {
		if err := figure.Check(f); err != nil {
			t.Error(err)
		}
	}
}

func regrind(id shop.LotID, mass float64) *shop.TakenIn {
	return &shop.TakenIn{Lot: id, Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Colour: "black", Halogen: shop.No, Mass: mass}
}

func virginLot(mass, price float64) *shop.TakenIn {
	return &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Sure: shoptest.P(1), Colour: "natural", Halogen: shop.No, Mass: mass, Price: shoptest.P(price)}
}

func TestOldStockGoesFirst(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, virginLot(5, 100), regrind("R1", 0.2), regrind("R2", 1))
	b := find(t, s, wantBlend(0.5))
	if got := b.Recipes[0].Portions; len(got) != 2 || got[0].Lot != "R2" || got[1].Lot != "R1" || !got[1].All {
		t.Errorf("got %v", b.Says)
	}
	if !b.Proved || len(b.Recipes) < 2 {
		t.Errorf("proved %t, %d recipes", b.Proved, len(b.Recipes))
	}
}

// Half the passes allowed of material with up to two: half of it has to be new
// (own derivation: 2 x = 1).
func TestMeanAgeBinds(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, virginLot(5, 100), regrind("R1", 2))
	req := wantBlend(0.5)
	req.MeanAge, req.Order = shoptest.P(1), blend.Cheapest
	b := find(t, s, req)
	var l answer.Limit
	for _, x := range b.Limits {
		if x.Key == "mean_age" {
			l = x
		}
	}
	for _, x := range b.Recipes[0].Portions {
		if math.Abs(x.Share-0.5) > 0.01 {
			t.Errorf("got %v", b.Says)
		}
	}
	if !l.Binds || l.Figure.Value > 1+1e-9 || l.Relax.Code != "blend.gain_cost" {
		t.Errorf("got %+v", l)
	}
}

func TestBlendWithoutStockSaysSo(t *testing.T) {
	t.Parallel()
	for name, s := range map[string]*shop.State{"empty": shoptest.Bin(t), "scrap only": shoptest.Bin(t, shoptest.Scrap("PLA", "black", 3)),
		"halogen": shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Halogen: shop.Yes, Mass: 2})} {
		b := find(t, s, wantBlend(0.5))
		if b.Possible || b.Blocked.Limit.Code != "blend.the_stock" {
			t.Errorf("%s: got %+v", name, b.Blocked)
		}
	}
}

func TestNeedLargerThanAllStock(t *testing.T) {
	t.Parallel()
	b := find(t, shoptest.Bin(t, virginLot(0.3, 6), regrind("R1", 0.2)), wantBlend(0.8))
	if b.Possible || b.Nearest == nil || math.Abs(b.Nearest.Mass.Value-0.5) > 1e-9 || b.Blocked.Nearest.Code != "blend.grind_more" {
		t.Errorf("got %v, %+v", b.Says, b.Nearest)
	}
}

func TestContradictoryLimitsAreNamed(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, regrind("R1", 1), regrind("R2", 1))
	req := wantBlend(0.5)
	req.MeanAge = shoptest.P(0.5)
	b := find(t, s, req)
	if b.Possible || !says(b.Blocked.Limit, "blend.mean_passes_high") || b.Nearest == nil || len(b.Nearest.Breaks) == 0 {
		t.Errorf("got %v, %+v", b.Says, b.Nearest)
	}
	req.MostLots, req.Need.Mass = 1, shoptest.P(1.5) // what comes nearest may need more lots, and says so
	if b = find(t, s, req); b.Nearest == nil || len(b.Nearest.Portions) > 1 && !says(b.Nearest.Breaks, "blend.lots_instead") {
		t.Errorf("got %v", b.Says)
	}
	req = wantBlend(0.5)
	req.FlowLow, req.FlowHigh = shoptest.P(2e-5), shoptest.P(1e-5)
	if _, err := blend.Find(s, req); err == nil {
		t.Error("a window upside down is no error")
	}
}

// A grey between a black and a white lot: the shares are found, the difference
// is true, and it is as ColourOf says of the blend once it is made.
func TestBlendMeetsAColour(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 2), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 2), shoptest.Painted("R3", shop.Regrind, "#c0402a", 2))
	req := wantBlend(0.5)
	req.RGB, req.Order = "#808080", blend.NearestColour
	b := find(t, s, req)
	if !b.Possible {
		t.Fatal(b.Says)
	}
	record, ok := b.Record("grey")
	if !ok {
		t.Fatal("no record")
	}
	record.Into = "B1"
	after, err := s.With(shop.Record{At: shoptest.Noon, Body: record})
	if err != nil {
		t.Fatal(err)
	}
	made, err := traceability.ColourOf(after, "B1")
	if err != nil {
		t.Fatal(err)
	}
	if made.Mixed.RGB != b.Recipes[0].Mixed.RGB || math.Abs(made.Mixed.Lab[0]-53.6) > 2 {
		t.Errorf("made %s, said %s", made.Mixed.RGB, b.Recipes[0].Mixed.RGB)
	}
	for _, l := range b.Limits {
		for _, f := range b.Recipes[0].Figures {
			if l.Key == "colour" && f.Key == "colour_mixed" && math.Abs(l.Figure.Value-f.Value) > 1e-6 {
				t.Errorf("the search says %g, the colours %g", l.Figure.Value, f.Value)
			}
		}
	}
}

func TestColourOutOfReachIsTold(t *testing.T) {
	t.Parallel()
	req := wantBlend(0.5)
	req.RGB = "#1e5aa8"
	b := find(t, shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 2), shoptest.Painted("R2", shop.Regrind, "#c0402a", 2)), req)
	if b.Possible || b.Nearest == nil || !says(b.Nearest.Breaks, "blend.colour_difference") {
		t.Errorf("got %v", b.Says)
	}
}

func TestLotsOfUnknownColourFlowOrDustAreLeftAside(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 2), regrind("R2", 2))
	req := wantBlend(0.5)
	req.RGB = "#f2f2ee"
	b := find(t, s, req)
	if len(b.Aside) != 1 || b.Aside[0].Lot != "R2" || b.Aside[0].Why.Code != "blend.no_colour" {
		t.Errorf("got %+v", b.Aside)
	}
	req = wantBlend(0.5)
	req.Fines = shoptest.P(0.02)
	if b = find(t, s, req); b.Possible || len(b.Aside) != 2 || b.Aside[0].Why.Code != "blend.no_dust" {
		t.Errorf("got %+v", b.Aside)
	}
}

// At most three percent of PETG in PLA for a part to look at (the table of
// pairs).
func TestAnotherPlasticStaysWithinItsPair(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, virginLot(2, 40), &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PETG", Sure: shoptest.P(1), Halogen: shop.No, Mass: 1})
	req := wantBlend(1)
	req.Lots = []shop.LotID{"V1", "R1"}
	b := find(t, s, req)
	for _, x := range b.Recipes[0].Portions {
		if x.Lot == "R1" && math.Abs(x.Share-0.03) > 1e-3 {
			t.Errorf("got %v", b.Says)
		}
	}
	req.Lots = nil
	if b = find(t, s, req); len(b.Recipes[0].Portions) != 1 {
		t.Errorf("PETG goes in unasked: %v", b.Says)
	}
}

// Half a kilogram bought at 20 a kilogram and as much free regrind cost 10 a
// kilogram (own derivation).
func TestBlendPriceFollowsItsOrigins(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, virginLot(1, 20), regrind("R1", 1), shoptest.Blended("B1", shop.Portion{Lot: "V1", Mass: 0.5}, shop.Portion{Lot: "R1", Mass: 0.5}))
	req := wantBlend(0.2)
	req.Lots, req.Order = []shop.LotID{"B1"}, blend.Cheapest
	price := math.NaN()
	for _, f := range find(t, s, req).Recipes[0].Figures {
		if f.Key == "price" {
			price = f.Value
		}
	}
	if !(math.Abs(price-2) < 1e-9) {
		t.Errorf("200 g cost %g", price)
	}
}

// A shop in which every lot is blended of the two before it has more ways from
// the last to the first than can be walked.
func TestBlendOfTangledFamiliesEnds(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Sure: shoptest.P(1), Halogen: shop.No, Mass: 1000}, regrind("R1", 1000))
	for range 60 {
		n := len(s.Order)
		body := shoptest.Blended("", shop.Portion{Lot: s.Order[n-1], Mass: 1}, shop.Portion{Lot: s.Order[n-2], Mass: 1})
		if n > 3 {
			body.From = append(body.From, shop.Portion{Lot: "V1", Mass: 2})
		} else {
			body.From[0].Mass, body.From[1].Mass = 2, 2
		}
		next, err := s.With(shop.Record{At: shoptest.Noon, Body: body})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	find(t, s, wantBlend(0.5))
}

func TestWhyNotAnswersForEveryLot(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, virginLot(5, 100), regrind("R1", 1), regrind("R2", 1), shoptest.Scrap("PLA", "black", 1),
		&shop.TakenIn{Lot: "R3", Class: shop.Regrind, Polymer: "PETG", Sure: shoptest.P(1), Halogen: shop.No, Mass: 1})
	req := wantBlend(0.5)
	req.Order, req.WhyNot = blend.Cheapest, []shop.LotID{"V1", "R1", "R2", "S1", "R3"}
	for _, most := range []*float64{nil, shoptest.P(1.5), shoptest.P(0.1), shoptest.P(0)} {
		req.MeanAge = most
		b := find(t, s, req)
		if len(b.WhyNot) != len(req.WhyNot) {
			t.Fatalf("got %+v", b.WhyNot)
		}
		for i, want := range []string{"", "", "", "blend.no_granulate", "answer.other_polymer"} {
			if a := b.WhyNot[i]; a.Lot != req.WhyNot[i] || a.Why.Empty() || want != "" && a.Why.Code != want {
				t.Errorf("got %+v", a)
			}
		}
		switch why := b.WhyNot[0].Why.Code; {
		case most == nil && why != "blend.with_it_dearer", most != nil && why != "blend.in_recipe":
			t.Errorf("V1: %s", why)
		}
		if most != nil && *most == 0 && !says(b.WhyNot[1].Why, "blend.mean_passes_high") {
			t.Errorf("R1: %v", b.WhyNot[1].Why)
		}
	}
}

func TestRecipesKeepToStockStepsAndLots(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(5, 11))
	for range 12 {
		bodies := []shop.Body{virginLot(1+luck.Float64(), 30)}
		for i := range 2 + luck.IntN(12) {
			l := regrind(shop.LotID(fmt.Sprintf("R%d", i+1)), 0.02+0.4*luck.Float64())
			l.RGB = fmt.Sprintf("#%02x%02x%02x", 30+luck.IntN(200), 30+luck.IntN(200), 30+luck.IntN(200))
			bodies = append(bodies, l)
		}
		req := wantBlend(0.1 + luck.Float64())
		req.Step, req.MostLots = 0.02, 1+luck.IntN(4)
		req.Order = blend.Orders()[luck.IntN(3)]
		req.MeanAge = shoptest.P(0.2 + 2*luck.Float64())
		if req.Order == blend.NearestColour {
			req.RGB, req.WithinDE = "#808080", shoptest.P(20)
		}
		find(t, shoptest.Bin(t, bodies...), req)
	}
}

func TestBlendRefusesWhatCannotBeAsked(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, regrind("R1", 1))
	for name, change := range map[string]func(*blend.Request){
		"polymer": func(r *blend.Request) { r.Need.Polymer = "moonstone" }, "order": func(r *blend.Request) { r.Order = "by moon" },
		"rgb": func(r *blend.Request) { r.RGB = "red" }, "rgb for the order": func(r *blend.Request) { r.Order = blend.NearestColour },
		"lot": func(r *blend.Request) { r.Lots = []shop.LotID{"R9"} }, "mass": func(r *blend.Request) { r.Need.Mass = nil },
		"step": func(r *blend.Request) { r.Step = math.NaN() }, "fines": func(r *blend.Request) { r.Fines = shoptest.P(-1) },
		"huge": func(r *blend.Request) { r.Need.Mass = shoptest.P(1e6) }, "lots": func(r *blend.Request) { r.MostLots = -1 },
	} {
		req := wantBlend(0.5)
		change(&req)
		if _, err := blend.Find(s, req); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if keys := blend.Orders(); !slices.Contains(keys, blend.OldFirst) {
		t.Error("old stock is no order")
	}
}

// What a print taught of how strongly a lot tints reaches the search: the recipe
// changes, and its colour is that of the blend once it is made.
func TestBlendUsesWhatPrintsTaught(t *testing.T) {
	t.Parallel()
	start := []shop.Body{shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 2), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 2)}
	req := wantBlend(0.5)
	req.RGB, req.Order = "#808080", blend.NearestColour
	before := find(t, shoptest.Bin(t, start...), req)
	// A print far lighter than forecast: the black tints less than it was taken to.
	for range 4 {
		start = append(start, shoptest.Blended("B1", shop.Portion{Lot: "R1", Mass: 0.05}, shop.Portion{Lot: "R2", Mass: 0.005}))
	}
	for _, p := range []shop.LotID{"P1", "P2", "P3"} {
		start = append(start, &shop.Printed{From: "B1", Into: p, Print: "chip", Mass: 0.02}, &shop.Coloured{Lot: p, How: shop.Instrument, Lab: &shop.TakenLab{L: 72, Observer: 10}})
	}
	s := shoptest.Bin(t, start...)
	after := find(t, s, req)
	if !before.Possible || !after.Possible {
		t.Fatal(before.Says, after.Says)
	}
	black := func(b blend.Blending) float64 {
		for _, p := range b.Recipes[0].Portions {
			if p.Lot == "R2" {
				return p.Share
			}
		}
		return 0
	}
	if black(after) < 1.2*black(before) {
		t.Errorf("the recipe takes %.3f black, %.3f before", black(after), black(before))
	}
	record, _ := after.Record("grey")
	record.Into = "B9"
	made, err := s.With(shop.Record{At: shoptest.Noon, Body: record})
	if err != nil {
		t.Fatal(err)
	}
	c, err := traceability.ColourOf(made, "B9")
	if err != nil {
		t.Fatal(err)
	}
	if c.Mixed.RGB != after.Recipes[0].Mixed.RGB || math.Abs(c.Mixed.Lab[0]-53.6) > 2 {
		t.Errorf("made %s, said %s", c.Mixed.RGB, after.Recipes[0].Mixed.RGB)
	}
	for _, f := range after.Recipes[0].Figures {
		if f.Key == "colour_mixed" && !(f.Low < f.High && f.Low <= f.Value && f.Value <= f.High) {
			t.Errorf("%+v has no range", f)
		}
	}
}

// BenchmarkBlendOfManyColours is the search among twenty coloured lots of which
// prints have taught something.
func BenchmarkBlendOfManyColours(b *testing.B) {
	var start []shop.Body
	for i := range 20 {
		id := shop.LotID(fmt.Sprint("R", i+1))
		start = append(start, shoptest.Painted(id, shop.Regrind, fmt.Sprintf("#%02x%02x%02x", 20+11*i, 230-7*i, 40+(67*i)%190), 2))
	}
	for i := range 10 {
		into, print := shop.LotID(fmt.Sprint("B", i+1)), shop.LotID(fmt.Sprint("P", i+1))
		start = append(start, shoptest.Blended(into, shop.Portion{Lot: shop.LotID(fmt.Sprint("R", i+1)), Mass: 0.1}, shop.Portion{Lot: shop.LotID(fmt.Sprint("R", i+9)), Mass: 0.1}),
			&shop.Printed{From: into, Into: print, Print: "chip", Mass: 0.05}, &shop.Coloured{Lot: print, How: shop.CardPhoto, RGB: "#707060"})
	}
	s := shoptest.Bin(b, start...)
	req := wantBlend(0.5)
	req.RGB, req.Order = "#806040", blend.NearestColour
	for b.Loop() {
		if _, err := blend.Find(s, req); err != nil {
			b.Fatal(err)
		}
	}
}

// A bucket with ten grams too much of one lot: the rest is made up around it,
// and the mean still holds.
func TestTheRestIsMadeUpAroundWhatWasWeighed(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, virginLot(2, 40), shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 2))
	req := wantBlend(0.5)
	req.RGB, req.WithinDE, req.Lots = "", nil, []shop.LotID{"V1", "R1"}
	plain := find(t, s, req)
	first := plain.Recipes[0].Portions[0]
	req.Weighed = []shop.Portion{{Lot: "V1", Mass: 0.1334}}
	b, err := blend.Find(s, req)
	if err != nil || !b.Possible {
		t.Fatal(err, b.Says)
	}
	for _, x := range b.Recipes[0].Portions {
		if x.Lot == "V1" && math.Abs(x.Mass.Value-0.1334) > 1e-9 {
			t.Errorf("%g kg of V1, 133.4 g are in the bucket", x.Mass.Value)
		}
	}
	if m := b.Recipes[0].Mass.Value; math.Abs(m-0.5) > 0.0005+1e-9 {
		t.Errorf("%g kg in all", m)
	}
	req.Weighed, req.Without = nil, []shop.LotID{first.Lot}
	req.Lots = nil
	for _, x := range find(t, s, req).Recipes[0].Portions {
		if x.Lot == first.Lot {
			t.Errorf("%s was to be left out", x.Lot)
		}
	}
}

// What a moved limit is said to give is what asking so gives; and the nearest
// blend is a recipe once the limits go as far as it does.
func TestEasesGiveWhatTheySay(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, virginLot(2, 40), regrind("R1", 2))
	req := wantBlend(0.5)
	req.MeanAge = shoptest.P(0.5)
	b := find(t, s, req)
	if len(b.Eases) == 0 || b.Eases[0].Limit != "mean_age" || *b.Eases[0].Set[0].Value != 1 {
		t.Fatalf("got %+v", b.Eases)
	}
	req.MeanAge = b.Eases[0].Set[0].Value
	if wider := find(t, s, req); wider.Recipes[0].Portions[0].Lot == b.Recipes[0].Portions[0].Lot && wider.Recipes[0].Portions[0].Mass.Value == b.Recipes[0].Portions[0].Mass.Value {
		t.Error("the eased limit changes nothing")
	}
	req = wantBlend(0.5)
	req.RGB = "#1e5aa8"
	s = shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 2), shoptest.Painted("R2", shop.Regrind, "#c0402a", 2))
	b = find(t, s, req)
	if b.Possible || len(b.Eases) == 0 || b.Eases[0].Limit != "nearest" {
		t.Fatalf("got %+v", b.Eases)
	}
	for _, x := range b.Eases[0].Set {
		if x.Field == "within" {
			req.WithinDE = x.Value
		}
	}
	if b = find(t, s, req); !b.Possible {
		t.Errorf("the nearest blend is no recipe at its own limits: %v", b.Says)
	}
}
