package recipe

// The parts of the search by hand: how a problem becomes a program, how a node is divided, what an anchor says.

import (
	"math"
	"reflect"
	"slices"
	"testing"
)

func nearTo(t *testing.T, what string, got, want []float64) {
	t.Helper()
	ok := len(got) == len(want)
	for k := 0; ok && k < len(got); k++ {
		ok = got[k] == want[k] || math.Abs(got[k]-want[k]) <= 1e-8*math.Max(1, math.Abs(want[k]))
	}
	if !ok {
		t.Errorf("%s: %v, by hand %v", what, got, want)
	}
}

// Two kilograms of three lots: one at 3/kg with property 1, a kilogram at 1/kg with property 0, and one at 2/kg with
// property 0.5 in scoops of 200 g, at least 400 g; the mean at most 0.25. Shares are of the two kilograms, costs of
// 3·2, rows are measured from the limit.
func TestAProblemBecomesAProgram(t *testing.T) {
	t.Parallel()
	problem := func() *Problem {
		return &Problem{Mass: 2, Most: 2, Lots: []Lot{{Cost: 3, Stock: 10}, {Cost: 1, Stock: 1}, {Cost: 2, Stock: 5, Least: 0.4, Step: 0.2}},
			Limits: []Limit{{Of: []float64{1, 0, 0.5}, Lo: math.Inf(-1), Hi: 0.25}}}
	}
	all := []int{0, 1, 2}
	none, every := math.Inf(-1), math.Inf(1)
	m := newModel(problem(), all, plain)
	nearTo(t, "least shares", m.lo, []float64{0, 0, 0})
	nearTo(t, "greatest shares", m.hi, []float64{1, 0.5, 1})
	nearTo(t, "smallest shares", m.least, []float64{0, 0, 0.2})
	nearTo(t, "steps", m.step, []float64{0, 0, 0.1})
	nearTo(t, "costs", m.program.Cost, []float64{1, 1.0 / 3, 2.0 / 3})
	if m.unit != 6 || len(m.program.Rows) != 3 || m.count != 2 || m.curve != 3 || !slices.Equal(m.limit, []int{-1, 0, -1}) || m.crash()[0] != 1 {
		t.Errorf("unit %g, %d rows of %v, lots counted in %d, begun with lot %d", m.unit, len(m.program.Rows), m.limit, m.count, m.crash()[0])
	}
	for i, want := range []struct {
		coef   []float64
		lo, hi float64
	}{{[]float64{1, 1, 1}, 1, 1}, {[]float64{0.75, -0.25, 0.25}, none, 0}, {[]float64{0, 0, 0}, none, every}} {
		nearTo(t, "a row", m.program.Rows[i].Coef, want.coef)
		nearTo(t, "its bounds", []float64{m.program.Rows[i].Lo, m.program.Rows[i].Hi}, []float64{want.lo, want.hi})
	}
	// x (0.75 + 0.25) ≤ 0.25 of the first lot, x (0.25 + 0.25) ≤ 0.25 of the third, in scoops.
	nearTo(t, "greatest shares by the limit", newModel(problem(), all, tight).hi, []float64{0.25, 0.5, 0.5})
	p := problem()
	p.Lots[2].Least = 1.2
	nearTo(t, "less than the least amount is none", newModel(p, all, tight).hi, []float64{0.25, 0.5, 0})
	p.Lots[2].Must = 1.2
	nearTo(t, "what must be used stays", newModel(p, all, tight).hi, []float64{0.25, 0.5, 0.6})
	p = problem()
	p.Slack = 0.2
	nearTo(t, "with a tenth of slack", newModel(p, all, tight).hi, []float64{0.275, 0.5, 0.5})
	row := newModel(p, all, plain).program.Rows[0]
	nearTo(t, "the mass with a tenth of slack", []float64{row.Lo, row.Hi}, []float64{0.9, 1.1})
	p = problem()
	p.Limits[0].Lo, p.Limits[0].Hi = 0.8, every // from the other side: the best is the first, 0.2 within
	nearTo(t, "greatest shares by a least mean", newModel(p, all, tight).hi, []float64{1, 0.2, 0.4})
	p.Limits[0].Lo = 2
	nearTo(t, "where no blend keeps it", newModel(p, all, tight).hi, []float64{1, 0.5, 1})
	p.Most = 3
	if newModel(p, all, plain).count != -1 {
		t.Error("three lots of three are counted")
	}
	// Between 0.1 and 0.25: one row where the mass is fixed, two where it is not.
	p = problem()
	p.Limits[0].Lo = 0.1
	row = newModel(p, all, plain).program.Rows[1]
	nearTo(t, "both sides in one row", append([]float64{row.Lo, row.Hi}, row.Coef...), []float64{-0.15, 0, 0.75, -0.25, 0.25})
	p.Slack = 0.2
	m = newModel(p, all, plain)
	nearTo(t, "the greatest mean", append([]float64{m.program.Rows[1].Lo, m.program.Rows[1].Hi}, m.program.Rows[1].Coef...), []float64{none, 0, 0.75, -0.25, 0.25})
	nearTo(t, "the least mean", append([]float64{m.program.Rows[2].Lo, m.program.Rows[2].Hi}, m.program.Rows[2].Coef...), []float64{0, every, 0.9, -0.1, 0.4})
}

// What may be broken costs as much as the lots are apart in it; in a soft model fifty times that, beside the costs of the lots.
func TestWhatBreakingCosts(t *testing.T) {
	t.Parallel()
	p := &Problem{Mass: 2, Lots: []Lot{{Cost: 3, Stock: 10}, {Cost: 1, Stock: 10}}, Limits: []Limit{{Of: []float64{5, 1}, Lo: 2, Hi: 3}}}
	m := newModel(p, []int{0, 1}, elastic)
	if m.unit != 1 || !m.free || newModel(p, []int{0, 1}, soft).unit != 6 {
		t.Error("breaks count by themselves, beside costs by those")
	}
	nearTo(t, "elastic costs", m.program.Cost, []float64{0, 0, 1, 1, 0.25, 0.25})
	for i, want := range [][]float64{{1, 1, 1, -1, 0, 0}, {2, -2, 0, 0, -1, 0}, {3, -1, 0, 0, 0, 1}} {
		nearTo(t, "an elastic row", m.program.Rows[i].Coef, want)
	}
	nearTo(t, "soft costs", newModel(p, []int{0, 1}, soft).program.Cost, []float64{1, 1.0 / 3, 50, 50, 12.5, 12.5})
	for _, c := range []struct{ of, want []float64 }{{[]float64{5, 1}, []float64{4}}, {[]float64{3, 3}, []float64{3}}, {[]float64{-3, -3}, []float64{3}}, {[]float64{0.2, 0.2}, []float64{1}}, {[]float64{1e3, 1e3 + 1e-7}, []float64{1e3 + 1e-7}}} {
		nearTo(t, "how far lots are apart", []float64{m.spread(Limit{Of: c.of})}, c.want)
	}
	inf := math.Inf(1)
	for _, c := range []struct {
		curve               Curve
		unit, scale, margin float64
	}{
		{Curve{Limit: 2, Weight: 1}, 6, 2, 2e-6}, {Curve{Limit: 2, Weight: 5}, 10, 2, 2e-6}, {Curve{Limit: inf, Weight: 7}, 7, 1, 0}, {Curve{Weight: 1}, 6, 1e-6, 0},
		{Curve{Limit: -2, Floor: -2}, 6, 2, 0}, {Curve{Limit: 3, Floor: 3 - 1e-6}, 6, 3, 1e-6},
	} {
		q := *p
		q.Curves = []Curve{c.curve}
		nearTo(t, "unit, scale and margin", []float64{costUnit(&q), curveScale(c.curve), c.curve.margin() * 1e6}, []float64{c.unit, c.scale, c.margin * 1e6})
	}
	if costUnit(&Problem{Mass: 2, Lots: []Lot{{}}}) != 1 || costUnit(&Problem{Mass: 2, Lots: []Lot{{Cost: -3}}}) != 6 {
		t.Error("costs of nothing count by one, what is paid for by its size")
	}
	q := *p
	q.Curves = []Curve{{Limit: 2, Floor: 1, Weight: 3}}
	m = newModel(&q, []int{0, 1}, plain)
	nearTo(t, "a curve's cost and range", []float64{m.program.Cost[2], m.program.Lo[2], m.program.Hi[2]}, []float64{1, 0.5, 1 - 1e-6})
	nearTo(t, "a curve's cost where only breaking costs", newModel(&q, []int{0, 1}, elastic).program.Cost[:4], []float64{0, 0, 0, 1})
}

// How a node is divided: by the greatest lot too many, the one furthest from none and from its least amount, the one
// furthest from whole steps, and by each lot of a set to avoid.
func TestHowANodeIsDivided(t *testing.T) {
	t.Parallel()
	s := &search{t: &task{p: &Problem{Most: 2, Mass: 1}}, m: &model{lots: []int{3, 5, 7}, least: make([]float64, 3), step: make([]float64, 3)},
		in: make([]bool, 3), lo: make([]float64, 3), hi: []float64{0.9, 0.8, 0.7}}
	pick := func(what string, got, want int) {
		t.Helper()
		if got != want {
			t.Errorf("%s: lot %d, by hand %d", what, got, want)
		}
	}
	pick("too many", s.tooMany([]float64{0.3, 0.5, 0.2}), 1)
	pick("few enough", s.tooMany([]float64{0.5, 0.5, 0}), -1)
	s.in[1] = true
	pick("one of them is in", s.tooMany([]float64{0.3, 0.5, 0.2}), 0)
	pick("in with nothing counts", s.tooMany([]float64{0.3, 0, 0.7}), 2)
	s.t.p.Most = 0
	pick("any number", s.tooMany([]float64{0.3, 0.5, 0.2}), -1)
	s.m.least = []float64{0.2, 0.2, 0}
	pick("furthest from both", s.tooLittle([]float64{0.05, 0.1, 0.85}), 1)
	pick("nearly the least", s.tooLittle([]float64{0.05, 0.19, 0.76}), 0)
	pick("enough", s.tooLittle([]float64{0.2, 0, 0.8}), -1)
	s.lo[1] = 0.1
	pick("what is in is not too little", s.tooLittle([]float64{0.05, 0.1, 0.85}), 0)
	s.lo[1], s.m.step = 0, []float64{0.1, 0.1, 0}
	pick("between steps", s.broken([]float64{0.25, 0.33, 0.42}), 0)
	pick("nearer the upper", s.broken([]float64{0.2, 0.37, 0.43}), 1)
	pick("whole", s.broken([]float64{0.2, 0.3, 0.5777}), -1)
	for what, c := range map[string]struct{ got, want [][]change }{
		"less first":     {s.lessOrMore(0, 0.33), [][]change{{{lot: 0, hi: 0.3}}, {{lot: 0, lo: 0.4, hi: 0.9, in: true}}}},
		"more first":     {s.lessOrMore(0, 0.37), [][]change{{{lot: 0, lo: 0.4, hi: 0.9, in: true}}, {{lot: 0, hi: 0.3}}}},
		"below least":    {s.lessOrMore(1, 0.12), [][]change{{{lot: 1}}, {{lot: 1, lo: 0.2, hi: 0.8, in: true}}}},
		"in first":       {s.inOrOut(1, true), [][]change{{{lot: 1, lo: 0.2, hi: 0.8, in: true}}, {{lot: 1}}}},
		"out first":      {s.inOrOut(1, false), [][]change{{{lot: 1}}, {{lot: 1, lo: 0.2, hi: 0.8, in: true}}}},
		"without one":    {s.withoutOne([]int{0, 2}), [][]change{{{lot: 0}}, {{lot: 0, lo: 0.2, hi: 0.9, in: true}, {lot: 2}}}},
		"little of much": {waysOf(s.divide([]float64{0.05, 0, 0.95})), [][]change{{{lot: 0}}, {{lot: 0, lo: 0.2, hi: 0.9, in: true}}}},
		"much of little": {waysOf(s.divide([]float64{0.15, 0, 0.85})), [][]change{{{lot: 0, lo: 0.2, hi: 0.9, in: true}}, {{lot: 0}}}},
	} {
		ok := len(c.got) == len(c.want)
		for k := 0; ok && k < len(c.got); k++ {
			ok = slices.EqualFunc(c.got[k], c.want[k], func(a, b change) bool {
				return a.lot == b.lot && a.in == b.in && math.Abs(a.lo-b.lo) < 1e-9 && math.Abs(a.hi-b.hi) < 1e-9
			})
		}
		if !ok {
			t.Errorf("%s: %+v, by hand %+v", what, c.got, c.want)
		}
	}
	s.lo[0] = 0.2
	if got := s.withoutOne([]int{0, 2}); len(got) != 1 || got[0][1].lot != 2 {
		t.Errorf("what must be used is left out: %+v", got)
	}
	if _, whole := s.divide([]float64{0.2, 0.3, 0.5}); !whole {
		t.Error("whole steps are divided")
	}
	// Sets to avoid, by place; one with a lot the model lacks can never be used whole.
	s.localise([][]int{{3, 7}, {3, 9}})
	if !reflect.DeepEqual(s.avoid, [][]int{{0, 2}}) {
		t.Errorf("avoided are %v", s.avoid)
	}
	for _, c := range []struct {
		uses   []Use
		spoils bool
	}{{[]Use{{Lot: 3}, {Lot: 7}}, true}, {[]Use{{Lot: 1}, {Lot: 3}, {Lot: 5}, {Lot: 7}}, true}, {[]Use{{Lot: 3}, {Lot: 5}}, false}, {nil, false}} {
		if s.spoils(c.uses) != c.spoils {
			t.Errorf("%v uses a set to avoid: %t", c.uses, !c.spoils)
		}
	}
	if set := s.repeated([]float64{0.5, 0.5, 0}); set != nil {
		t.Errorf("%v is not used whole", set)
	}
}

func waysOf(ways [][]change, _ bool) [][]change { return ways }

// From which cost on a node is not worth looking into, and which node is next.
func TestWhichNodeIsNext(t *testing.T) {
	t.Parallel()
	s := &search{t: &task{p: &Problem{}, o: Options{Gap: 0.01}}, m: &model{unit: 3}, cost: math.Inf(1)}
	nearTo(t, "without a recipe", []float64{s.cutoff()}, []float64{math.Inf(1)})
	s.cost = 2
	nearTo(t, "a hundredth of it less", []float64{s.cutoff()}, []float64{1.98})
	s.t.o.Near = 0.3
	nearTo(t, "0.3 of 6 less", []float64{s.cutoff()}, []float64{1.9})
	s.t.o = Options{}
	if got := 2 - s.cutoff(); math.Abs(got-1e-9) > 1e-12 {
		t.Errorf("rounding apart, %g less", got)
	}
	var q queue
	if !math.IsInf(q.lowest(), 1) {
		t.Error("nothing waits")
	}
	for i, bound := range []float64{3, 1, 2, 1} {
		q.add(&node{bound: bound, serial: i})
	}
	if q.lowest() != 1 {
		t.Errorf("the lowest is %g", q.lowest())
	}
	for _, want := range []int{3, 1, 2, 0} { // of equals the youngest
		if n := q.first(); n.serial != want {
			t.Errorf("node %d is next, wanted %d", n.serial, want)
		}
	}
	for lots, want := range map[int][2]int{10: {20000, 3000}, 4000: {5000, 500}, 1000: {20000, 2000}, 100_000: {1000, 500}} {
		p := Problem{Lots: make([]Lot, lots)}
		straight := p.usualNodes()
		p.Curves = []Curve{{Parts: 1}}
		if bent := p.usualNodes(); straight != want[0] || bent != want[1] {
			t.Errorf("of %d lots %d nodes, with a curve %d", lots, straight, bent)
		}
		if p.Curves[0].Convex = true; p.anchored() {
			t.Error("a convex curve needs no anchor")
		}
	}
	var o Options
	if err := o.fill(Problem{Lots: make([]Lot, 1)}); err != nil || o.Recipes != 3 || o.Nodes != 20000 || o.Gap != 1e-6 {
		t.Errorf("%+v, %v", o, err)
	}
}

// An anchor's length and its slope: differences of 1 + 2 and 4 are 5 long, and grow by 3/5 and 4/5 of theirs; blends part of the
// way, and how much of two is apart.
func TestAnAnchorByHand(t *testing.T) {
	t.Parallel()
	a := &anchor{base: []float64{1, 0}, slope: [][]float64{{1, 2}, {0, 4}}}
	slope := []float64{9, 9}
	nearTo(t, "its length", []float64{a.length([]Use{{Lot: 1, Mass: 1}}, slope)}, []float64{5})
	nearTo(t, "its slope", slope, []float64{0.6, 4.4})
	nearTo(t, "of nothing", append([]float64{(&anchor{base: []float64{0}, slope: [][]float64{{1, 2}}}).length(nil, slope)}, slope...), []float64{0, 0, 0})
	from, to := []Use{{Lot: 0, Mass: 1}, {Lot: 2, Mass: 2}}, []Use{{Lot: 1, Mass: 4}, {Lot: 2, Mass: 6}, {Lot: 9, Mass: 8}}
	want := []Use{{Lot: 0, Mass: 0.75}, {Lot: 1, Mass: 1}, {Lot: 2, Mass: 3}, {Lot: 9, Mass: 2}}
	if got := between(from, to, 0.25); !slices.Equal(got, want) {
		t.Errorf("a quarter of the way is %v", got)
	}
	if got := between(to, from, 0.75); !slices.Equal(got, want) {
		t.Errorf("three quarters back is %v", got)
	}
	nearTo(t, "apart", []float64{distance(from, []Use{{Lot: 0, Mass: 1.5}, {Lot: 2, Mass: 1}}), distance(from, to)}, []float64{1.5, math.Inf(1)})
	task := &task{x: make([]float64, 10)}
	task.spread(to, func() { nearTo(t, "spread out", task.x, []float64{0, 4, 6, 0, 0, 0, 0, 0, 0, 8}) })
	nearTo(t, "and back", task.x, make([]float64, 10))
	// g(x) = (x₀² − 1, 3 x₁) at (2, 1): 3 and 3, with slopes 4 and 3; straightened −5 + 4 x₀ and 0 + 3 x₁.
	task.p = &Problem{Mass: 3, Lots: make([]Lot, 10), Curves: []Curve{{Parts: 2, Differences: func(x, d []float64, s [][]float64) {
		d[0], d[1] = x[0]*x[0]-1, 3*x[1]
		s[0][0], s[1][1] = 2*x[0], 3
	}}}}
	straight := task.straighten(0, []Use{{Lot: 0, Mass: 2}, {Lot: 1, Mass: 1}})
	nearTo(t, "straightened", append(straight.base, straight.slope[0][0], straight.slope[1][1]), []float64{-5, 0, 4, 3})
}
