package blend_test

import (
	"math"
	"testing"

	"hopperful/plan/blend"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// taken asks a question again as an ease has it.
func taken(t *testing.T, req blend.Request, set []blend.Setting) blend.Request {
	t.Helper()
	fields := map[string]**float64{"mean_age": &req.MeanAge, "fines": &req.Fines, "moisture": &req.Moisture, "metal": &req.Metal,
		"flow_low": &req.FlowLow, "flow_high": &req.FlowHigh, "within": &req.WithinDE}
	for _, x := range set {
		switch at := fields[x.Field]; {
		case at != nil:
			*at = x.Value
		case x.Field == "most_lots":
			req.MostLots = int(*x.Value)
		case x.Field == "least":
			req.Least = *x.Value
		case x.Field == "rgb":
			req.RGB, req.AnyColour = "", true
		default:
			t.Fatalf("no field %q", x.Field)
		}
	}
	return req
}

// cost is the money in the best recipe, reckoned from the portions by hand.
func cost(b blend.Blending, perKilogram map[shop.LotID]float64) float64 {
	sum := 0.0
	for _, p := range b.Recipes[0].Portions {
		sum += p.Mass.Value * perKilogram[p.Lot]
	}
	return sum
}

// What an ease is said to save is what asking so saves, in money by hand: V1 cost 20 a
// kilogram, the regrind nothing.
func TestAnEaseSavesWhatItSays(t *testing.T) {
	t.Parallel()
	price := map[shop.LotID]float64{"V1": 20}
	s := shoptest.Bin(t, virginLot(2, 40), regrind("R1", 2))
	req := wantBlend(0.5)
	req.Order, req.MeanAge = blend.Cheapest, shoptest.P(0.4)
	b := find(t, s, req)
	if len(b.Eases) != 1 || b.Eases[0].Limit != "mean_age" || math.Abs(*b.Eases[0].Set[0].Value-0.9) > 1e-12 {
		t.Fatalf("got %+v", b.Eases)
	}
	wider := find(t, s, taken(t, req, b.Eases[0].Set))
	saved, _ := b.Eases[0].Says.Fact("less")
	if want := cost(b, price) - cost(wider, price); want < 1 || math.Abs(saved.Figure.Value-want) > 0.05 {
		t.Errorf("said to save %g, saves %g", saved.Figure.Value, want)
	}
	for _, l := range b.Limits {
		if l.Key == "mean_age" && l.Relax.Empty() {
			t.Error("the limit that binds does not say what relaxing it gives")
		}
	}
}

// Where too few lots may be taken one more is offered, and gives a blend that is nearer or
// cheaper; where all are taken none is.
func TestOneLotMoreIsOffered(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, virginLot(2, 40), regrind("R1", 0.2), regrind("R2", 0.2), regrind("R3", 0.2))
	req := wantBlend(0.5)
	req.Order, req.MostLots = blend.Cheapest, 2
	b := find(t, s, req)
	if len(b.Eases) != 1 || b.Eases[0].Limit != "most_lots" || *b.Eases[0].Set[0].Value != 3 {
		t.Fatalf("got %+v", b.Eases)
	}
	wider := find(t, s, taken(t, req, b.Eases[0].Set))
	price := map[shop.LotID]float64{"V1": 20}
	if saved, _ := b.Eases[0].Says.Fact("less"); math.Abs(saved.Figure.Value-(cost(b, price)-cost(wider, price))) > 0.05 || len(wider.Recipes[0].Portions) != 3 {
		t.Errorf("said to save %g: %g and %g", saved.Figure.Value, cost(b, price), cost(wider, price))
	}
	req.MostLots = 4
	if b = find(t, s, req); len(b.Eases) != 0 {
		t.Errorf("all lots may be taken: %+v", b.Eases)
	}
}

// A blend none can be: each condition of the conflict is offered to be left open, and
// leaving one open that stands alone gives a recipe.
func TestLeavingAConditionOpenGivesARecipe(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		bodies []shop.Body
		ask    func(*blend.Request)
		key    string
	}{
		"too old":     {[]shop.Body{regrind("R1", 2)}, func(r *blend.Request) { r.MeanAge = shoptest.P(0.5) }, "mean_age"},
		"colour":      {[]shop.Body{shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 2)}, func(r *blend.Request) { r.RGB = "#1e5aa8" }, "nearest"},
		"too few":     {[]shop.Body{regrind("R1", 0.2), regrind("R2", 0.2), regrind("R3", 0.2)}, func(r *blend.Request) { r.MostLots = 2 }, "most_lots"},
		"least alone": {[]shop.Body{regrind("R1", 0.45), regrind("R2", 0.2)}, func(r *blend.Request) { r.Least = 0.3 }, "least"},
	} {
		s := shoptest.Bin(t, c.bodies...)
		req := wantBlend(0.5)
		c.ask(&req)
		b := find(t, s, req)
		if b.Possible {
			t.Errorf("%s: there is a recipe", name)
			continue
		}
		offered := false
		for _, e := range b.Eases {
			if e.Limit != c.key {
				continue
			}
			offered = true
			if again := find(t, s, taken(t, req, e.Set)); !again.Possible {
				t.Errorf("%s: leaving %s open gives none: %v", name, e.Limit, again.Says)
			}
		}
		if !offered {
			t.Errorf("%s: offered %+v", name, b.Eases)
		}
	}
}
