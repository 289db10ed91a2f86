package blend

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/recipe"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func regrindOf(id shop.LotID, mass float64) *shop.TakenIn {
	return &shop.TakenIn{Lot: id, Class: shop.Regrind, Polymer: "PLA", Mass: mass, Halogen: shop.No}
}

// A bucket by hand: of half a kilogram 0.32 kg of R1 stand in it instead of 0.3. The 0.18 kg
// left are parted as the recipe had R2 and R3, 1 : 1, and no further than R2 goes.
func TestABucketByHand(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, regrindOf("R1", 1), regrindOf("R2", 0.05), regrindOf("R3", 1), &shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.004}})
	b := Batch{Take: Weighed{{Lot: "R1", Mass: 0.3}, {Lot: "R2", Mass: 0.1}, {Lot: "R3", Mass: 0.1}}, Put: Weighed{{Lot: "R1", Mass: 0.32}}, state: s}
	b.Now = b.inProportion(0.5)
	for i, want := range []float64{0.32, 0.05, 0.09} {
		if math.Abs(b.Now[i].Mass-want) > 1e-12 {
			t.Errorf("%s is %g, wanted %g", b.Now[i].Lot, b.Now[i].Mass, want)
		}
	}
	if b.Take[1].Mass != 0.1 {
		t.Error("the recipe was written over")
	}
	if over := b.inProportion(0.1); over[1].Mass != 0 || over[2].Mass != 0 || over[0].Mass != 0.32 { // more is in than was wanted
		t.Errorf("%+v", over)
	}
	if got := b.Take.Total(); math.Abs(got-0.5) > 1e-12 {
		t.Errorf("all of it is %g", got)
	}
	if m, in := b.Take.Of("R9"); in || m != 0 {
		t.Errorf("R9 is in it, %g", m)
	}
	// A row is off by a step, a digit of the scale or a hundredth of it, whichever is most.
	for _, c := range []struct{ step, mass, want float64 }{{0.01, 0.1, 0.01}, {0.001, 0.1, 0.004}, {0.001, 0.9, 0.009}} {
		b := Batch{Take: Weighed{{Lot: "R1", Mass: 0.2}, {Lot: "R3", Mass: 0.3}}, Now: Weighed{{Lot: "R1", Mass: c.mass}, {Lot: "R3", Mass: 0.3}}, Put: Weighed{{Lot: "R3", Mass: 0.31}}, request: Request{Step: c.step}, state: s}
		rows := b.Rows()
		if math.Abs(rows[0].Within-c.want) > 1e-12 || rows[0].Planned != 0.2 || rows[0].Mass != c.mass || math.Abs(rows[1].Running-c.mass-0.3) > 1e-12 || rows[0].Put != nil || *rows[1].Put != 0.31 {
			t.Errorf("%+v: %+v", c, rows)
		}
	}
	// The scale shows all that is in; ten times the plan and a kilogram is another lot's mass.
	for _, c := range []struct {
		all, mass float64
		far       bool
	}{{0.42, 0.1, false}, {2.32, 2, false}, {2.33, 2.01, true}, {0.3, -0.02, false}} {
		if mass, far := b.Shows("R2", c.all); math.Abs(mass-c.mass) > 1e-12 || far != c.far {
			t.Errorf("%g on the scale: %g, far %t", c.all, mass, far)
		}
	}
	for put, want := range map[string]bool{"R1": false, "R1 R2": false, "R1 R2 R3": true} {
		b.Put = nil
		for _, id := range []shop.LotID{"R1", "R2", "R3"} {
			if len(put) >= 3*(len(b.Put)+1)-1 {
				b.Put = append(b.Put, shop.Portion{Lot: id, Mass: 0.1})
			}
		}
		if b.Finished() != want {
			t.Errorf("with %s in, finished %t", put, b.Finished())
		}
	}
}

// A limit met to the last digit goes by a two-hundredth, up or, for the least flow, down.
func TestWhatIsForgiven(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	r := Request{MeanAge: p(2), Fines: p(0.1), Moisture: p(1e-3), Metal: p(1e-5), FlowHigh: p(1e-5), FlowLow: p(1e-6), WithinDE: p(4)}
	before := r
	forgive(&r)
	for name, c := range map[string][2]*float64{"age": {before.MeanAge, r.MeanAge}, "fines": {before.Fines, r.Fines}, "water": {before.Moisture, r.Moisture}, "metal": {before.Metal, r.Metal}, "flow": {before.FlowHigh, r.FlowHigh}, "colour": {before.WithinDE, r.WithinDE}} {
		if math.Abs(*c[1] / *c[0] - 1.005) > 1e-12 {
			t.Errorf("%s goes from %g to %g", name, *c[0], *c[1])
		}
	}
	if math.Abs(*before.FlowLow / *r.FlowLow - 1.005) > 1e-12 || *before.FlowLow != 1e-6 {
		t.Errorf("the least flow goes to %g", *r.FlowLow)
	}
	none := Request{}
	if forgive(&none); none.FlowLow != nil || none.MeanAge != nil {
		t.Errorf("what was open is %+v", none)
	}
}

// What contradicts each other is told in one order, and what to leave open instead: of each limit
// only the side it is limited on, twice the lots, the smallest step.
func TestConflictsByHand(t *testing.T) {
	t.Parallel()
	row := func(key string) blendRow { return blendRow{key: key, name: "blend." + key} }
	j := &blendJob{rows: []blendRow{row("mean_age"), row("melt_flow"), row("stray_petg")}, req: Request{Step: 0.01, Least: 0.05}}
	j.problem.Most = 3
	codes := func(all []fact.Saying) (out []string) {
		for _, s := range all {
			code := s.Code
			if w, ok := s.Fact("what"); ok {
				code += " " + w.Parts[0].Code
			}
			out = append(out, code)
		}
		return out
	}
	full := &recipe.Conflict{Stock: true, Most: true, Steps: true, Small: true, Low: []int{1}, High: []int{0, 1, 2}, Curve: []int{0}}
	want := []string{"blend.the_stock", "blend.number_of_lots", "blend.whole_steps", "blend.smallest_amount", "blend.least_of blend.melt_flow",
		"blend.most_of blend.mean_age", "blend.most_of blend.melt_flow", "blend.most_of blend.stray_petg", "blend.the_colour"}
	if got := codes(j.conflict(full)); !slices.Equal(got, want) {
		t.Errorf("told %v", got)
	}
	if got := j.conflict(nil); len(got) != 0 {
		t.Errorf("nothing contradicts, and %v is told", got)
	}
	for name, c := range map[string]struct {
		conflict recipe.Conflict
		want     []string
	}{"stock": {recipe.Conflict{Stock: true}, []string{"blend.the_stock"}}, "colour": {recipe.Conflict{Curve: []int{0}}, []string{"blend.the_colour"}}} {
		if got := codes(j.conflict(&c.conflict)); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v", name, got)
		}
	}
	asked := func(c *recipe.Conflict) map[string]string {
		var b Blending
		j.opened(&b, recipe.Answer{Conflict: c})
		out := map[string]string{}
		for _, e := range b.Eases {
			for _, x := range e.Set {
				v := "open"
				if x.Value != nil {
					v = strconv.FormatFloat(*x.Value, 'g', 4, 64)
				}
				out[e.Limit+"."+x.Field] = v
			}
		}
		return out
	}
	got := asked(full)
	for key, v := range map[string]string{"mean_age.mean_age": "open", "melt_flow.flow_high": "open", "melt_flow.flow_low": "open", "colour.rgb": "open", "colour.within": "open", "most_lots.most_lots": "6", "least.least": "0.01"} {
		if got[key] != v {
			t.Errorf("%s is %q, wanted %q of %v", key, got[key], v, got)
		}
	}
	if len(got) != 7 {
		t.Errorf("asked %v", got)
	}
	if got := asked(nil); len(got) != 0 {
		t.Errorf("nothing contradicts: %v", got)
	}
	if got := asked(&recipe.Conflict{High: []int{2}, Low: []int{0}}); len(got) != 0 { // what no question changes
		t.Errorf("%v", got)
	}
	j.req.Least = 0.01 // is the step already
	if got := asked(&recipe.Conflict{Small: true}); len(got) != 0 {
		t.Errorf("%v", got)
	}
}

// Why a lot is passed over before anybody reckons, and what putting it in would do.
func TestWhyALotIsNotInIt(t *testing.T) {
	t.Parallel()
	lot := func(mass float64, class shop.Class) *shop.Lot { return &shop.Lot{ID: "R1", Mass: mass, Class: class} }
	for _, c := range []struct {
		req   Request
		lot   *shop.Lot
		named bool
		want  string
	}{
		{Request{}, lot(1, shop.Regrind), false, ""}, {Request{}, lot(0, shop.Regrind), true, "blend.nothing_left"},
		{Request{Without: []shop.LotID{"R1"}}, lot(1, shop.Regrind), true, "blend.left_out"},
		{Request{Lots: []shop.LotID{"R2"}}, lot(1, shop.Regrind), false, "blend.not_among"}, {Request{Lots: []shop.LotID{"R1"}}, lot(1, shop.Regrind), true, ""},
		{Request{}, lot(1, shop.Scrap), false, "blend.no_granulate"}, {Request{}, lot(1, shop.Scrap), true, ""},
	} {
		j := &blendJob{req: c.req}
		if got := j.passed(c.lot, c.named); got.Code != c.want {
			t.Errorf("%+v of %+v, named %t: %q, wanted %q", c.req, c.lot, c.named, got.Code, c.want)
		}
	}
	found, none := recipe.Answer{Recipes: make([]recipe.Recipe, 1)}, recipe.Answer{}
	for _, c := range []struct {
		order  Order
		change recipe.Change
		want   string
		by     float64
	}{
		{Cheapest, recipe.Change{After: found, Cost: 0.5}, "blend.with_it_dearer", 0}, {Cheapest, recipe.Change{After: found, Cost: 0}, "blend.with_it_as_good", 0}, {Cheapest, recipe.Change{After: found, Cost: -1}, "blend.with_it_as_good", 0},
		{NearestColour, recipe.Change{After: found, Cost: 2}, "blend.with_it_farther", 2}, {OldFirst, recipe.Change{After: found, Cost: 3}, "blend.with_it_younger", 3.0 / 2 * 86400}, {OldFirst, recipe.Change{After: found, Cost: 1e-9}, "blend.with_it_younger", 1},
		{OldFirst, recipe.Change{After: none, Cost: math.Inf(1)}, "blend.with_it_none_found", 0},
		{OldFirst, recipe.Change{After: recipe.Answer{Conflict: &recipe.Conflict{Stock: true}}, Cost: math.Inf(1)}, "blend.with_it_none_keeps", 0},
	} {
		j := &blendJob{state: &shop.State{}, req: Request{Order: c.order, Least: 0.05}, mass: 2}
		why, remedy := j.worth(c.change)
		if why.Code != c.want || (remedy.Code == "blend.relax_that") != (c.want == "blend.with_it_none_keeps") {
			t.Errorf("%s, %+v: %q and %q", c.order, c.change, why.Code, remedy.Code)
		}
		if by, ok := why.Fact("by"); ok && math.Abs(by.Value-c.by) > 1e-9*c.by {
			t.Errorf("%s: by %g, wanted %g", c.want, by.Value, c.by)
		}
	}
	for name, want := range map[string]string{"PE-HD": "pe_hd", " PA 6.6!": "pa_6_6", "z9": "z9", "A0": "a0", "{x`": "x"} {
		if got := snake(name); got != want {
			t.Errorf("%q is %q, wanted %q", name, got, want)
		}
	}
}

// What the nearest blend breaks, in words and numbers: half a step is rounding, a row in logarithms is told
// without them, and on the side it is broken on.
func TestWhatTheNearestBreaks(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	row := func(key string, logs bool, lo, hi float64) blendRow {
		return blendRow{key: key, name: "blend." + key, logs: logs, Limit: recipe.Limit{Lo: lo, Hi: hi}}
	}
	j := &blendJob{within: 5, req: Request{Step: 0.01, MostLots: 2}, rows: []blendRow{row("fines", false, -inf, 0.1), row("melt_flow", true, math.Log(2), math.Log(4))}}
	for name, c := range map[string]struct {
		near      recipe.Nearest
		lots      int
		code      string
		is, limit float64
	}{
		"nothing":        {recipe.Nearest{Short: 0.005, Over: []float64{0, 0}, Curves: []float64{0}}, 2, "", 0, 0},
		"too little":     {recipe.Nearest{Short: 0.0051}, 2, "blend.short", 0, 0},
		"too much":       {recipe.Nearest{Short: -0.0051}, 2, "blend.over", 0, 0},
		"too many lots":  {recipe.Nearest{}, 3, "blend.lots_instead", 0, 0},
		"too dusty":      {recipe.Nearest{Over: []float64{0.02, 0}}, 1, "blend.above_most", 0.12, 0.1},
		"too stiff":      {recipe.Nearest{Over: []float64{0, -math.Ln2}}, 1, "blend.below_least", 1, 2},
		"too runny":      {recipe.Nearest{Over: []float64{0, math.Ln2}}, 1, "blend.above_most", 8, 4},
		"another colour": {recipe.Nearest{Curves: []float64{1.5}}, 1, "blend.above_most", 6.5, 5},
	} {
		out := Recipe{Portions: make([]Portion, c.lots)}
		j.broken(&out, &c.near)
		if c.code == "" {
			if len(out.Breaks) != 0 {
				t.Errorf("%s: %+v", name, out.Breaks)
			}
			continue
		}
		if len(out.Breaks) != 1 || out.Breaks[0].Code != c.code {
			t.Errorf("%s: %+v", name, out.Breaks)
			continue
		}
		is, _ := out.Breaks[0].Fact("is")
		limit, _ := out.Breaks[0].Fact("limit")
		if math.Abs(is.Value-c.is) > 1e-12 || math.Abs(limit.Value-c.limit) > 1e-12 {
			t.Errorf("%s: %g against %g, wanted %g and %g", name, is.Value, limit.Value, c.is, c.limit)
		}
	}
	// A limit on both sides is told on the one that is nearer, a half-open one on its own.
	for _, c := range []struct {
		lo, hi, value, limit float64
		over                 bool
	}{{2, 4, 2.1, 2, true}, {2, 4, 3.9, 4, false}, {2, 4, 3, 4, false}, {-inf, 4, 1, 4, false}, {2, inf, 90, 2, true}} {
		var b Blending
		j := &blendJob{rows: []blendRow{row("fines", false, c.lo, c.hi)}}
		if err := j.held(&b, recipe.Recipe{Limits: []recipe.Reading{{Value: c.value, Price: 1}}}); err != nil {
			t.Fatal(err)
		}
		if l := b.Limits[0].Figure.Limit; l.Value != c.limit || (l.Side == figure.Over) != c.over || b.Limits[0].Figure.Value != c.value || !b.Limits[0].Binds {
			t.Errorf("%+v: held to %+v", c, l)
		}
	}
	// Portions are weighed heaviest first, alike ones as they come, and never more than there is.
	lots := []blendLot{{Lot: &shop.Lot{ID: "A", Mass: 0.1}}, {Lot: &shop.Lot{ID: "B", Mass: 1}}, {Lot: &shop.Lot{ID: "C", Mass: 1}}}
	none, err := (&blendJob{lots: lots}).recipe(nil)
	if err != nil || len(none.Portions) != 0 || none.Mass.Value != 0 {
		t.Errorf("of nothing: %+v, %v", none, err)
	}
}
