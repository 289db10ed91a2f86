package blend

import (
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A number is rounded to three digits the way asked, and never past it: what a person types
// from the answer must still let the nearest blend through.
func TestRoundedGoesTheWayAsked(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 1))
	for range 2000 {
		v := math.Pow(10, 12*rng.Float64()-9)
		up, down := rounded(v, 1), rounded(v, -1)
		if up <= v || down >= v || up > v*1.0111 || down < v*0.9889 {
			t.Fatalf("%g is rounded to %g and %g", v, down, up)
		}
		digit := math.Pow(10, math.Floor(math.Log10(v))-2)
		for _, r := range []float64{up, down} {
			if n := r / digit; math.Abs(n-math.Round(n)) > 1e-6 {
				t.Fatalf("%g of %g has more than three digits", r, v)
			}
		}
	}
	if up, down := rounded(0.01, 1), rounded(0.01, -1); math.Abs(up-0.0101) > 1e-12 || math.Abs(down-0.0099) > 1e-12 {
		t.Errorf("0.01 is rounded to %g and %g: a full digit must go a little further", down, up)
	}
	if rounded(0, 1) != 0 || rounded(-2, 1) != -2 {
		t.Error("what is no mass is rounded")
	}
}

// Every limit goes by a two-hundredth, upwards or, where it is the least, downwards; one
// that nobody set stays open, and the question asked stays as it was.
func TestForgivenIsATwoHundredth(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	asked := Request{MeanAge: p(2), Fines: p(0.1), Moisture: p(2e-4), Metal: p(1e-5), FlowHigh: p(3e-5), FlowLow: p(1e-5), WithinDE: p(5)}
	req := asked
	forgive(&req)
	for what, c := range map[string][2]*float64{
		"mean age": {req.MeanAge, asked.MeanAge}, "fines": {req.Fines, asked.Fines}, "moisture": {req.Moisture, asked.Moisture},
		"metal": {req.Metal, asked.Metal}, "most flow": {req.FlowHigh, asked.FlowHigh}, "colour": {req.WithinDE, asked.WithinDE},
	} {
		if math.Abs(*c[0] / *c[1] - 1.005) > 1e-12 {
			t.Errorf("%s: %g of %g", what, *c[0], *c[1])
		}
	}
	if math.Abs(*asked.FlowLow / *req.FlowLow - 1.005) > 1e-12 || *asked.MeanAge != 2 {
		t.Errorf("least flow %g of %g", *req.FlowLow, *asked.FlowLow)
	}
	none := Request{}
	if forgive(&none); none.MeanAge != nil || none.FlowLow != nil || none.WithinDE != nil {
		t.Errorf("limits nobody set: %+v", none)
	}
}

// The rest is made up as the recipe had it, as far as each lot goes; by hand: 360 g of R1
// lie in the bucket of 600 g, 240 g stay for R2 and R3 as two to one, of R3 there are 50 g.
func TestTheRestInProportion(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#1c1c1c", 1), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 1), shoptest.Painted("R3", shop.Regrind, "#1c1c1c", 0.05))
	take := Weighed{{Lot: "R1", Mass: 0.3}, {Lot: "R2", Mass: 0.2}, {Lot: "R3", Mass: 0.1}}
	b := Batch{Take: take, Put: Weighed{{Lot: "R1", Mass: 0.36}}, state: s, request: Request{Step: 0.001}}
	same := func(got Weighed, want ...float64) {
		t.Helper()
		for i, x := range got {
			if x.Lot != take[i].Lot || math.Abs(x.Mass-want[i]) > 1e-12 || len(got) != len(want) {
				t.Errorf("got %v, by hand %v", got, want)
			}
		}
	}
	same(b.inProportion(0.6), 0.36, 0.16, 0.05)
	same(b.inProportion(0.3), 0.36, 0, 0) // more is in the bucket than was wanted
	if same(take, 0.3, 0.2, 0.1); b.Finished() {
		t.Error("two lots are not weighed in yet")
	}
	if math.Abs(take.Total()-0.6) > 1e-12 {
		t.Errorf("%g kg in all", take.Total())
	}
	if m, in := take.Of("R2"); !in || m != 0.2 {
		t.Errorf("R2: %g, %t", m, in)
	}
	if m, in := take.Of("R9"); in || m != 0 {
		t.Errorf("R9: %g, %t", m, in)
	}
	b.Now = b.inOrder(Recipe{Portions: []Portion{{Lot: "R3"}, {Lot: "R1"}}})
	same(b.Now, 0, 0, 0)
	b.Now = take
	rows := b.Rows()
	for i, want := range []BatchRow{{Mass: 0.3, Running: 0.3, Within: 0.003}, {Mass: 0.2, Running: 0.5, Within: 0.002}, {Mass: 0.1, Running: 0.6, Within: 0.001}} {
		if r := rows[i]; math.Abs(r.Running-want.Running) > 1e-12 || r.Mass != want.Mass || r.Planned != want.Mass || math.Abs(r.Within-want.Within) > 1e-12 || (r.Put == nil) == (i == 0) {
			t.Errorf("row %d: %+v", i, r)
		}
	}
	b.request.Step = 0.01
	if w := b.Rows()[2].Within; w != 0.01 {
		t.Errorf("a scoop of 10 g is within %g", w)
	}
	b.Put = append(b.Put, shop.Portion{Lot: "R2", Mass: 0.2}, shop.Portion{Lot: "R3", Mass: 0.04})
	if !b.Finished() {
		t.Error("all three are weighed in")
	}
	for all, far := range map[float64]bool{0.6 + 3.9: true, 0.6 + 2.9: false, 0.6 + 0.2: false} { // far: above ten times 200 g and a kilogram
		if mass, is := b.Shows("R2", all); is != far || math.Abs(mass-(all-0.6)) > 1e-12 {
			t.Errorf("%g kg on the scale: %g of R2, far %t", all, mass, is)
		}
	}
}
