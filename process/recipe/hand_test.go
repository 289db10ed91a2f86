package recipe

// What a recipe is weighed, judged and priced by, with the sums written out.

import (
	"math"
	"slices"
	"testing"
)

var open = math.Inf(1)

// A kilogram in scoops of 100 g: shares are rounded to scoops, and where the sum is off a scoop goes where rounding lost most.
func TestWeighedByHand(t *testing.T) {
	t.Parallel()
	scoops := func(n int, stock float64) (lots []Lot) {
		for range n {
			lots = append(lots, Lot{Stock: stock, Step: 0.1})
		}
		return lots
	}
	for name, c := range map[string]struct {
		p    Problem
		w    []float64
		want []float64 // kg
		ok   bool
	}{
		"as it is":                  {Problem{Mass: 1, Lots: scoops(2, 5)}, []float64{0.3, 0.7}, []float64{0.3, 0.7}, true},
		"one scoop more":            {Problem{Mass: 1, Lots: scoops(3, 5)}, []float64{0.34, 0.33, 0.33}, []float64{0.4, 0.3, 0.3}, true},
		"one scoop less":            {Problem{Mass: 1, Lots: scoops(3, 5)}, []float64{0.26, 0.36, 0.38}, []float64{0.2, 0.4, 0.4}, true},
		"where there is stock":      {Problem{Mass: 1, Lots: []Lot{{Stock: 0.3, Step: 0.1}, {Stock: 5, Step: 0.1}, {Stock: 5, Step: 0.1}}}, []float64{0.34, 0.33, 0.33}, []float64{0.3, 0.4, 0.3}, true},
		"not below the least":       {Problem{Mass: 1, Lots: []Lot{{Stock: 5, Step: 0.1, Least: 0.3}, {Stock: 5, Step: 0.1}, {Stock: 5, Step: 0.1}}}, []float64{0.26, 0.36, 0.38}, []float64{0.3, 0.3, 0.4}, true},
		"any mass takes the rest":   {Problem{Mass: 1, Lots: []Lot{{Stock: 5, Step: 0.1}, {Stock: 5}}}, []float64{0.34, 0.66}, []float64{0.3, 0.7}, true},
		"the greater takes it":      {Problem{Mass: 1, Lots: []Lot{{Stock: 5, Step: 0.1}, {Stock: 5}, {Stock: 5}}}, []float64{0.34, 0.26, 0.4}, []float64{0.3, 0.26, 0.44}, true},
		"the other, if it is out":   {Problem{Mass: 1, Lots: []Lot{{Stock: 5, Step: 0.1}, {Stock: 5}, {Stock: 0.42}}}, []float64{0.34, 0.26, 0.4}, []float64{0.3, 0.3, 0.4}, true},
		"nobody can":                {Problem{Mass: 1, Lots: []Lot{{Stock: 5, Step: 0.1}, {Stock: 0.28}, {Stock: 0.42}}}, []float64{0.34, 0.26, 0.4}, nil, false},
		"not below what must be":    {Problem{Mass: 1, Lots: []Lot{{Stock: 5, Step: 0.1}, {Stock: 5, Must: 0.63}}}, []float64{0.36, 0.64}, nil, false},
		"what slack allows":         {Problem{Mass: 1, Slack: 0.05, Lots: []Lot{{Stock: 5, Step: 0.1}, {Stock: 0.61}}}, []float64{0.36, 0.61}, []float64{0.4, 0.61}, true},
		"to the nearer edge":        {Problem{Mass: 1, Slack: 0.05, Lots: []Lot{{Stock: 5, Step: 0.1}, {Stock: 5}}}, []float64{0.34, 0.58}, []float64{0.3, 0.65}, true},
		"to the edge above":         {Problem{Mass: 1, Slack: 0.05, Lots: []Lot{{Stock: 5, Step: 0.1}, {Stock: 5}}}, []float64{0.46, 0.62}, []float64{0.5, 0.55}, true},
		"what is dust is not there": {Problem{Mass: 1, Lots: []Lot{{Stock: 5}, {Stock: 5}}}, []float64{0.9e-9, 1}, []float64{1}, true},
		"what is more is":           {Problem{Mass: 1, Lots: []Lot{{Stock: 5}, {Stock: 5}}}, []float64{1.1e-9, 1}, []float64{1.1e-9, 1}, true},
		"the least amount":          {Problem{Mass: 1, Lots: []Lot{{Stock: 5, Least: 0.2}, {Stock: 5}}}, []float64{0.1, 0.9}, []float64{0.2, 0.8}, true},
	} {
		m := newModel(&c.p, lotsUpTo(len(c.p.Lots)), plain)
		uses, ok := m.weigh(c.w)
		if ok != c.ok {
			t.Errorf("%s: %v %t", name, uses, ok)
		}
		if !ok {
			continue
		}
		var got []float64
		for _, u := range uses {
			got = append(got, u.Mass)
			if step := c.p.Lots[u.Lot].Step; step > 0 && math.Abs(float64(u.Steps)*step-u.Mass) > 1e-12 {
				t.Errorf("%s: %d steps are %g kg", name, u.Steps, u.Mass)
			}
		}
		nearTo(t, name, got, c.want)
	}
}

func lotsUpTo(n int) (all []int) {
	for i := range n {
		all = append(all, i)
	}
	return all
}

// What a blend lacks of two kilograms give or take 50 g.
func TestShortByHand(t *testing.T) {
	t.Parallel()
	p := Problem{Mass: 2, Slack: 0.05}
	for mass, want := range map[float64]float64{2: 0, 1.95: 0, 2.05: 0, 1.9: 0.05, 2.2: -0.15, 0: 1.95} {
		if got := p.short([]Use{{Mass: mass / 2}, {Mass: mass / 2}}); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g kg lack %g, wanted %g", mass, got, want)
		}
	}
}

// A recipe is one within stock, least amounts, limits and curves, each on both sides; its readings and its cost by hand.
func TestCertifiedByHand(t *testing.T) {
	t.Parallel()
	line := func(x, slope []float64) float64 { // a tenth more than the first lot's mass
		for i := range slope {
			slope[i] = 0
		}
		if slope != nil {
			slope[0] = 1
		}
		return x[0] + 0.1
	}
	base := func(change func(p *Problem)) *Problem {
		p := &Problem{Mass: 1, Lots: []Lot{{Cost: 3, Stock: 0.4, Must: 0.2}, {Cost: 1, Stock: 2, Least: 0.5}},
			Limits: []Limit{{Of: []float64{10, 20}, Lo: 15, Hi: 19}}, Curves: []Curve{{Value: line, Limit: 0.6, Weight: 2}}}
		change(p)
		return p
	}
	same := func(*Problem) {}
	for name, c := range map[string]struct {
		change func(p *Problem)
		first  float64 // kg of the first lot, the rest of the second
		ok     bool
	}{
		"usual": {same, 0.3, true}, "all its stock": {same, 0.4, true}, "a hair more": {same, 0.4 * (1 + 0.9e-9), true}, "more than its stock": {same, 0.4 * (1 + 1.2e-9), false},
		"what must": {same, 0.2, true}, "a hair less": {same, 0.2 * (1 - 0.9e-9), true}, "less than must": {same, 0.2 * (1 - 1.2e-9), false},
		"least of the other": {func(p *Problem) { p.Lots[1].Least = 0.7 }, 0.3, true}, "less than least": {func(p *Problem) { p.Lots[1].Least = 0.7001 }, 0.3, false},
		"two lots": {func(p *Problem) { p.Most = 2 }, 0.3, true}, "one lot at most": {func(p *Problem) { p.Most = 1 }, 0.3, false},
		"at the limit": {func(p *Problem) { p.Limits[0].Hi = 17 }, 0.3, true}, "a hair over": {func(p *Problem) { p.Limits[0].Hi = 17 - 0.6e-7 }, 0.3, true}, "over": {func(p *Problem) { p.Limits[0].Hi = 17 - 0.8e-7 }, 0.3, false},
		"at the least": {func(p *Problem) { p.Limits[0].Lo = 17 }, 0.3, true}, "under": {func(p *Problem) { p.Limits[0].Lo = 17 + 0.8e-7 }, 0.3, false}, // within 10⁻⁸ of the 7 to the farther lot
		"on the curve": {func(p *Problem) { p.Curves[0].Limit = 0.3 + 0.1 }, 0.3, true}, "beyond it": {func(p *Problem) { p.Curves[0].Limit = 0.3999 }, 0.3, false},
	} {
		p := base(c.change)
		task := newTask(t.Context(), p, Options{Recipes: 1, Gap: 1e-6})
		r, ok := task.certify([]Use{{Lot: 0, Mass: c.first}, {Lot: 1, Mass: 1 - c.first}})
		if ok != c.ok {
			t.Errorf("%s: %t", name, ok)
		}
		if name == "usual" && ok {
			nearTo(t, "mass and cost", []float64{r.Mass, r.Cost}, []float64{1, 3*0.3 + 0.7 + 2*0.4})
			nearTo(t, "mean and room", []float64{r.Limits[0].Value, r.Limits[0].Room}, []float64{17, 2})
			nearTo(t, "curve and room", []float64{r.Curves[0].Value, r.Curves[0].Room}, []float64{0.4, 0.2})
		}
	}
	// How far the nearest is off, by hand.
	p := base(func(p *Problem) { p.Slack = 0.01 })
	task := newTask(t.Context(), p, Options{})
	for _, c := range []struct{ first, second, short, over, curve float64 }{{0.3, 0.7, 0, 0, 0}, {0.3, 0.695, 0, 0, 0}, {0.3, 0.6, 0.1, 0, 0}, {0.8, 0.4, -0.2, 40.0/3 - 15, 0.3}, {0.05, 0.95, 0, 0.5, 0}, {0, 1, 0, 1, 0}} {
		n := task.measure([]Use{{Lot: 0, Mass: c.first}, {Lot: 1, Mass: c.second}})
		nearTo(t, "the nearest", []float64{n.Short, n.Over[0], n.Curves[0], n.Mass}, []float64{c.short, c.over, c.curve, c.first + c.second})
	}
	if n := task.measure(nil); n.Short != 1 || n.Mass != 0 || n.Over[0] != 0 || n.Curves[0] != 0 {
		t.Errorf("nothing is %+v", n)
	}
}

// How far two blends lie apart, what lies between them, and sets of lots.
func TestBetweenBlends(t *testing.T) {
	t.Parallel()
	a, b := []Use{{Lot: 1, Mass: 1}, {Lot: 4, Mass: 2}}, []Use{{Lot: 0, Mass: 3}, {Lot: 4, Mass: 1}, {Lot: 7, Mass: 4}}
	got := between(a, b, 0.25)
	want := []Use{{Lot: 0, Mass: 0.75}, {Lot: 1, Mass: 0.75}, {Lot: 4, Mass: 1.75}, {Lot: 7, Mass: 1}}
	if !slices.EqualFunc(got, want, func(x, y Use) bool { return x.Lot == y.Lot && math.Abs(x.Mass-y.Mass) < 1e-12 }) {
		t.Errorf("between them %v, wanted %v", got, want)
	}
	if d := distance(a, b); !math.IsInf(d, 1) {
		t.Errorf("of other lots %g apart", d)
	}
	if d := distance(a, []Use{{Lot: 1, Mass: 1.5}, {Lot: 4, Mass: 1.75}}); d != 0.75 {
		t.Errorf("%g apart, wanted 0.75", d)
	}
	if got := with([]int{2, 5, 9}, 7); !slices.Equal(got, []int{2, 5, 7, 9}) {
		t.Errorf("with 7: %v", got)
	}
	if got := without([]int{2, 5, 9}, 5); !slices.Equal(got, []int{2, 9}) {
		t.Errorf("without 5: %v", got)
	}
	for v, want := range map[float64]float64{1.1e-9: 1.1e-9, -1.1e-9: -1.1e-9, 0.9e-9: 0, -0.9e-9: 0} {
		if clean(v) != want {
			t.Errorf("%g is cleaned to %g", v, clean(v))
		}
	}
	for limit, want := range map[float64]float64{open: 1, 5: 5, -5: 5, 1e-7: 1e-6, 0: 1e-6} {
		if got := curveScale(Curve{Limit: limit}); got != want {
			t.Errorf("a limit of %g is scaled by %g", limit, got)
		}
	}
	for _, c := range []struct{ limit, floor, want float64 }{{open, 0, 0}, {2, 0, 2e-6}, {2, 2 - 1e-7, 1e-7}, {2, 2, 0}} {
		if got := (Curve{Limit: c.limit, Floor: c.floor}).margin(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("limit %g over %g: margin %g, wanted %g", c.limit, c.floor, got, c.want)
		}
	}
}

// A cut is the tangent: at masses 0.5 and 1.5 of g = x² + 3 y, slopes 1 and 3, its right side is 0.5 + 4.5 − 4.75.
func TestCutByHand(t *testing.T) {
	t.Parallel()
	g := func(x, slope []float64) float64 {
		if slope != nil {
			slope[0], slope[1] = 2*x[0], 3
		}
		return x[0]*x[0] + 3*x[1]
	}
	p := &Problem{Mass: 2, Lots: []Lot{{Cost: 1, Stock: 9}, {Cost: 2, Stock: 9}}, Curves: []Curve{{Value: g, Limit: 4, Convex: true}, {Value: g, Limit: open}}}
	task := newTask(t.Context(), p, Options{})
	uses := []Use{{Lot: 0, Mass: 0.5}, {Lot: 1, Mass: 1.5}}
	v := task.curveAt(0, uses)
	c := task.cutAt(0, uses, v)
	nearTo(t, "value, slopes and right side", append([]float64{v, c.right}, c.slope...), []float64{4.75, 0.25, 1, 3})
	if task.x[0] != 0 || task.x[1] != 0 {
		t.Errorf("masses stay: %v", task.x)
	}
	m := newModel(p, []int{0, 1}, plain)
	r := m.row(c) // of shares of two kilograms, over the limit of 4
	nearTo(t, "row", append(slices.Clone(r.Coef), r.Hi), []float64{0.5, 1.5, -1, 0, 0.0625})
	soft := newModel(p, []int{0, 1}, soft)
	r = soft.row(c)
	if r.Coef[2] != -1 || r.Coef[4] != -1 || r.Coef[3] != 0 || r.Coef[5] != 0 {
		t.Errorf("where limits may be broken: %v", r.Coef)
	}
	values := []float64{0, 0, 0.5, 7, 0.25, 2, 0, 0}
	nearTo(t, "believed", []float64{m.believed(values, 0), m.believed(values, 1), soft.believed(values, 0), soft.believed(values, 1)}, []float64{2, 7, 3, 9})
	for i := range keptCuts + 3 {
		task.keep(cut{curve: i})
	}
	if len(task.cuts) != keptCuts || task.cuts[0].curve != 3 || task.cuts[keptCuts-1].curve != keptCuts+2 {
		t.Errorf("%d cuts kept, from %d", len(task.cuts), task.cuts[0].curve)
	}
	if task.curveInto(0, []Use{{Lot: 0, Mass: math.Inf(1)}}, nil); task.fault == nil {
		t.Error("an infinite value is taken")
	}
}

// How much work is usual, by the number of lots; what is not said is filled in.
func TestUsualWork(t *testing.T) {
	t.Parallel()
	bent := Curve{Value: func(_, _ []float64) float64 { return 0 }, Parts: 1, Differences: func(_, _ []float64, _ [][]float64) {}}
	for _, c := range []struct {
		lots        int
		plain, bent int
	}{{10, 20000, 3000}, {1000, 20000, 2000}, {2000, 10000, 1000}, {4000, 5000, 500}, {100_000, 1000, 500}} {
		p := Problem{Lots: make([]Lot, c.lots)}
		q := Problem{Lots: p.Lots, Curves: []Curve{bent}}
		if p.usualNodes() != c.plain || q.usualNodes() != c.bent {
			t.Errorf("%d lots: %d and %d nodes, wanted %d and %d", c.lots, p.usualNodes(), q.usualNodes(), c.plain, c.bent)
		}
		convex := bent
		convex.Convex = true
		if (&Problem{Curves: []Curve{convex}}).anchored() || !q.anchored() {
			t.Error("a convex curve needs an anchor, or another none")
		}
	}
	var o Options
	if err := o.fill(Problem{Lots: make([]Lot, 10)}); err != nil || o != (Options{Recipes: 3, Nodes: 20000, Gap: 1e-6}) {
		t.Errorf("%+v %v", o, err)
	}
	for cost, want := range map[float64]float64{100: 0.5, -100: 0.5, 10: 0.2} {
		if got := (Options{Gap: 0.005, Near: 0.2}).slip(cost); math.Abs(got-want) > 1e-12 {
			t.Errorf("of %g %g makes no difference, wanted %g", cost, got, want)
		}
	}
}

// Questions: a lot that must be used; what that costs, by hand. Half of each of two lots at 1 and 3 a kilogram.
func TestQuestionsByHand(t *testing.T) {
	t.Parallel()
	p := Problem{Mass: 1, Lots: []Lot{{Cost: 1, Stock: 5}, {Cost: 3, Stock: 5, Least: 0.1}, {Cost: 9, Stock: 0.4}}, Limits: []Limit{{Of: []float64{10, 20, 20}, Lo: 15, Hi: open}}}
	for _, c := range []struct {
		name string
		do   func() (Change, error)
		want float64
	}{
		{"200 g of the dear one", func() (Change, error) { return WhyNot(t.Context(), p, Options{}, 2, 0.2) }, 1.2}, {"a thousandth of it", func() (Change, error) { return WhyNot(t.Context(), p, Options{}, 2, 0) }, 0.006},
		{"all of the first", func() (Change, error) { return WhyNot(t.Context(), p, Options{}, 0, 1) }, math.Inf(1)}, {"what is used", func() (Change, error) { return WhyNot(t.Context(), p, Options{}, 1, 0.3) }, 0},
	} {
		got, err := c.do()
		if err != nil || got.Cost != c.want && !(math.Abs(got.Cost-c.want) < 1e-6) || len(got.Before.Recipes) != 1 {
			t.Errorf("%s costs %g, wanted %g (%v)", c.name, got.Cost, c.want, err)
		}
	}
	never := p
	never.Limits = []Limit{{Of: []float64{10, 20, 20}, Lo: 21, Hi: open}}
	if c, err := WhyNot(t.Context(), never, Options{}, 0, 0.5); err != nil || c.Cost != 0 {
		t.Errorf("what stays impossible costs %g (%v)", c.Cost, err)
	}
	for name, do := range map[string]func() (Change, error){
		"lot −1": func() (Change, error) { return WhyNot(t.Context(), p, Options{}, -1, 0) },
		"lot 3":  func() (Change, error) { return WhyNot(t.Context(), p, Options{}, 3, 0) }, "more than there is": func() (Change, error) { return WhyNot(t.Context(), p, Options{}, 2, 0.41) },
	} {
		if _, err := do(); err == nil {
			t.Errorf("%s is answered", name)
		}
	}
	// Of two kilograms a thousandth is two grams, at 9 a kilogram instead of the 3 of the other that has their property.
	double := p.copy()
	double.Mass = 2
	if c, err := WhyNot(t.Context(), double, Options{}, 2, 0); err != nil || math.Abs(c.Cost-0.012) > 1e-6 {
		t.Errorf("a thousandth of two kilograms costs %g (%v)", c.Cost, err)
	}
	// One lot alone has its price: the last kilogram costs 1, a kilogram more of stock that binds saves what the other costs more.
	one, err := Solve(t.Context(), Problem{Mass: 1, Lots: []Lot{{Cost: 1, Stock: 5}}, Curves: []Curve{{Value: func(x, slope []float64) float64 {
		if slope != nil {
			slope[0] = 2
		}
		return 2 * x[0]
	}, Limit: 9, Weight: 1, Convex: true}}}, Options{Recipes: 1})
	if err != nil || len(one.Recipes) != 1 || math.Abs(one.Recipes[0].PerKG-3) > 1e-6 || math.Abs(one.Recipes[0].Cost-3) > 1e-6 {
		t.Errorf("one lot: %+v (%v)", one.Recipes, err)
	}
	two, err := Solve(t.Context(), Problem{Mass: 1, Lots: []Lot{{Cost: 1, Stock: 0.25}, {Cost: 3, Stock: 5}}}, Options{Recipes: 1})
	if err != nil || math.Abs(two.Recipes[0].Uses[0].Price+2) > 1e-6 || two.Recipes[0].Uses[1].Price != 0 || math.Abs(two.Recipes[0].PerKG-3) > 1e-6 {
		t.Errorf("two lots: %+v (%v)", two.Recipes, err)
	}
}
