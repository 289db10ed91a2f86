package recipe

// The way a search takes, told by what it asks: how often curves are asked and where, which recipes it meets, what
// is left where its nodes are spent. It shows what no answer shows.

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// asked counts how often a curve is asked, and adds up where.
type asked struct {
	values, slopes, parts int
	where                 float64
}

func (a *asked) note(x []float64) {
	for i, v := range x {
		a.where += v * math.Sqrt(float64(i+1)) * float64(1+(a.values+a.parts)%17)
	}
}

// watched makes every curve of a problem count.
func watched(p *Problem) *asked {
	a := &asked{}
	for k := range p.Curves {
		c := &p.Curves[k]
		value, differences := c.Value, c.Differences
		c.Value = func(x, slope []float64) float64 {
			if a.values++; slope != nil {
				a.slopes++
			}
			a.note(x)
			return value(x, slope)
		}
		if differences != nil {
			c.Differences = func(x, part []float64, slope [][]float64) {
				a.parts++
				a.note(x)
				differences(x, part, slope)
			}
		}
	}
	return a
}

// Numbers say nothing by themselves: fewer for the same cost is better, and is kept by -run AsApproved -update.
func TestPathsAreAsApproved(t *testing.T) {
	t.Parallel()
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round the last digit otherwise and may take another way")
	}
	var out strings.Builder
	told := func(name string, p Problem, o Options) {
		a := watched(&p)
		if err := p.check(); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := o.fill(p); err != nil {
			t.Fatal(err)
		}
		tk := newTask(t.Context(), &p, o)
		got, err := tk.answer()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		fmt.Fprintf(&out, "%s nodes %d pivots %d bound %.9g %t values %d slopes %d parts %d where %.9g", name, tk.nodes, tk.pivots, got.Bound, got.Proved, a.values, a.slopes, a.parts, a.where)
		met := 0.0
		for k, r := range tk.seen {
			met += float64(k+1) * r.Cost
		}
		fmt.Fprintf(&out, " met %d %.9g", len(tk.seen), met)
		for _, r := range got.Recipes {
			use := 0.0
			for _, u := range r.Uses {
				use += (u.Mass + 0.01*u.Price) * math.Sqrt(float64(u.Lot+1))
			}
			fmt.Fprintf(&out, " recipe %.9g %.9g %.9g", r.Cost, use, r.PerKG)
		}
		if c := got.Conflict; c != nil {
			fmt.Fprintf(&out, " conflict %+v", *c)
		}
		if n := got.Nearest; n != nil {
			fmt.Fprintf(&out, " nearest %.9g %.9g %.9g", n.Mass, n.Over, n.Curves)
		}
		out.WriteByte('\n')
	}
	rng := rand.New(rand.NewPCG(61, 3))
	for k := range 6 { // colours, with and without steps, costs of their own, near enough or not
		p, _ := hidden(rng, 12+4*k)
		c := &p.Curves[0]
		c.Limit, c.Weight = []float64{4, 1, 8, 0.3, 2, 6}[k], []float64{0, 2, 0.5, 0, 0, 1}[k]
		p.Most = []int{3, 4, 0, 2, 1, 5}[k]
		if k%2 == 1 {
			eachLot(func(l *Lot) { l.Step = 0.01 })(&p)
		}
		if k != 2 { // of more or less than a kilogram
			p = scaled(p, []float64{2.5, 0.3, 1, 40, 0.25, 3}[k], 1)
		}
		told(fmt.Sprint("colour ", k), p, Options{Recipes: 1 + k%3, Nodes: 50, Near: []float64{0, 0.05, 0, 0.2, 0, 0}[k]})
	}
	for k := range 4 { // a colour and a disc beside it, over more lots than are searched at once
		p, _ := hidden(rng, 70+10*k)
		x, y := make([]float64, len(p.Lots)), make([]float64, len(p.Lots))
		for i := range x {
			x[i], y[i] = 10*rng.Float64(), 10*rng.Float64()
		}
		p.Curves = append(p.Curves, Curve{Value: squaredDistance(x, y, 5, 5, 1), Limit: []float64{3, 1, 9, 0.5}[k], Convex: true, Weight: float64(k % 2)})
		p.Curves[0].Limit, p.Most = []float64{4, 2, 6, 1}[k], []int{3, 4, 0, 2}[k]
		told(fmt.Sprint("many colours ", k), p, Options{Recipes: 1 + k%2, Nodes: 20})
	}
	for k := range 8 { // discs, convex; some out of reach
		n := 6 + 3*k
		p := Problem{Mass: 2, Most: 1 + k%4, Slack: []float64{0, 0.1}[k%2]}
		x, y := make([]float64, n), make([]float64, n)
		for i := range n {
			p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 0.5 + rng.Float64(), Least: 0.1 * float64(rng.IntN(3)), Step: []float64{0, 0.05}[k/2%2]})
			x[i], y[i] = 10*rng.Float64(), 10*rng.Float64()
		}
		p.Lots[k%n].Must = []float64{0, 0.2, 0}[k%3]
		p.Curves = []Curve{{Value: squaredDistance(x, y, 5, 5, 2), Limit: []float64{1, 3, 0.2}[k%3], Convex: true, Weight: float64(k % 2)}}
		told(fmt.Sprint("disc ", k), p, Options{Recipes: 3, Nodes: 60, Gap: []float64{0, 0.01}[k%2]})
	}
	for k := range 6 { // stocks of 300 to 350 g that never make the mass, and a limit that only the dear ones keep: questions run out of nodes
		p := Problem{Mass: []float64{1.1, 1.48, 1.1, 1.45, 1.12, 1.47}[k], Most: []int{0, 6, 5, 0, 4, 0}[k]}
		of := make([]float64, 9+k)
		for i := range of {
			p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 0.34 + 0.01*rng.Float64(), Least: 0.3 - 0.01*rng.Float64()*float64(k%2)})
			of[i] = rng.Float64()
		}
		p.Limits = []Limit{{Of: of, Lo: math.Inf(-1), Hi: []float64{0.4, 0.5, 1, 0.3, 0.6, 0.45}[k]}}
		told(fmt.Sprint("never whole ", k), p, Options{Nodes: 3000})
	}
	for k := range 6 { // scoops of many sizes, musts, and an exact mass
		p := Problem{Mass: 1, Slack: []float64{0, 0.005}[k%2], Most: 2 + k%3}
		of := make([]float64, 8)
		for i := range of {
			step := []float64{0.03, 0.05, 0.07, 0.11, 0}[rng.IntN(4+k%2)]
			p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 0.2 + 0.6*rng.Float64(), Step: step, Least: 0.1 * rng.Float64()})
			of[i] = rng.Float64()
		}
		p.Lots[0].Must = 0.1
		p.Limits = []Limit{{Of: of, Lo: 0.2, Hi: 0.35}}
		told(fmt.Sprint("scoops ", k), p, Options{Nodes: 400})
	}
	for k := range 5 { // over many lots, few of which may be used: exchanged
		p := plausible(rng, 70+30*k, 0.3+0.1*float64(k))
		p.Most = 1 + k
		told(fmt.Sprint("exchanged ", k), p, Options{Recipes: 2, Nodes: 60})
	}
	for k := range 4 { // the middle of a ball of many dimensions: more rounds of cuts than are made
		p := ball(rng, 12+2*k, 6+k)
		p.Curves[0].Convex = k < 2
		if k >= 2 {
			p.Most = 9
		}
		if k%2 == 1 {
			eachLot(func(l *Lot) { l.Step, l.Least = 0.01, 0.02 })(&p)
		}
		told(fmt.Sprint("ball ", k), p, Options{Recipes: 1 + k%2, Nodes: 12})
	}
	for k := range 4 { // any number of many lots, by the gram: small trees first
		p := plausible(rng, []int{61, 75, 100, 130}[k], 0.2)
		p.Most = []int{0, 0, 200, 0}[k]
		eachLot(func(l *Lot) { l.Step = 0.02 })(&p)
		told(fmt.Sprint("pooled ", k), p, Options{Recipes: 1, Nodes: 300})
	}
	told("of more than a thousand", lineOf(rng, 1050), Options{Recipes: 1, Nodes: 4})
	checkrow.ApprovedText(t, "paths", out.String())
}

// ball draws lots in so many dimensions, and wants the middle of most of them: straight differences, one a dimension.
func ball(rng *rand.Rand, n, dimensions int) Problem {
	p := Problem{Mass: 1}
	at := make([][]float64, dimensions)
	for d := range at {
		at[d] = make([]float64, n)
		for i := range n {
			at[d][i] = rng.NormFloat64()
		}
	}
	for range n {
		p.Lots = append(p.Lots, Lot{Cost: 0.2 * rng.Float64(), Stock: 0.6})
	}
	differences := func(x, part []float64, slope [][]float64) {
		for d := range part {
			part[d] = 0
			for i, v := range x {
				part[d] += at[d][i] * v
				slope[d][i] = at[d][i]
			}
		}
	}
	value := func(x, slope []float64) float64 {
		sum := 0.0
		clear(slope)
		for d := range at {
			part := 0.0
			for i, v := range x {
				part += at[d][i] * v
			}
			sum += part * part
			for i := range slope {
				slope[i] += 2 * part * at[d][i]
			}
		}
		far := math.Sqrt(sum)
		for i := range slope {
			slope[i] /= 2 * math.Max(far, 1e-12)
		}
		return far
	}
	p.Curves = []Curve{{Value: value, Parts: dimensions, Differences: differences, Limit: 3, Weight: 1}}
	return p
}

// lineOf draws many lots along a line and wants a place of it, by a difference that bends a little.
func lineOf(rng *rand.Rand, n int) Problem {
	p := Problem{Mass: 1, Most: 3}
	at := make([]float64, n)
	for i := range at {
		at[i] = 10 * rng.Float64()
		p.Lots = append(p.Lots, Lot{Cost: 1 + 0.05*at[i]*at[i] + rng.Float64(), Stock: 0.6, Least: 0.05})
	}
	difference := func(x, slope []float64) float64 {
		mean := 0.0
		for i, v := range x {
			mean += at[i] * v
		}
		for i := range slope {
			slope[i] = at[i] * (1 + 0.02*mean)
		}
		return mean + 0.01*mean*mean - 7
	}
	p.Curves = []Curve{{Value: func(x, slope []float64) float64 {
		d := difference(x, slope)
		if d < 0 {
			for i := range slope {
				slope[i] = -slope[i]
			}
		}
		return math.Abs(d)
	}, Parts: 1, Differences: func(x, part []float64, slope [][]float64) { part[0] = difference(x, slope[0]) }, Limit: 0.2}}
	return p
}

// untilAsked is a context that ends when it was asked so often.
type untilAsked struct {
	context.Context
	asked, last int
}

func (c *untilAsked) Err() error {
	if c.asked++; c.last > 0 && c.asked > c.last {
		return context.Canceled
	}
	return nil
}

// Every sixty-fourth node a search looks whether it is still wanted; it ends with its nodes, and at once where any recipe will do.
func TestHowOftenASearchLooksUp(t *testing.T) {
	t.Parallel()
	p := &Problem{Mass: 1.11} // stocks of 300 to 345 g never make it
	for i := range 14 {
		p.Lots = append(p.Lots, Lot{Cost: 1 + 0.01*float64(i), Stock: 0.345, Least: 0.3})
	}
	for _, c := range []struct{ limit, last, asked, nodes int }{{200, 0, 4, 200}, {64, 0, 1, 64}, {65, 0, 2, 65}, {1, 0, 1, 1}, {500, 3, 4, 192}} {
		ctx := &untilAsked{Context: t.Context(), last: c.last}
		tk := newTask(ctx, p, Options{Gap: 1e-6})
		s, err := tk.newSearch(newModel(p, lotsUpTo(14), tight), nil, c.limit)
		if err != nil {
			t.Fatal(err)
		}
		if err = s.run(); (err != nil) != (c.last > 0) || ctx.asked != c.asked || s.nodes != c.nodes || tk.nodes != c.nodes || s.done() || s.best != nil {
			t.Errorf("of %d nodes %d were looked into, asked %d times (%v)", c.limit, s.nodes, ctx.asked, err)
		}
		if !math.IsInf(s.cost, 1) || s.bound() < 1/1.13 || math.IsInf(s.bound(), 1) && c.last == 0 {
			t.Errorf("bound %g at %g", s.bound(), s.cost)
		}
	}
	p.Mass = 1 // three lots of a third make it
	for once, most := range map[bool]int{true: 400, false: 10000} {
		s, err := newTask(t.Context(), p, Options{Gap: 1e-6}).newSearch(newModel(p, lotsUpTo(14), tight), nil, 20000)
		if err != nil {
			t.Fatal(err)
		}
		s.once = once
		if err := s.run(); err != nil || s.best == nil || s.nodes > most || !once && (!s.done() || math.Abs(s.best.Cost-(0.345+0.345*1.01+0.31*1.02)) > 1e-9) {
			t.Errorf("once %t: %+v after %d nodes (%v)", once, s.best, s.nodes, err)
		}
	}
}
