package recipe

// The pieces of the search one by one: what a node is loaded with, what hangs out below it, which lots are worth a
// place, and how near counts as the same. All by hand.

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"hopperful/process/recipe/simplex"
)

// newSearchOf is a search over all lots of a problem, as the tree begins.
func newSearchOf(t *testing.T, p *Problem, o Options, how manner) *search {
	t.Helper()
	s, err := newTask(t.Context(), p, o).newSearch(newModel(p, lotsUpTo(len(p.Lots)), how), nil, 10)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Three lots of half a kilogram, two of which may be used, at least 100 g of each. A lot that is in counts as one, another as
// its share over its greatest; where the number is reached the others are out. Half of the first and half of the third cost 2;
// with 450 g of the first the others count 1 at most, which is half a kilogram of the third: not enough.
func TestWhatANodeIsLoadedWith(t *testing.T) {
	t.Parallel()
	const almostAll = 0.5 + 0.8e-9
	p := &Problem{Mass: 1, Most: 2, Lots: []Lot{{Cost: 1, Stock: 0.5, Least: 0.1}, {Cost: 2, Stock: 0.4, Least: 0.1}, {Cost: 3, Stock: 0.5, Least: 0.1}, {Cost: 3, Stock: 0, Least: 0.1}}}
	s := newSearchOf(t, p, Options{}, tight)
	crash := s.m.crash()
	one := &node{basis: crash, changes: []change{{lot: 0, lo: 0.1, hi: 0.45, in: true}}}
	two := &node{basis: crash, parent: one, changes: []change{{lot: 1, lo: 0.2, hi: 0.4, in: true}, {lot: 0, lo: 0.05, hi: 0.48, in: true}}}
	for i, c := range []struct {
		n      *node
		ok     bool
		in     []bool
		lo, hi []float64
		counts []float64
		least  float64 // cost of the program with it, of 3; 0 where there is no solution
	}{
		{&node{basis: crash}, true, []bool{false, false, false, false}, []float64{0, 0, 0, 0}, []float64{0.5, 0.4, 0.5, 0}, []float64{2, 2.5, 2, 0}, 2.0 / 3},
		{one, true, []bool{true, false, false, false}, []float64{0.1, 0, 0, 0}, []float64{0.45, 0.4, 0.5, 0}, []float64{0, 2.5, 2, 0}, 0},
		{two, true, []bool{true, true, false, false}, []float64{0.1, 0.2, 0, 0}, []float64{0.45, 0.4, 0, 0}, []float64{0, 0, 2, 0}, 0},
		{one, true, []bool{true, false, false, false}, []float64{0.1, 0, 0, 0}, []float64{0.45, 0.4, 0.5, 0}, []float64{0, 2.5, 2, 0}, 0},
		{&node{basis: crash, parent: one, out: lotSet{1 << 1}}, true, []bool{true, false, false, false}, []float64{0.1, 0, 0, 0}, []float64{0.45, 0, 0.5, 0}, []float64{0, 2.5, 2, 0}, 0},
		{&node{basis: crash, parent: two, changes: []change{{lot: 2, hi: 0.5, in: true}}}, false, nil, nil, nil, nil, 0},
		{&node{basis: crash, changes: []change{{lot: 0, lo: 0.1, hi: 0.5}}}, true, []bool{false, false, false, false}, []float64{0.1, 0, 0, 0}, []float64{0.5, 0.4, 0.5, 0}, []float64{2, 2.5, 2, 0}, 2.0 / 3},
		{&node{basis: crash, changes: []change{{lot: 0, lo: almostAll, hi: 0.9, in: true}}}, true, []bool{true, false, false, false}, []float64{0.5, 0, 0, 0}, []float64{0.5, 0.4, 0.5, 0}, []float64{0, 2.5, 2, 0}, 2.0 / 3},
		{&node{basis: crash, changes: []change{{lot: 0, lo: 0.5 + 1.5e-9, hi: 0.9, in: true}}}, false, nil, nil, nil, nil, 0},
	} {
		ok, err := s.load(c.n)
		if err != nil || ok != c.ok {
			t.Errorf("%d: %t (%v)", i, ok, err)
		}
		if !c.ok {
			continue
		}
		if !slices.Equal(s.in, c.in) || !slices.Equal(s.lo, c.lo) || !slices.Equal(s.hi, c.hi) {
			t.Errorf("%d: in %v, from %v to %v", i, s.in, s.lo, s.hi)
		}
		nearTo(t, "the row that counts", s.m.program.Rows[s.m.count].Coef, c.counts)
		status, err := s.solver.Solve()
		if err != nil || (status == simplex.Optimal) != (c.least > 0) || c.least > 0 && math.Abs(s.solver.Objective()-c.least) > 1e-8 {
			t.Errorf("%d: %v at %g (%v)", i, status, s.solver.Objective(), err)
		}
	}
	// A lot that must be used is in from the beginning; with one lot at most it is alone.
	p.Most, p.Lots[1].Must = 1, 0.2
	s = newSearchOf(t, p, Options{}, tight)
	if ok, err := s.load(&node{basis: s.m.crash()}); !ok || err != nil || !slices.Equal(s.in, []bool{false, true, false, false}) || !slices.Equal(s.hi, []float64{0, 0.4, 0, 0}) {
		t.Errorf("%t %v: in %v, to %v", ok, err, s.in, s.hi)
	}
	if ok, err := s.load(&node{basis: s.m.crash(), changes: []change{{lot: 0, lo: 0.1, hi: 0.5, in: true}}}); ok || err != nil {
		t.Errorf("two of one: %t, %v", ok, err)
	}
	p.Most = 0
	s = newSearchOf(t, p, Options{}, tight)
	if ok, err := s.load(two); !ok || err != nil || !slices.Equal(s.hi, []float64{0.45, 0.4, 0.5, 0}) {
		t.Errorf("any number: %t %v, to %v", ok, err, s.hi)
	}
}

// A kilogram at 1/kg, with lots at 3 and 2 of which 200 g are the least. Shares count by the dearest, 3: the program costs 1/3,
// a share of the others adds 2/3 and 1/3, 200 g of them 0.1333 and 0.0667. A recipe at 1.3/kg leaves room for 0.1.
func TestLotsThatHangOutBelow(t *testing.T) {
	t.Parallel()
	p := &Problem{Mass: 1, Lots: []Lot{{Cost: 1, Stock: 5}, {Cost: 3, Stock: 5, Least: 0.2}, {Cost: 2, Stock: 5, Least: 0.2}}}
	solved := func(p *Problem, how manner) *search {
		s := newSearchOf(t, p, Options{}, how)
		if ok, err := s.relaxOnce(&node{basis: s.m.crash()}); !ok || err != nil {
			t.Fatal(ok, err)
		}
		return s
	}
	s := solved(p, tight)
	if out := s.shrink(&node{out: lotSet{4}}); !slices.Equal(out, lotSet{4}) {
		t.Errorf("without a recipe %b is out", out)
	}
	for i, c := range []struct {
		cost   float64
		before lotSet
		change func(s *search)
		want   lotSet
	}{
		{1.3, nil, func(*search) {}, lotSet{2}},
		{1.3, lotSet{4}, func(*search) {}, lotSet{6}},
		{1.199, nil, func(*search) {}, lotSet{6}},
		{1.201, nil, func(*search) {}, lotSet{2}},
		{1.399, nil, func(*search) {}, lotSet{2}},
		{1.401, nil, func(*search) {}, nil},
		{1.3, nil, func(s *search) { s.in[1] = true }, nil},
		{1.3, nil, func(s *search) { s.lo[1] = 0.3 }, nil},
		{1.3, nil, func(s *search) { s.hi[1] = 0 }, nil},
		{1.3, nil, func(s *search) { s.hi[1] = 0.3 }, lotSet{2}},
		{1.3, nil, func(s *search) { s.solver.Values()[1] = 1.5e-9 }, nil},
		{1.3, nil, func(s *search) { s.solver.Values()[1] = 0.8e-9 }, lotSet{2}},
		{0.9, nil, func(s *search) { s.solver.ReducedLive()[1] = 0 }, lotSet{4}},
		{1.3, nil, func(s *search) { s.m.elastic = true }, nil},
	} {
		s := solved(p, tight)
		s.cost = c.cost / 3
		c.change(s)
		before := slices.Clone(c.before)
		if out := s.shrink(&node{out: c.before}); !slices.Equal(out, c.want) || !slices.Equal(c.before, before) {
			t.Errorf("%d: %b is out, by hand %b", i, out, c.want)
		}
	}
	// Two of four lots: 400 g at 1 and at 2, any mass at 5, half a kilogram at 4, 100 g at least. Counted by a/0.4 + b/0.4 + c ≤ 2 with
	// a + b + c = 1: 0.4, 0.2667 and 0.3333 at 2.6. A place costs 2, a kilogram 7: the fourth adds 4 − 7 + 2/0.5 a kilogram, or, with
	// its place paid, 2 + (1 − 2/0.5) 0.5, which is 0.5. In fifths, for 5 is the dearest.
	few := &Problem{Mass: 1, Most: 2, Lots: []Lot{{Cost: 1, Stock: 0.4}, {Cost: 2, Stock: 0.4}, {Cost: 5, Stock: 1}, {Cost: 4, Stock: 0.5, Least: 0.1}}}
	for cost, want := range map[float64]lotSet{2.6 + 0.499: {8}, 2.6 + 0.501: nil} {
		s := solved(few, tight)
		nearTo(t, "the price of a place", []float64{-s.solver.Price(s.m.count), s.solver.Objective()}, []float64{0.4, 0.52})
		s.cost = cost / 5
		if out := s.shrink(&node{}); !slices.Equal(out, want) {
			t.Errorf("at %g %b is out, by hand %b", cost, out, want)
		}
		// With a place paid for, a lot needs no price of its own: 2 + (0 − 2/0.5) 0.5 = 0.
		s.solver.ReducedLive()[3], s.cost = 0, 2.6/5
		if out := s.shrink(&node{}); !slices.Equal(out, lotSet{8}) {
			t.Errorf("%b is out where only a place costs", out)
		}
	}
	for _, c := range []struct{ d, price, least, hi, want float64 }{
		{2, 0, 0.1, 0.5, 0.2}, {2, 1, 0.1, 0.5, 1}, {3, 1, 0.1, 0.5, 1.1}, {1, 1, 0.1, 0.5, 0.5}, {9, 0.1, 0.1, 0.5, 0.98}, {1, 0.1, 0.1, 0, math.Inf(1)}, {-1, 0, 0.1, 0.5, -0.1},
	} {
		nearTo(t, "what a lot adds", []float64{atLeast(c.d, c.price, c.least, c.hi)}, []float64{c.want})
	}
	// Many lots: bits beyond the first word.
	many := &Problem{Mass: 1}
	for k := range 70 {
		many.Lots = append(many.Lots, Lot{Cost: 1, Stock: 5, Least: 0.2})
		if k == 3 || k == 63 || k == 64 || k == 69 {
			many.Lots[k].Cost = 3
		}
	}
	s = solved(many, tight)
	s.cost = 1.3 / 3
	var got []int
	s.shrink(&node{}).each(func(k int) { got = append(got, k) })
	if !slices.Equal(got, []int{3, 63, 64, 69}) {
		t.Errorf("out are %v", got)
	}
}

// Which lots a small tree begins with: those used, those that must be, then the nearest to being used. Which can
// still be part of a better recipe: 1 + 0.1 d is below 1.5.
func TestLotsWorthAPlace(t *testing.T) {
	t.Parallel()
	r := &relaxation{lots: []int{10, 11, 12, 13, 14, 15}, w: []float64{0.5, 0, 1.5e-9, 0.9e-9, 0, 0}, d: []float64{0, 0.3, 0.5, 0.2, 9, -0.1}, cost: 1,
		m: &model{unit: 2, lo: []float64{0, 0, 0, 0, 0.1, 0}, least: []float64{0.1, 0.1, 0.1, 0.1, 0.1, 0.1}, hi: []float64{0.5, 0.5, 0.5, 0.5, 0.5, 0.5}}}
	for size, want := range map[int][]int{1: {10, 12, 14}, 3: {10, 12, 14}, 4: {10, 12, 14, 15}, 5: {10, 12, 13, 14, 15}, 6: {10, 11, 12, 13, 14, 15}, 9: {10, 11, 12, 13, 14, 15}} {
		if got := r.pool(size); !slices.Equal(got, want) {
			t.Errorf("%d lots are %v, by hand %v", size, got, want)
		}
	}
	r.d = []float64{9, 4.99, 9, 5.01, 9, 6}
	for i, c := range []struct {
		best   *Recipe
		o      Options
		lots   []int
		others float64
	}{
		{nil, Options{}, []int{10, 11, 12, 13, 14, 15}, math.Inf(1)},
		{&Recipe{Cost: 3}, Options{}, []int{10, 11, 12, 14}, 1.501},
		{&Recipe{Cost: 3}, Options{Near: 0.2}, []int{10, 12, 14}, 1.499},
		{&Recipe{Cost: 3}, Options{Gap: 0.01}, []int{10, 12, 14}, 1.499}, // 0.015 of 1.5
		{&Recipe{Cost: 3.1}, Options{}, []int{10, 11, 12, 13, 14}, 1.6},
	} {
		lots, others := r.worthwhile(c.best, c.o)
		if !slices.Equal(lots, c.lots) || others != c.others && !(math.Abs(others-c.others) < 1e-9) {
			t.Errorf("%d: %v are left, others cost %g, by hand %v and %g", i, lots, others, c.lots, c.others)
		}
	}
	// A price of a place counts: max(0.4 · 0.1, 0.3 + min((0.4 − 0.6) 0.1, (0.4 − 0.6) 0.5)) = 0.2.
	r.d, r.perLot = []float64{0, 0.4, 0, 0, 0, 0}, 0.3
	if _, others := r.worthwhile(&Recipe{Cost: 2.3}, Options{}); math.Abs(others-1.15) > 0.051 || others < 1.15 {
		t.Errorf("others cost %g", others)
	}
	// What can be used at all: whatever there is, and what must be, though it does not fit.
	p := Problem{Mass: 0.4, Slack: 0.1, Lots: []Lot{{Stock: 0.5}, {}, {Stock: 5, Least: 0.49}, {Stock: 5, Least: 0.51}, {Stock: 0.9, Least: 0.6, Must: 0.6}, {Stock: 0.001}}}
	if got := p.usable(); !slices.Equal(got, []int{0, 2, 4, 5}) {
		t.Errorf("usable are %v", got)
	}
}

// How near counts as the same: shares above 10⁻⁹ are there, steps within 10⁻⁶ are whole.
func TestHowNearCountsAsTheSame(t *testing.T) {
	t.Parallel()
	s := &search{t: &task{p: &Problem{Most: 2, Mass: 1}}, m: &model{lots: []int{3, 5, 7}, least: []float64{0.2, 0, 0}, step: []float64{0.1, 1e-4, 0}},
		in: make([]bool, 3), lo: make([]float64, 3), hi: []float64{0.9, 0.8, 0.7}}
	for i, c := range []struct {
		f    func(w []float64) int
		w    []float64
		want int
	}{
		{s.tooMany, []float64{0.5, 1.5e-9, 0.4}, 0}, {s.tooMany, []float64{0.5, 0.9e-9, 0.4}, -1}, {s.tooMany, []float64{0.3, 0.3, 0.3}, 0},
		{s.tooLittle, []float64{1.5e-9, 0.5, 0.5}, 0}, {s.tooLittle, []float64{0.9e-9, 0.5, 0.5}, -1}, {s.tooLittle, []float64{0.2 - 1.5e-9, 0.5, 0.5}, 0}, {s.tooLittle, []float64{0.2 - 0.9e-9, 0.5, 0.5}, -1},
		{s.broken, []float64{0.2 + 1.5e-7, 0, 0}, 0}, {s.broken, []float64{0.2 - 1.5e-7, 0, 0}, 0}, {s.broken, []float64{0.2 + 0.8e-7, 0, 0}, -1},
		{s.broken, []float64{0, 1.5e-9, 0}, 1}, {s.broken, []float64{0, 0.9e-9, 0}, -1}, {s.broken, []float64{0.25, 1.5e-4, 0.3}, 0}, {s.broken, []float64{0, 0, 0.123}, -1},
	} {
		if got := c.f(c.w); got != c.want {
			t.Errorf("%d: lot %d, by hand %d", i, got, c.want)
		}
	}
	s.in = []bool{true, true, true}
	if got := s.tooMany([]float64{0.3, 0.3, 0.4}); got >= 0 {
		t.Errorf("lot %d is in already", got)
	}
	s.avoid = [][]int{{0, 1}, {2}}
	if got := s.repeated([]float64{0.5, 1.5e-9, 0}); !slices.Equal(got, []int{0, 1}) {
		t.Errorf("used whole is %v", got)
	}
	if got := s.repeated([]float64{0.5, 0.9e-9, 1.5e-9}); !slices.Equal(got, []int{2}) {
		t.Errorf("used whole is %v", got)
	}
	// Steps of 0.1, at least about 0.2: 2.9999985 steps are 2 and a part, 2.9999992 are 3; nearly 0.2 is 0.2.
	for _, c := range []struct {
		v, least   float64
		first      bool // less first
		less, more float64
	}{
		{0.29999985, 0.2, false, 0.2, 0.3}, {0.29999992, 0.2, true, 0.3, 0.4}, {0.25, 0.2, false, 0.2, 0.3}, {0.2499, 0.2, true, 0.2, 0.3}, {0.2501, 0.2, false, 0.2, 0.3},
		{0.22, 0.2 * (1 + 1.5e-9), true, 0, 0.3}, {0.22, 0.2 * (1 + 0.8e-9), true, 0.2, 0.3}, {0.16, 0.35, false, 0, 0.35},
	} {
		s.m.least[0] = c.least
		ways := s.lessOrMore(0, c.v)
		less, more := ways[0][0], ways[1][0]
		if !c.first {
			less, more = more, less
		}
		if len(ways) != 2 || less.in || !more.in || less.lo != 0 || math.Abs(less.hi-c.less) > 1e-12 || math.Abs(more.lo-c.more) > 1e-9 || more.hi != 0.9 {
			t.Errorf("%g in steps, at least %g: %+v", c.v, c.least, ways)
		}
	}
	// Where to cut: at the shares that are more than rounding, of two kilograms; or at the recipe.
	s.t.p = &Problem{Mass: 2}
	uses := []Use{{Lot: 5, Mass: 2}}
	if got := s.exact([]float64{0.5, 0.9e-9, 1.5e-9}, uses, false); !slices.Equal(got, []Use{{Lot: 3, Mass: 1}, {Lot: 7, Mass: 3e-9}}) {
		t.Errorf("cut at %v", got)
	}
	if got := s.exact([]float64{0.5, 0.5, 0}, uses, true); !slices.Equal(got, uses) {
		t.Errorf("a recipe is cut at %v", got)
	}
	// Masses of a step, to a billionth.
	for _, c := range []struct{ got, want float64 }{
		{up(0.3*(1+0.2e-9), 0.1), 3 * 0.1}, {up(0.3*(1+0.5e-9), 0.1), 4 * 0.1}, {down(0.3*(1-0.2e-9), 0.1), 3 * 0.1}, {down(0.3*(1-0.5e-9), 0.1), 2 * 0.1},
		{Lot{Stock: 0.3 * (1 - 0.8e-9), Least: 0.3}.upTo(1), 0.3 * (1 - 0.8e-9)}, {Lot{Stock: 0.3 * (1 - 1.2e-9), Least: 0.3}.upTo(1), 0},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%.12g kg, wanted %.12g", c.got, c.want)
		}
	}
}

// What is taken of a lot, in the words of what is refused: the step by the mass of the blend, musts by what steps leave.
func TestWhatALotIsRefusedFor(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		l    Lot
		mass float64
		want string // of the refusal; empty: taken
	}{
		{Lot{Stock: 1, Step: 1.9e-7}, 2, "below 0.2 mg"}, {Lot{Stock: 1, Step: 2.1e-7}, 2, ""}, {Lot{Stock: 1, Step: 5.1e-8}, 0.5, ""}, {Lot{Stock: 1, Step: 4.9e-8}, 0.5, "below 0.05 mg"},
		{Lot{Stock: 1, Must: 0.9, Step: 0.4}, 2, "0 to 0.8 kg"}, {Lot{Stock: 1, Must: 0.8, Step: 0.4}, 2, ""}, {Lot{Stock: 1, Must: 0.9, Step: 1.1}, 2, "0 to 0 kg"},
		{Lot{Stock: 1, Must: 0.5, Least: 2}, 2, "0 to 0 kg"}, {Lot{Stock: 1, Must: 0.5, Least: 1}, 2, ""},
		{Lot{Stock: 1, Must: 0.9, Step: 0.15e-6 * 4}, 1, ""},
	} {
		err := c.l.check(c.mass)
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v of %g kg: %v", c.l, c.mass, err)
		}
	}
}

// What is refused tells what may be.
func TestRefusalsTellWhatMayBe(t *testing.T) {
	t.Parallel()
	good := func() Problem {
		return Problem{Mass: 1, Lots: []Lot{{Stock: 1}, {Stock: 1}}, Limits: []Limit{{Of: []float64{0, 1}, Lo: 0, Hi: 1}}, Curves: []Curve{{Value: func(_, _ []float64) float64 { return 0 }, Limit: 1}}}
	}
	for want, spoil := range map[string]func(p *Problem){
		"0 lots; give 1 to 100000":                        func(p *Problem) { p.Lots = nil },
		"201 limits, at most 200":                         func(p *Problem) { p.Limits = make([]Limit, 201) },
		"9 curved limits, at most 8":                      func(p *Problem) { p.Curves = make([]Curve, 9) },
		"at most -1 lots":                                 func(p *Problem) { p.Most = -1 },
		"lot 1: stock -1 kg is outside 0":                 func(p *Problem) { p.Lots[1].Stock = -1 },
		"lot 1: cost":                                     func(p *Problem) { p.Lots[1].Cost = 2e9 },
		"2 lots must be used, but at most 1":              func(p *Problem) { p.Most = 1; eachLot(func(l *Lot) { l.Must = 0.1 })(p) },
		"limit 0: 1 values for 2 lots":                    func(p *Problem) { p.Limits[0].Of = p.Limits[0].Of[:1] },
		"limit 0: lot 1: property":                        func(p *Problem) { p.Limits[0].Of[1] = -2e12 },
		"limit 0: the least mean 2 is above the greatest": func(p *Problem) { p.Limits[0].Lo = 2 },
		"limit 0: +Inf to 1 is no range":                  func(p *Problem) { p.Limits[0].Lo = math.Inf(1) },
		"limit 0: 0 to -Inf is no range":                  func(p *Problem) { p.Limits[0].Hi = math.Inf(-1) },
		"limit 0: NaN to 1 is no range":                   func(p *Problem) { p.Limits[0].Lo = math.NaN() },
		"limit 0: 0 to NaN is no range":                   func(p *Problem) { p.Limits[0].Hi = math.NaN() },
		"curved limit 0: it has no function":              func(p *Problem) { p.Curves[0].Value = nil },
		"curved limit 0: the limit 1 is below the floor":  func(p *Problem) { p.Curves[0].Floor = 2 },
		"curved limit 0: the limit NaN":                   func(p *Problem) { p.Curves[0].Limit = math.NaN() },
		"curved limit 0: 3 differences":                   func(p *Problem) { p.Curves[0].Parts = 3 },
		"curved limit 0: -1 differences":                  func(p *Problem) { p.Curves[0].Parts = -1 },
	} {
		p := good()
		if spoil(&p); p.check() == nil || !strings.Contains(p.check().Error(), want) {
			t.Errorf("wanted %q, got %v", want, p.check())
		}
	}
	for want, o := range map[string]Options{"11 recipes wanted; 1 to 10": {Recipes: 11}, "-1 recipes": {Recipes: -1}, "-1 search nodes": {Nodes: -1}} {
		if err := o.fill(good()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("wanted %q, got %v", want, err)
		}
	}
}

// A mass that steps cannot make is told with the two next to it, and only where all steps are the same.
func TestStepsThatCannotMakeTheMass(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		mass, slack float64
		steps       []float64
		want        string
	}{
		{1, 0, []float64{0.3, 0.3}, "0.9 or 1.2 kg"}, {1, 0.05, []float64{0.3, 0.3}, "0.9 or 1.2 kg"}, {1, 0.1, []float64{0.3, 0.3}, ""}, {1.1, 0.1, []float64{0.3, 0.3}, ""}, {0.9, 0, []float64{0.3, 0.3}, ""},
		{1, 0, []float64{0.3, 0.2}, ""}, {1, 0, []float64{0.3, 0}, ""}, {1, 0, []float64{0, 0.3}, ""}, {1, 0, []float64{0, 0}, ""}, {1, 0, []float64{0.7}, "0.7 or 1.4 kg"},
	} {
		p := Problem{Mass: c.mass, Slack: c.slack}
		for _, step := range c.steps {
			p.Lots = append(p.Lots, Lot{Stock: 5, Step: step})
		}
		err := p.checkSteps()
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%g ± %g kg in steps of %v: %v", c.mass, c.slack, c.steps, err)
		}
	}
}

// Good recipes are kept in the order of their costs, forty of them; the best that uses no avoided set whole is the one to beat.
func TestRecipesKept(t *testing.T) {
	t.Parallel()
	tk := &task{}
	rng := rand.New(rand.NewPCG(51, 3))
	var all []float64
	for k := range 60 {
		cost := math.Floor(100 * rng.Float64())
		all = append(all, cost)
		tk.remember(&Recipe{Cost: cost, Uses: []Use{{Lot: k % 2}, {Lot: 5}}})
		slices.Sort(all)
		all = all[:min(len(all), 40)]
		var kept []float64
		for _, r := range tk.seen {
			kept = append(kept, r.Cost)
		}
		if !slices.Equal(kept, all) {
			t.Fatalf("after %d: %v, wanted %v", k, kept, all)
		}
	}
	tk.seen = []*Recipe{{Cost: 1, Uses: []Use{{Lot: 1}, {Lot: 5}}}, {Cost: 2, Uses: []Use{{Lot: 0}, {Lot: 5}}}, {Cost: 3, Uses: []Use{{Lot: 9}}}}
	for _, c := range []struct {
		avoid [][]int
		want  float64
	}{{nil, 1}, {[][]int{{1, 5}}, 2}, {[][]int{{5}}, 3}, {[][]int{{1, 9}}, 1}, {[][]int{{5}, {9}}, 0}} {
		got := 0.0
		if r := tk.known(c.avoid); r != nil {
			got = r.Cost
		}
		if got != c.want {
			t.Errorf("without %v the best costs %g, wanted %g", c.avoid, got, c.want)
		}
	}
	// Of equals the later is kept behind.
	tk.seen = nil
	for lot := range 3 {
		tk.remember(&Recipe{Cost: 7, Uses: []Use{{Lot: lot}}})
	}
	if tk.seen[0].Uses[0].Lot != 0 || tk.seen[2].Uses[0].Lot != 2 {
		t.Errorf("of equals: %+v", tk.seen)
	}
}

// The conditions of a problem, and the problem without each.
func TestConditionsThatCanBeLeftOut(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	p := &Problem{Mass: 1, Slack: 0.0625, Most: 1, Lots: []Lot{{Cost: 2, Stock: 0.5, Least: 0.25, Step: 0.125, Must: 0.1}, {Cost: 3, Stock: 9}},
		Limits: []Limit{{Of: []float64{1, 2}, Lo: 1, Hi: 2}, {Of: []float64{1, 2}, Lo: -inf, Hi: 2}}, Curves: []Curve{{Limit: 3, Weight: 2}, {Limit: inf}}}
	all := p.conditions()
	var there []bool
	var c Conflict
	for _, k := range all {
		there = append(there, k.there)
		k.name(&c)
	}
	if want := (Conflict{Stock: true, Must: true, Most: true, Steps: true, Small: true, Low: []int{0, 1}, High: []int{0, 1}, Curve: []int{0, 1}}); !reflect.DeepEqual(c, want) {
		t.Errorf("named are %+v", c)
	}
	if want := []bool{true, false, true, true, true, true, true, true, false, true, true}; !slices.Equal(there, want) {
		t.Errorf("there are %v", there)
	}
	for i, left := range []func(q *Problem){
		func(q *Problem) { q.Curves[0].Limit = inf }, func(q *Problem) { q.Curves[1].Limit = inf }, func(q *Problem) { q.Lots[0].Step = 0 }, func(q *Problem) { q.Lots[0].Least = 0 },
		func(q *Problem) { q.Most = 0 }, func(q *Problem) { q.Lots[0].Must = 0 }, func(q *Problem) { q.Limits[0].Lo = -inf }, func(q *Problem) { q.Limits[0].Hi = inf },
		func(q *Problem) {}, func(q *Problem) { q.Limits[1].Hi = inf }, func(q *Problem) { q.Lots[0].Stock = 1 + 0.0625 + 0.25 + 0.125 },
	} {
		got, want := p.copy(), p.copy()
		all[i].leave(&got)
		left(&want)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("condition %d left out: %+v, wanted %+v", i, got, want)
		}
	}
	for i, k := range (&Problem{Mass: 1, Lots: []Lot{{Stock: 0.2}}, Limits: []Limit{{Lo: -inf, Hi: inf}}, Curves: []Curve{{Limit: inf}}}).conditions() {
		if k.there != (i == 7) { // the stock, always
			t.Errorf("condition %d of nothing: %t", i, k.there)
		}
	}
	free := p.free()
	if free.Lots[0].Cost != 0 || free.Lots[1].Cost != 0 || free.Curves[0].Weight != 0 || p.Lots[0].Cost != 2 || p.Curves[0].Weight != 2 || free.Lots[0].Stock != 0.5 {
		t.Errorf("free of costs: %+v", free)
	}
}
