package recipe

// How much work the search spends, and the edges of what is taken.

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// Nodes and pivots are the work of a search on any machine. Where a search starts, what it
// prunes and in which order it looks show in no answer, only here. The numbers say nothing by
// themselves: fewer for the same cost is better, and is kept by -run AsApproved -update.
// Other processors round the last digit otherwise and may take another way.
func TestWorkIsAsApproved(t *testing.T) {
	t.Parallel()
	if runtime.GOARCH != "amd64" {
		t.Skip("the work is kept of one kind of processor")
	}
	var out strings.Builder
	told := func(name string, p Problem, o Options) {
		a, err := Solve(t.Context(), p, o)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		fmt.Fprintf(&out, "%s nodes %d pivots %d bound %.9g proved %t", name, a.Nodes, a.Pivots, a.Bound, a.Proved)
		for _, r := range a.Recipes {
			fmt.Fprintf(&out, " cost %.9g", r.Cost)
		}
		if n := a.Nearest; n != nil {
			fmt.Fprintf(&out, " nearest %.9g of %d", n.Mass, len(n.Uses))
		}
		out.WriteByte('\n')
	}
	rng := rand.New(rand.NewPCG(41, 3))
	for k := range 16 {
		told(fmt.Sprint("drawn ", k), drawnBlend(rng), Options{Nodes: 300})
	}
	for k := range 3 {
		p, _ := hidden(rng, 25)
		told(fmt.Sprint("colour ", k), p, Options{Recipes: 2, Nodes: 60})
		p.Curves[0].Limit = 0.4 // nearer than most blends come
		p.Limits = []Limit{{Of: make([]float64, 25), Lo: math.Inf(-1), Hi: 0.3}}
		for i := range p.Limits[0].Of {
			p.Limits[0].Of[i] = rng.Float64()
		}
		told(fmt.Sprint("near colour ", k), p, Options{Recipes: 1, Nodes: 40})
	}
	for k := range 3 {
		told(fmt.Sprint("strict ", k), plausible(rng, 30, 0.9), Options{Nodes: 200})
	}
	told("many", plausible(rng, 1100, 0.3), Options{Recipes: 2, Nodes: 60})
	checkrow.ApprovedText(t, "work", out.String())
}

// Both ends of every number a problem may have, and the next beyond.
func TestProblemsAtTheEdge(t *testing.T) {
	t.Parallel()
	good := func() Problem {
		return Problem{Mass: 1, Lots: []Lot{{Cost: 1, Stock: 1}, {Cost: 2, Stock: 1}}}
	}
	flat := Curve{Value: func(_, slope []float64) float64 { clear(slope); return 0 }, Limit: 1}
	limits := func(n int) func(p *Problem) {
		return func(p *Problem) {
			for range n {
				p.Limits = append(p.Limits, Limit{Of: make([]float64, len(p.Lots)), Lo: -1, Hi: 1})
			}
		}
	}
	curve := func(change func(c *Curve)) func(p *Problem) {
		return func(p *Problem) { c := flat; change(&c); p.Curves = []Curve{c} }
	}
	lot := func(change func(l *Lot)) func(p *Problem) { return func(p *Problem) { change(&p.Lots[1]) } }
	of := func(v float64) func(p *Problem) {
		return func(p *Problem) { p.Limits = []Limit{{Of: []float64{0, v}, Lo: math.Inf(-1), Hi: 1}} }
	}
	for name, c := range map[string]struct{ taken, refused func(p *Problem) }{
		"lots":           {func(p *Problem) { p.Lots = make([]Lot, 100_000) }, func(p *Problem) { p.Lots = make([]Lot, 100_001) }},
		"one lot":        {func(p *Problem) { p.Lots = p.Lots[:1] }, func(p *Problem) { p.Lots = p.Lots[:0] }},
		"limits":         {limits(200), limits(201)},
		"curves":         {func(p *Problem) { p.Curves = []Curve{flat, flat, flat, flat, flat, flat, flat, flat} }, func(p *Problem) { p.Curves = []Curve{flat, flat, flat, flat, flat, flat, flat, flat, flat} }},
		"most":           {func(p *Problem) { p.Most = 0 }, func(p *Problem) { p.Most = -1 }},
		"musts":          {func(p *Problem) { p.Most, p.Lots[0].Must = 1, 0.5 }, func(p *Problem) { p.Most, p.Lots[0].Must, p.Lots[1].Must = 1, 0.5, 0.1 }},
		"little mass":    {func(p *Problem) { p.Mass = 1e-6 }, func(p *Problem) { p.Mass = 0.9e-6 }},
		"much mass":      {func(p *Problem) { p.Mass = 1e6 }, func(p *Problem) { p.Mass = 1.1e6 }},
		"slack":          {func(p *Problem) { p.Slack = 0.5 }, func(p *Problem) { p.Slack = 0.51 }},
		"dear":           {lot(func(l *Lot) { l.Cost = 1e9 }), lot(func(l *Lot) { l.Cost = 1.1e9 })},
		"paid for":       {lot(func(l *Lot) { l.Cost = -1e9 }), lot(func(l *Lot) { l.Cost = -1.1e9 })},
		"stock":          {lot(func(l *Lot) { l.Stock = 1e6 }), lot(func(l *Lot) { l.Stock = 1.1e6 })},
		"no stock":       {lot(func(l *Lot) { l.Stock = 0 }), lot(func(l *Lot) { l.Stock = -1e-9 })},
		"must":           {lot(func(l *Lot) { l.Must = 1 }), lot(func(l *Lot) { l.Must = 1.1 })},
		"less than none": {lot(func(l *Lot) { l.Must = 0 }), lot(func(l *Lot) { l.Must = -1e-9 })},
		"least":          {lot(func(l *Lot) { l.Least = 1e6 }), lot(func(l *Lot) { l.Least = 1.1e6 })},
		"step":           {lot(func(l *Lot) { l.Step = 1e6 }), lot(func(l *Lot) { l.Step = 1.1e6 })},
		"fine step":      {lot(func(l *Lot) { l.Step = 1.01e-7 }), lot(func(l *Lot) { l.Step = 0.99e-7 })},
		"property":       {of(1e12), of(1.1e12)},
		"below nothing":  {of(-1e12), of(-1.1e12)},
		"weight":         {curve(func(c *Curve) { c.Weight = 1e9 }), curve(func(c *Curve) { c.Weight = 1.1e9 })},
		"floor":          {curve(func(c *Curve) { c.Floor = -1e9 }), curve(func(c *Curve) { c.Floor = -1.1e9 })},
		"floor below":    {curve(func(c *Curve) { c.Floor, c.Limit = 1e9, 3e9 }), curve(func(c *Curve) { c.Floor, c.Limit = 1.1e9, 3e9 })},
		"at the floor":   {curve(func(c *Curve) { c.Floor, c.Limit = 1e9, 1e9 }), curve(func(c *Curve) { c.Floor, c.Limit = 1e9, 1e9-1 })},
		"parts": {curve(func(c *Curve) { c.Parts, c.Differences = 100, func(_, _ []float64, _ [][]float64) {} }),
			curve(func(c *Curve) { c.Parts, c.Differences = 101, func(_, _ []float64, _ [][]float64) {} })},
		"parts without": {curve(func(*Curve) {}), curve(func(c *Curve) { c.Parts = 1 })},
		"fewer parts":   {curve(func(c *Curve) { c.Parts = 0 }), curve(func(c *Curve) { c.Parts = -1 })},
		"open range":    {limits(1), func(p *Problem) { limits(1)(p); p.Limits[0].Lo = math.Inf(1); p.Limits[0].Hi = math.Inf(1) }},
		"narrow range":  {func(p *Problem) { limits(1)(p); p.Limits[0].Lo = 1 }, func(p *Problem) { limits(1)(p); p.Limits[0].Lo = 1.0000001 }},
	} {
		p := good()
		if c.taken(&p); p.check() != nil {
			t.Errorf("%s: refused: %v", name, p.check())
		}
		p = good()
		if c.refused(&p); p.check() == nil {
			t.Errorf("%s: taken", name)
		}
	}
	for name, c := range map[string]struct{ taken, refused Options }{
		"recipes": {Options{Recipes: 10}, Options{Recipes: 11}},
		"fewer":   {Options{Recipes: 1}, Options{Recipes: -1}},
		"nodes":   {Options{Nodes: 1}, Options{Nodes: -1}},
		"gap":     {Options{Gap: 0.5}, Options{Gap: 0.51}},
		"no gap":  {Options{Gap: 1e-12}, Options{Gap: -1e-12}},
		"near":    {Options{Near: 1e300}, Options{Near: -1e-12}},
	} {
		if err := c.taken.fill(good()); err != nil {
			t.Errorf("%s: refused: %v", name, err)
		}
		if c.refused.fill(good()) == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

// One lot that is all there is, by the gram, is the recipe; it costs what it costs, and an
// ended question is not answered.
func TestOneLot(t *testing.T) {
	t.Parallel()
	p := Problem{Mass: 2, Lots: []Lot{{Cost: 3, Stock: 2}}}
	a, err := Solve(t.Context(), p, Options{Recipes: 1})
	if err != nil || len(a.Recipes) != 1 || a.Recipes[0].Cost != 6 || !a.Proved || a.Gap() != 0 || a.Reduced[0] > 3 {
		t.Errorf("%v %+v", err, a)
	}
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Solve(over, p, Options{Recipes: 1}); !errors.Is(err, context.Canceled) {
		t.Errorf("after the end: %v", err)
	}
}

// The gap is a share of the cost, also where costs are below 0 and where the bound lies on
// the other side of 0; without a recipe or a bound nothing is known.
func TestGap(t *testing.T) {
	t.Parallel()
	at := func(cost, bound float64) float64 { return Answer{Recipes: []Recipe{{Cost: cost}}, Bound: bound}.Gap() }
	for _, c := range []struct{ got, want float64 }{
		{at(10, 9), 0.1}, {at(10, 10), 0}, {at(10, 11), 0}, {at(-10, -11), 0.1}, {at(0, -1), 1}, {at(1, -3), 1},
		{at(10, math.Inf(-1)), math.Inf(1)}, {Answer{Bound: 3}.Gap(), math.Inf(1)},
	} {
		if c.got != c.want {
			t.Errorf("gap %g, wanted %g", c.got, c.want)
		}
	}
}

// Scoops: what is not whole is rounded towards what keeps the bound, decimals count as whole.
func TestWholeSteps(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ got, want float64 }{
		{up(0.3, 0.1), 3 * 0.1}, {down(0.3, 0.1), 3 * 0.1}, {up(0.31, 0.1), 4 * 0.1}, {down(0.29, 0.1), 2 * 0.1},
		{up(0.123, 0), 0.123}, {down(0.123, 0), 0.123}, {down(math.Inf(1), 0.1), math.Inf(1)}, {up(0, 0.1), 0},
		// Used at all it is one scoop at least, or as many as the least amount asks for.
		{Lot{Step: 0.2}.smallest(), 0.2}, {Lot{Step: 0.2, Least: 0.3}.smallest(), 0.4}, {Lot{Least: 0.3}.smallest(), 0.3},
		// In every recipe: what must be used, never less than the smallest.
		{Lot{Must: 0.1, Least: 0.3}.from(), 0.3}, {Lot{Must: 0.5, Step: 0.2}.from(), 3 * 0.2}, {Lot{Least: 0.3, Step: 0.1}.from(), 0},
		// At most: the stock or the blend in whole scoops, nothing where the least is not there.
		{Lot{Stock: 0.7, Step: 0.2}.upTo(1), 3 * 0.2}, {Lot{Stock: 0.7, Step: 0.2}.upTo(0.5), 2 * 0.2}, {Lot{Stock: 0.29, Least: 0.3}.upTo(1), 0}, {Lot{Stock: 0.3, Least: 0.3}.upTo(1), 0.3},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%g kg, wanted %g", c.got, c.want)
		}
	}
	mixed := Problem{Mass: 1, Lots: []Lot{{Stock: 2, Step: 0.3}, {Stock: 2}}}
	if err := mixed.check(); err != nil { // the second takes up the rest
		t.Errorf("steps beside a lot of any mass: %v", err)
	}
	mixed.Lots[1].Step = 0.3
	if err := mixed.check(); err == nil || !strings.Contains(err.Error(), "0.9 or 1.2 kg") {
		t.Errorf("thirds of a kilogram less: %v", err)
	}
	mixed.Slack = 0.1
	if err := mixed.check(); err != nil {
		t.Errorf("0.9 kg are within the slack: %v", err)
	}
}

// Two curves at once: discs around two points of the plane, each convex, against every pair
// of lots on a fine grid. Where no blend lies in both, the nearest misses as little as any.
func TestTwoDiscsAgainstEveryPair(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(42, 1))
	some, none := 0, 0
	for k := range 24 {
		n := 3 + rng.IntN(4)
		p := Problem{Mass: 2, Most: 2}
		x, y := make([]float64, n), make([]float64, n)
		for i := range n {
			p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 2})
			x[i], y[i] = 10*rng.Float64(), 10*rng.Float64()
		}
		apart := float64(k%3) * 2
		p.Curves = []Curve{
			{Value: squaredDistance(x, y, 5-apart, 5, 2), Limit: 4 + 4*rng.Float64(), Convex: true, Weight: 0.5},
			{Value: squaredDistance(x, y, 5+apart, 5, 2), Limit: 4 + 4*rng.Float64(), Convex: true},
		}
		a, err := Solve(t.Context(), p, Options{Recipes: 1})
		if err != nil {
			t.Fatal(err)
		}
		want, miss := everyPairOfTwo(p)
		if len(a.Recipes) == 0 {
			none++
			if a.Proved && !math.IsInf(want, 1) {
				t.Fatalf("case %d: no recipe, but one costs %g", k, want)
			}
			m := make([]float64, n)
			for _, u := range a.Nearest.Uses {
				m[u.Lot] = u.Mass
			}
			if got := over(m, p); got > miss*1.02 || a.Nearest.Short != 0 {
				t.Errorf("case %d: the nearest is %g limits off and short by %g kg, a pair %g", k, got, a.Nearest.Short, miss)
			}
			continue
		}
		some++
		r := a.Recipes[0]
		if r.Cost > want*(1+1e-3) || r.Cost < want*(1-5e-3) || !a.Proved {
			t.Fatalf("case %d: cost %g (proved %v), by every pair %g", k, r.Cost, a.Proved, want)
		}
		for i, c := range r.Curves {
			if c.Value > p.Curves[i].Limit || math.Abs(c.Room-(p.Curves[i].Limit-c.Value)) > 1e-12 {
				t.Errorf("case %d: %g with room %g under %g", k, c.Value, c.Room, p.Curves[i].Limit)
			}
		}
	}
	if some < 6 || none < 4 {
		t.Errorf("%d cases have a recipe, %d have none: too few of a kind", some, none)
	}
}

// over adds up how many of its limits each curve is at a blend.
func over(m []float64, p Problem) (sum float64) {
	for _, c := range p.Curves {
		sum += c.Value(m, nil) / c.Limit
	}
	return sum
}

// everyPairOfTwo is the least cost within both curves, and the least sum over their limits.
func everyPairOfTwo(p Problem) (best, miss float64) {
	best, miss = math.Inf(1), math.Inf(1)
	const fine = 800
	for i := range p.Lots {
		for j := range i + 1 {
			for s := range fine + 1 {
				m := make([]float64, len(p.Lots))
				m[i] += p.Mass * float64(s) / fine
				m[j] += p.Mass - p.Mass*float64(s)/fine
				cost, kept := m[i]*p.Lots[i].Cost, true
				if j != i {
					cost += m[j] * p.Lots[j].Cost
				}
				for _, c := range p.Curves {
					v := c.Value(m, nil)
					cost += c.Weight * v
					kept = kept && v <= c.Limit
				}
				if kept {
					best = min(best, cost)
				}
				miss = min(miss, over(m, p))
			}
		}
	}
	return best, miss
}

// More of a lot never makes a blend dearer: the price of its stock is never above 0, and is
// what a little more of it saves.
func TestStockPricesAreSlopes(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(43, 3))
	binding := 0
	for range 10 {
		p := plausible(rng, 30, 0.3)
		p.Most, p.Limits = 0, p.Limits[:3]
		eachLot(func(l *Lot) { l.Least, l.Cost = 0, l.Cost-5 })(&p)
		a, err := Solve(t.Context(), p, Options{Recipes: 1})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Recipes) == 0 {
			continue
		}
		for _, u := range a.Recipes[0].Uses {
			if u.Price > 0 {
				t.Errorf("more of lot %d is said to cost %g", u.Lot, u.Price)
			}
			if u.Price == 0 {
				continue
			}
			binding++
			q := p.copy()
			const h = 1e-6
			q.Lots[u.Lot].Stock += h
			if slope := (costOf(t, q) - a.Recipes[0].Cost) / h; math.Abs(slope-u.Price) > 1e-2*math.Abs(u.Price)+1e-3 {
				t.Errorf("lot %d: price of the stock %g, slope %g", u.Lot, u.Price, slope)
			}
		}
	}
	if binding < 5 {
		t.Errorf("only %d stocks bind", binding)
	}
}

// A limit nothing can keep, beside a curve that can be kept: only the limit is broken. The
// lots lie at 0 and 10 of a line, the blend wanted at 5 ± 1, every lot is 0.5 over the limit.
func TestNearestBreaksOnlyWhatItMust(t *testing.T) {
	t.Parallel()
	p := Problem{Mass: 1, Lots: []Lot{{Stock: 1}, {Stock: 1}}, Limits: []Limit{{Of: []float64{1, 1}, Lo: math.Inf(-1), Hi: 0.5}}}
	p.Curves = []Curve{{Value: squaredDistance([]float64{0, 10}, []float64{0, 0}, 5, 0, 1), Limit: 1, Convex: true}}
	a, err := Solve(t.Context(), p, Options{})
	if err != nil || len(a.Recipes) > 0 || !a.Proved || a.Nearest.Over[0] != 0.5 || a.Nearest.Short != 0 || a.Nearest.Curves[0] > 1e-4 {
		t.Errorf("%v %+v", err, a.Nearest)
	}
	p.Limits[0] = Limit{Of: []float64{1, 1}, Lo: 1.25, Hi: math.Inf(1)}
	if a, err = Solve(t.Context(), p, Options{}); err != nil || a.Nearest.Over[0] != -0.25 {
		t.Errorf("%v %+v", err, a.Nearest)
	}
}
