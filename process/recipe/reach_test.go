package recipe

// What searches do with curves and with many lots, piece by piece: faults, anchors that lead nowhere, exchanges of lots.

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// A curve that answers what is no number is a fault, told with the lot; one that moves from kept to hopeless where the
// anchor follows leaves what was found.
func TestFaultsOfCurves(t *testing.T) {
	t.Parallel()
	p := &Problem{Mass: 1, Lots: []Lot{{Cost: 2, Stock: 1}, {Cost: 1, Stock: 1}}, Curves: []Curve{{Limit: 2, Parts: 1}}}
	uses := []Use{{Lot: 0, Mass: 0.5}, {Lot: 1, Mass: 0.5}}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		tk := newTask(t.Context(), p, Options{})
		tk.slope[1] = bad
		if c := tk.cutAt(0, uses, 1); tk.fault == nil || !strings.Contains(tk.fault.Error(), "slope for lot 1 is") || c.slope[1] != 0 {
			t.Errorf("a slope of %g: %v", bad, tk.fault)
		}
		for name, f := range map[string]func(x, part []float64, slope [][]float64){
			"a difference": func(_, part []float64, _ [][]float64) { part[0] = bad },
			"its slope":    func(_, _ []float64, slope [][]float64) { slope[0][1] = bad },
		} {
			p.Curves[0].Differences = f
			tk := newTask(t.Context(), p, Options{})
			if tk.straighten(0, uses[:1]); tk.fault == nil {
				t.Errorf("%s of %g is taken", name, bad)
			}
		}
		p.Curves[0].Value = func(_, _ []float64) float64 { return bad }
		tk = newTask(t.Context(), p, Options{})
		if v := tk.curveOnly(0, uses); tk.fault == nil || !math.IsInf(v, 1) {
			t.Errorf("a value of %g: %g, %v", bad, v, tk.fault)
		}
	}
	for _, good := range []float64{math.MaxFloat64, -math.MaxFloat64, 0} {
		if !finite(good) {
			t.Errorf("%g is no number", good)
		}
	}
	// Kept everywhere, but from nine tenths of the cheap lot on its difference says 100.
	p.Curves[0].Value = func(_, slope []float64) float64 { clear(slope); return 1 }
	p.Curves[0].Differences = func(x, part []float64, slope [][]float64) {
		clear(slope[0])
		if part[0] = 1; x[1] >= 0.9 {
			part[0] = 100
		}
	}
	a, err := Solve(t.Context(), *p, Options{Recipes: 2})
	if err != nil || len(a.Recipes) != 1 || a.Recipes[0].Cost != 1 || a.Proved != (a.Recipes[0].Cost-a.Bound <= 1e-6) {
		t.Errorf("%+v, %v", a, err)
	}
	if a.Recipes[0].Curves[0].Price != 0 || a.Recipes[0].Curves[0].Room != 1 {
		t.Errorf("read as %+v", a.Recipes[0].Curves[0])
	}
}

// Where the anchor wants more of the second lot, but the true value falls only a tenth of the way each time, it moves twelve times;
// a blend whose own anchor leads nowhere is none by it, though its least amounts make up the mass.
func TestAnchorsMoveAsOftenAsTheyMay(t *testing.T) {
	t.Parallel()
	moved := 0
	last := 0.0
	p := &Problem{Mass: 1, Lots: []Lot{{Stock: 1}, {Stock: 1}}, Curves: []Curve{{Limit: 2, Parts: 1,
		Value: func(x, _ []float64) float64 {
			tenths := math.Log(1-x[1]) / math.Log(0.9)
			if math.Abs(tenths-math.Round(tenths)) < 1e-6 {
				return 1 - x[1]
			}
			return 10
		},
		Differences: func(x, part []float64, slope [][]float64) {
			moved++
			last = x[1]
			part[0], slope[0][0], slope[0][1] = 1-x[1], 0, -1
		}}}}
	tk := newTask(t.Context(), p, Options{Recipes: 1, Nodes: 5, Gap: 1e-6})
	if err := tk.settleAnchors(); err != nil || moved != 13 || math.Abs(last-(1-math.Pow(0.9, 12))) > 1e-9 {
		t.Errorf("%d anchors, the last at %g (%v)", moved, last, err)
	}
	eachLot(func(l *Lot) { l.Least = 0.5 })(p)
	p.Curves[0].Value = func(_, _ []float64) float64 { return 1 }
	for far, want := range map[float64]bool{100: false, 1: true} {
		p.Curves[0].Differences = func(_, part []float64, _ [][]float64) { part[0] = far }
		s := newSearchOf(t, p, Options{Recipes: 1, Nodes: 5, Gap: 1e-6}, tight)
		if found, err := s.polish([]Use{{Lot: 0, Mass: 0.5}, {Lot: 1, Mass: 0.5}}); err != nil || found != want || (s.best != nil) != want {
			t.Errorf("%g long: a recipe %t, %+v (%v)", far, found, s.best, err)
		}
	}
}

// A lot at its least amount saves nothing with more stock, nor does a curve that costs by its weight alone: no price is above 0.
func TestPricesAreNeverAboveNothing(t *testing.T) {
	t.Parallel()
	p := Problem{Mass: 1, Lots: []Lot{{Cost: 1, Stock: 5}, {Cost: 1.5, Stock: 5, Must: 0.2}}, Curves: []Curve{{Value: func(x, slope []float64) float64 {
		if slope != nil {
			slope[0], slope[1] = 0, 0.25
		}
		return 0.25*x[1] + 1
	}, Limit: 5, Floor: 1.05, Weight: 0.1, Convex: true}}}
	a, err := Solve(t.Context(), p, Options{Recipes: 1})
	if err != nil || len(a.Recipes) != 1 {
		t.Fatalf("%+v, %v", a, err)
	}
	r := a.Recipes[0]
	nearTo(t, "cost, last kilogram and prices", []float64{r.Cost, r.PerKG, r.Uses[0].Price, r.Uses[1].Price, r.Curves[0].Price}, []float64{0.8 + 0.3 + 0.105, 1, 0, 0, 0})
}

// Where one lot is all there is and it breaks a limit, the nearest is that lot.
func TestTheNearestOfOneLot(t *testing.T) {
	t.Parallel()
	a, err := Solve(t.Context(), Problem{Mass: 2, Lots: []Lot{{Stock: 5}, {}}, Limits: []Limit{{Of: []float64{3, 0}, Lo: math.Inf(-1), Hi: 1}}}, Options{})
	if err != nil || a.Nearest == nil || len(a.Nearest.Uses) != 1 || a.Nearest.Uses[0].Lot != 0 || math.Abs(a.Nearest.Mass-2) > 1e-9 || math.Abs(a.Nearest.Over[0]-2) > 1e-9 {
		t.Errorf("%+v, %v", a.Nearest, err)
	}
	a, err = Solve(t.Context(), Problem{Mass: 2, Lots: []Lot{{}, {}}, Limits: []Limit{{Of: []float64{3, 0}, Lo: math.Inf(-1), Hi: 1}}}, Options{})
	if err != nil || a.Nearest == nil || len(a.Nearest.Uses) != 0 || a.Nearest.Short != 2 {
		t.Errorf("%+v, %v", a.Nearest, err)
	}
}

// How much room a mean has: to the nearer side, none where it is out by no more than rounding, any where both are open.
func TestRoomOfALimit(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, c := range []struct{ lo, hi, want float64 }{{16.5, 19, 0.5}, {15, 17.25, 0.25}, {-inf, 18, 1}, {14, inf, 3}, {-inf, inf, inf}, {17, 17, 0}, {10, 17 - 0.5e-7, 0}, {17 + 0.5e-7, 30, 0}, {-40, 20, 3}} {
		p := &Problem{Mass: 1, Lots: []Lot{{Stock: 1}, {Stock: 1}}, Limits: []Limit{{Of: []float64{10, 20}, Lo: c.lo, Hi: c.hi}}}
		r, ok := newTask(t.Context(), p, Options{}).certify([]Use{{Lot: 0, Mass: 0.3}, {Lot: 1, Mass: 0.7}})
		if !ok || math.Abs(r.Limits[0].Value-17) > 1e-12 || r.Limits[0].Room != c.want && !(math.Abs(r.Limits[0].Room-c.want) < 1e-12) {
			t.Errorf("from %g to %g: %+v, wanted %g", c.lo, c.hi, r, c.want)
		}
	}
}

// softOf is the exchange over the lots of a problem, as it begins; nil where nothing is possible.
func softOf(t *testing.T, p *Problem, avoid [][]int) *exchange {
	t.Helper()
	tk := newTask(t.Context(), p, Options{Recipes: 1, Nodes: 1000, Gap: 1e-6})
	root, err := tk.relax()
	if err != nil {
		t.Fatal(err)
	}
	if root.empty {
		return nil
	}
	x := &exchange{t: tk, avoid: avoid, m: newModel(p, root.lots, soft), left: 4000}
	x.share = make([]float64, len(x.m.lots))
	x.begin(root)
	if x.s, err = tk.newSearch(x.m, nil, 1); err != nil {
		t.Fatal(err)
	}
	return x
}

// Where an exchange begins: lots that must be used, then those of the greatest shares in the relaxation.
func TestWhereAnExchangeBegins(t *testing.T) {
	t.Parallel()
	p := &Problem{Mass: 1, Most: 3}
	for range 6 {
		p.Lots = append(p.Lots, Lot{Stock: 1})
	}
	p.Lots[4].Must = 0.1
	m := newModel(p, []int{0, 1, 2, 4, 5}, soft)
	root := &relaxation{lots: []int{0, 1, 2, 3, 4, 5}, w: []float64{0.1, 0.3, 1.5e-9, 0.9, 0, 0.9e-9}}
	for most, want := range map[int][]int{1: {3}, 2: {1, 3}, 3: {0, 1, 3}, 4: {0, 1, 2, 3}, 5: {0, 1, 2, 3}} {
		p.Most = most
		x := &exchange{t: &task{p: p}, m: m}
		if x.begin(root); !slices.Equal(x.set, want) || !math.IsInf(x.value, 1) {
			t.Errorf("%d lots begin as %v at %g, by hand %v", most, x.set, x.value, want)
		}
	}
	// A lot barred after another: the second, by its turn, of those that need not be; two are barred at once.
	x := &exchange{t: &task{p: p}, m: m, set: []int{0, 1, 3}, left: 5}
	for start, want := range [][2][]int{{{1, 3}, {0}}, {{3}, {0, 1}}, {{3}, {0, 1}}} {
		if x.moveOn(start * 3); !slices.Equal(x.set, want[0]) || !slices.Equal(x.bars, want[1]) {
			t.Errorf("after %d: %v with %v barred", start, x.set, x.bars)
		}
	}
	if x.left != 0 {
		t.Errorf("%d programs are left where no lot can go", x.left)
	}
	x = &exchange{t: &task{p: p}, m: m, set: []int{0, 1, 2, 3}, left: 5, bars: []int{7, 8}}
	if x.moveOn(4); !slices.Equal(x.set, []int{0, 2, 3}) || !slices.Equal(x.bars, []int{8, 1}) || x.left != 5 {
		t.Errorf("%v with %v barred", x.set, x.bars)
	}
	// Held tighter: half way from the floor to the limit; what may be used stays.
	x.t.p.Curves = []Curve{{Floor: 1, Limit: 3}}
	if x.hold(p.copy(), 0.25); x.m.p.Curves[0].Limit != 1.5 || p.Curves[0].Limit != 3 || x.s != nil || len(x.m.lots) != 5 || !x.m.elastic || x.m.free {
		t.Errorf("held at %+v", x.m.p.Curves[0])
	}
}

// What a set of lots is worth is its own program: the least of costs and breaks with just those lots, each at least its least.
func TestWhatASetIsWorth(t *testing.T) {
	t.Parallel()
	p := &Problem{Mass: 1, Most: 2, Lots: []Lot{{Cost: 1, Stock: 0.5}, {Cost: 2, Stock: 0.4, Least: 0.3}, {Cost: 4, Stock: 1}}, Limits: []Limit{{Of: []float64{1, 0, 0}, Lo: math.Inf(-1), Hi: 0.4}}}
	x := softOf(t, p, [][]int{{0, 1}, {1, 2}})
	x.avoid = nil
	for _, c := range []struct {
		set  []int
		want float64 // of 4: costs, 50 · 4 a kilogram missing, and the same a kilogram of the first above 400 g of each kilogram
	}{
		{[]int{2}, 4}, {[]int{0, 2}, 0.4 + 2.4}, {[]int{0, 1}, 0.4 + 0.8 + 200*0.2 + 200*0.08}, {[]int{1, 2}, 0.8 + 2.4}, {nil, 200},
	} {
		got, err := x.worth(c.set, 1)
		upper := slices.Equal(c.set, []int{0, 1}) // of all it could break, one way by hand
		if err != nil || upper && got > c.want/4 || !upper && math.Abs(got-c.want/4) > 1e-8 {
			t.Errorf("%v is worth %g, by hand %g (%v)", c.set, got, c.want/4, err)
		}
	}
	if x.left != 3995 || x.t.nodes != 6 {
		t.Errorf("%d programs left, %d solved", x.left, x.t.nodes)
	}
	x.avoid = [][]int{{0, 1}}
	if v, err := x.worth([]int{0, 1}, 1); err != nil || !math.IsInf(v, 1) || x.left != 3995 {
		t.Errorf("a set to avoid is worth %g (%v)", v, err)
	}
	if v, err := x.worth([]int{0, 2}, 1); err != nil || math.IsInf(v, 1) {
		t.Errorf("another is worth %g (%v)", v, err)
	}
}

// The lots tried first are the eight whose prices, by as much as could be used, a quarter at most, are the lowest, but for
// those of the set and those barred. Prices by chance, two in three below 0.
func TestWhichLotsAreWanted(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(53, 9))
	few, many := 0, 0
	for k := range 12 {
		p := plausible(rng, 8+3*k, -0.5)
		p.Most = 3
		x := softOf(t, &p, nil)
		if x == nil {
			continue
		}
		if err := x.descend(); err != nil {
			t.Fatal(err)
		}
		d := x.s.solver.Reduced()
		for a := range d {
			d[a] = []float64{-1, 1, -1}[a%3] * rng.Float64()
		}
		d[0] = 0
		key := func(a int) float64 { return d[a] * min(x.m.hi[a], 0.25) }
		x.bars = []int{5}
		var want []int
		for a := range x.m.lots {
			if key(a) < 0 && !slices.Contains(x.set, a) && a != 5 {
				want = append(want, a)
			}
		}
		if len(want) <= 8 {
			few++
		} else {
			many++
		}
		slices.SortStableFunc(want, func(a, b int) int { return cmp.Compare(key(a), key(b)) })
		if got := x.wanted(x.set); !slices.Equal(got, want[:min(8, len(want))]) {
			t.Errorf("case %d: wanted are %v, in order %v", k, got, want)
		}
	}
	if few < 2 || many < 2 {
		t.Errorf("%d want eight lots or fewer, %d more: too few of a kind", few, many)
	}
}

// An exchange ends where no lot of the set for another outside, nor one more, nor one less, is worth more.
func TestAnExchangeEndsWhereNoneHelps(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(52, 9))
	tried, moved := 0, 0
	for k := range 20 {
		p := plausible(rng, 9, -0.3)
		p.Most = 2 + k%3
		p.Limits = p.Limits[:4]
		x := softOf(t, &p, nil)
		if x == nil {
			continue
		}
		tried++
		begun := slices.Clone(x.set)
		if err := x.descend(); err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(begun, x.set) {
			moved++
		}
		value := x.value
		for _, out := range append(slices.Clone(x.set), -1) {
			rest := slices.Clone(x.set)
			if out >= 0 {
				rest = without(x.set, out)
			}
			for in := -1; in < len(x.m.lots); in++ {
				set := rest
				if in >= 0 {
					if slices.Contains(x.set, in) || len(rest) >= p.Most {
						continue
					}
					set = with(rest, in)
				}
				if v, err := x.worth(set, 1); err != nil || v < value-1e-9*(1+value) {
					t.Errorf("case %d: %v is worth %g, %v only %g (%v)", k, set, v, x.set, value, err)
				}
			}
		}
	}
	if moved < 3 || tried < 5 {
		t.Errorf("only %d of %d exchanges went anywhere", moved, tried)
	}
}

// Rounding to scoops, one by one: a scoop goes to whoever can take it, though its share was rounded up; nothing goes anywhere where
// a billionth lacks.
func TestSingleScoops(t *testing.T) {
	t.Parallel()
	p := &Problem{Mass: 1, Lots: []Lot{{Stock: 0.2, Step: 0.1}, {Stock: 0.2, Step: 0.1}, {Stock: 0.2, Step: 0.1}, {Stock: 5, Step: 0.1}}}
	m := newModel(p, lotsUpTo(4), plain)
	uses, ok := m.weigh([]float64{0.24, 0.24, 0.24, 0.28})
	if !ok || uses[3].Steps != 4 || uses[0].Steps != 2 {
		t.Errorf("%+v, %t", uses, ok)
	}
	// Five lots that lost nearly half a scoop each and are at their ends: the sixth takes all three that are missing.
	full := &Problem{Mass: 1.5}
	for range 5 {
		full.Lots = append(full.Lots, Lot{Stock: 0.2, Step: 0.1})
	}
	full.Lots = append(full.Lots, Lot{Stock: 5, Step: 0.1})
	share := 0.249 / 1.5
	if uses, ok := newModel(full, lotsUpTo(6), plain).weigh([]float64{share, share, share, share, share, 1 - 5*share}); !ok || uses[5].Steps != 5 || uses[0].Steps != 2 {
		t.Errorf("%+v, %t", uses, ok)
	}
	uses, rest := m.portions([]float64{0.24, 0.16, 0, 0.6})
	if len(uses) != 3 || uses[1].Lot != 1 {
		t.Fatalf("%+v", uses)
	}
	nearTo(t, "what rounding left out", rest, []float64{0.04, -0.04, 0})
	for mass, want := range map[float64]int{1 + 1.5e-9: 11, 1 + 0.8e-9: 10, 1 - 1.5e-9: 9, 1 - 0.8e-9: 10} {
		for _, scale := range []float64{1, 4, 0.25} {
			one := &Problem{Mass: scale * mass, Lots: []Lot{{Stock: 50, Step: scale / 10}}}
			uses := []Use{{Mass: scale, Steps: 10}}
			if one.fixSteps(uses, []float64{0}); uses[0].Steps != want || math.Abs(uses[0].Mass-scale*0.1*float64(want)) > 1e-12 {
				t.Errorf("%.12g kg: %d scoops, %g kg", one.Mass, uses[0].Steps, uses[0].Mass)
			}
		}
	}
	// Three scoops are missing: they go round, to the share that lost most each time.
	uses = []Use{{Lot: 0, Steps: 1, Mass: 0.1}, {Lot: 1, Steps: 1, Mass: 0.1}, {Lot: 3, Steps: 5, Mass: 0.5}}
	rest = []float64{0.04, 0.03, 0.02}
	p.fixSteps(uses, rest)
	if uses[0].Steps != 2 || uses[1].Steps != 2 || uses[2].Steps != 6 {
		t.Errorf("%+v", uses)
	}
	nearTo(t, "what they lost then", rest, []float64{-0.06, -0.07, -0.08})
	for mass, want := range map[float64]bool{1: true, 1 + 0.8e-9: true, 1 + 1.5e-9: false, 1 - 0.8e-9: true, 1 - 1.5e-9: false} {
		for _, scale := range []float64{1, 4, 0.25} {
			if got := (&Problem{Mass: scale, Lots: []Lot{{Stock: 5, Step: scale}}}).fixMass([]Use{{Mass: scale * mass}}); got != want {
				t.Errorf("%.12g of %g kg: %t", scale*mass, scale, got)
			}
			short := newTask(t.Context(), &Problem{Mass: scale, Slack: 0.25 * scale, Lots: make([]Lot, 1)}, Options{}).measure([]Use{{Mass: scale * (mass - 0.25)}}).Short
			if near := want || mass > 1; (short == 0) != near || !near && math.Abs(short-scale*0.25) > 1e-6 {
				t.Errorf("%.12g of %g kg is short by %g", scale*(mass-0.25), scale, short)
			}
		}
	}
	// What takes up the rest: as much as its stock, or down to what it must be, exactly.
	for _, c := range []struct {
		lot  Lot
		from float64
		want float64 // 0: cannot
	}{{Lot{Stock: 1}, 0.75, 1}, {Lot{Stock: 0.875}, 0.75, 0}, {Lot{Stock: 5, Must: 1}, 1.5, 1}, {Lot{Stock: 5, Must: 1.0625}, 1.5, 0}, {Lot{Stock: 5, Least: 1}, 1.5, 1}, {Lot{Stock: 5, Least: 1.0625}, 1.5, 0}} {
		uses := []Use{{Mass: c.from}}
		if ok := (&Problem{Mass: 1, Lots: []Lot{c.lot}}).fixMass(uses); ok != (c.want > 0) || ok && uses[0].Mass != c.want {
			t.Errorf("%+v from %g: %t, %g kg", c.lot, c.from, ok, uses[0].Mass)
		}
	}
}
