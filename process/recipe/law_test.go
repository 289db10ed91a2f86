package recipe

// Laws every answer obeys, whatever the blend.

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// holdRecipe checks a recipe against the problem by adding up itself.
func holdRecipe(t *testing.T, p Problem, r Recipe) {
	t.Helper()
	var mass, cost float64
	sums := make([]float64, len(p.Limits))
	for k, u := range r.Uses {
		l := p.Lots[u.Lot]
		if k > 0 && r.Uses[k-1].Lot >= u.Lot {
			t.Errorf("lot %d comes after lot %d", u.Lot, r.Uses[k-1].Lot)
		}
		if u.Mass > l.Stock*(1+1e-12) || u.Mass < l.Least*(1-1e-12) || !(u.Mass > 0) {
			t.Errorf("lot %d: %g kg of a stock of %g, least %g", u.Lot, u.Mass, l.Stock, l.Least)
		}
		if l.Step > 0 && u.Mass != float64(u.Steps)*l.Step {
			t.Errorf("lot %d: %g kg is not %d steps of %g", u.Lot, u.Mass, u.Steps, l.Step)
		}
		mass += u.Mass
		cost += u.Mass * l.Cost
		for i := range sums {
			sums[i] += u.Mass * p.Limits[i].Of[u.Lot]
		}
	}
	if math.Abs(mass-p.Mass) > p.Slack+1e-12*p.Mass || mass != r.Mass {
		t.Errorf("%.15g kg of %g wanted, said to be %.15g", mass, p.Mass, r.Mass)
	}
	for i, l := range p.Limits {
		if v := sums[i] / mass; v > l.Hi+1e-7*(1+math.Abs(l.Hi)) || v < l.Lo-1e-7*(1+math.Abs(l.Lo)) {
			t.Errorf("limit %d: mean %.12g outside %g to %g", i, v, l.Lo, l.Hi)
		}
	}
	if p.Most > 0 && len(r.Uses) > p.Most {
		t.Errorf("%d lots, at most %d", len(r.Uses), p.Most)
	}
	if len(p.Curves) == 0 && math.Abs(cost-r.Cost) > 1e-9*(1+math.Abs(cost)) {
		t.Errorf("cost %g, said to be %g", cost, r.Cost)
	}
}

// holdAnswer checks what holds between the recipes of an answer.
func holdAnswer(t *testing.T, p Problem, a Answer) {
	t.Helper()
	for k, r := range a.Recipes {
		holdRecipe(t, p, r)
		if k > 0 && r.Cost < a.Recipes[k-1].Cost-2e-6*math.Abs(r.Cost) && a.Proved {
			t.Errorf("recipe %d costs %g, less than the %g before it", k, r.Cost, a.Recipes[k-1].Cost)
		}
		for _, better := range a.Recipes[:k] {
			if usesWhole(lotsOf(r.Uses), [][]int{lotsOf(better.Uses)}) {
				t.Errorf("recipe %d uses all lots of a better one", k)
			}
		}
	}
	if len(a.Recipes) > 0 && a.Bound > a.Recipes[0].Cost+1e-9*math.Abs(a.Bound) {
		t.Errorf("bound %g above a recipe that costs %g", a.Bound, a.Recipes[0].Cost)
	}
	if (len(a.Recipes) == 0) != (a.Nearest != nil) {
		t.Errorf("%d recipes, nearest %v", len(a.Recipes), a.Nearest)
	}
}

func drawnBlend(rng *rand.Rand) Problem {
	p := plausible(rng, 5+rng.IntN(120), rng.Float64()-0.2)
	p.Most = rng.IntN(6)
	switch rng.IntN(3) {
	case 0:
		eachLot(func(l *Lot) { l.Step = 0.005 })(&p)
	case 1:
		eachLot(func(l *Lot) { l.Step = []float64{0, 0.012, 0.02, 0.035}[rng.IntN(4)] })(&p)
		p.Slack = 0.01
	}
	return p
}

func TestEveryAnswerKeepsTheLaws(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(21, 3))
	proved := 0
	for k := range 80 {
		p := drawnBlend(rng)
		a, err := Solve(t.Context(), p, Options{Nodes: 2000})
		if err != nil {
			t.Fatalf("case %d: %v", k, err)
		}
		holdAnswer(t, p, a)
		if a.Proved {
			proved++
		}
		if t.Failed() {
			t.Fatalf("case %d", k)
		}
	}
	if proved < 65 {
		t.Errorf("only %d of 80 answers are proved", proved)
	}
}

// Relaxing a limit, adding stock, allowing one lot more never makes it dearer.
func TestRelaxingNeverMakesDearer(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(22, 3))
	for k := range 40 {
		p := plausible(rng, 10+rng.IntN(30), 0.3*rng.Float64())
		before := costOf(t, p)
		q := p.copy()
		switch k % 4 {
		case 0:
			q.Limits[rng.IntN(8)].Hi += 0.1
		case 1:
			q.Limits[0].Lo -= 0.2
		case 2:
			q.Lots[rng.IntN(len(q.Lots))].Stock++
		case 3:
			q.Most++
		}
		if after := costOf(t, q); after > before*(1+2e-6) {
			t.Fatalf("case %d: relaxed from %g to %g", k, before, after)
		}
	}
}

func costOf(t *testing.T, p Problem) float64 {
	t.Helper()
	a, err := Solve(t.Context(), p, Options{Recipes: 1})
	if err != nil {
		t.Fatal(err)
	}
	if !a.Proved {
		t.Fatal("not proved")
	}
	if len(a.Recipes) == 0 {
		return math.Inf(1)
	}
	return a.Recipes[0].Cost
}

// The price of a limit is the slope of the cost against it, where all lots may
// be used; and scaling mass and money scales the answer.
func TestPricesAreSlopes(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(23, 3))
	binding := 0
	for k := range 40 {
		p := plausible(rng, 40, 0.3)
		p.Most = 0
		eachLot(func(l *Lot) { l.Least = 0 })(&p)
		a, err := Solve(t.Context(), p, Options{Recipes: 1})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Recipes) == 0 {
			continue
		}
		for i, r := range a.Recipes[0].Limits {
			if !r.Binds() {
				continue
			}
			binding++
			q := p.copy()
			h := 1e-7 * math.Abs(q.Limits[i].Hi)
			if r.Price < 0 {
				q.Limits[i].Hi += h
			} else {
				q.Limits[i].Lo += h
			}
			slope := (costOf(t, q) - a.Recipes[0].Cost) / h
			if math.Abs(slope-r.Price) > 1e-3*math.Abs(r.Price) {
				t.Errorf("case %d, limit %d: price %g, slope %g", k, i, r.Price, slope)
			}
		}
		if got := costOf(t, scaled(p, 1000, 0.01)); math.Abs(got-10*a.Recipes[0].Cost) > 1e-8*got {
			t.Errorf("case %d: a thousand times the mass at a hundredth of the cost: %g, wanted %g", k, got, 10*a.Recipes[0].Cost)
		}
	}
	if binding < 40 {
		t.Errorf("only %d limits bind", binding)
	}
}

func scaled(p Problem, mass, cost float64) Problem {
	q := p.copy()
	q.Mass, q.Slack = mass*p.Mass, mass*p.Slack
	eachLot(func(l *Lot) {
		l.Cost *= cost
		l.Stock, l.Must, l.Least, l.Step = mass*l.Stock, mass*l.Must, mass*l.Least, mass*l.Step
	})(&q)
	return q
}

// The same problem has the same answer, also with the lots in another order.
func TestOrderDoesNotMatter(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(24, 3))
	for range 15 {
		p := plausible(rng, 100, 0.4)
		order := rng.Perm(len(p.Lots))
		q := p.copy()
		for i, from := range order {
			q.Lots[i] = p.Lots[from]
		}
		for k := range q.Limits {
			of := slices.Clone(p.Limits[k].Of)
			for i, from := range order {
				of[i] = p.Limits[k].Of[from]
			}
			q.Limits[k].Of = of
		}
		a, b := costOf(t, p), costOf(t, q)
		if a != b && math.Abs(a-b) > 2e-6*a {
			t.Fatalf("cost %g in one order, %g in another", a, b)
		}
		if again := costOf(t, p); again != a {
			t.Fatalf("cost %v, then %v", a, again)
		}
	}
}

func TestTenThousandLotsAnswer(t *testing.T) {
	t.Parallel()
	p := plausible(rand.New(rand.NewPCG(25, 3)), 10000, 0.2)
	a, err := Solve(t.Context(), p, Options{Recipes: 1, Nodes: 300})
	if err != nil {
		t.Fatal(err)
	}
	holdAnswer(t, p, a)
	if len(a.Recipes) == 0 || a.Gap() > 0.2 {
		t.Errorf("%d recipes, gap %g", len(a.Recipes), a.Gap())
	}
}

// Cut short, an answer still keeps every condition and says how far it may be off.
func TestFewNodesGiveAnHonestGap(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(26, 3))
	open := 0
	for k := range 20 {
		p := plausible(rng, 200, 0.4)
		best := costOf(t, p)
		a, err := Solve(t.Context(), p, Options{Recipes: 1, Nodes: 30})
		if err != nil {
			t.Fatal(err)
		}
		holdAnswer(t, p, a)
		if a.Bound > best*(1+1e-9) {
			t.Errorf("case %d: bound %g, but a recipe costs %g", k, a.Bound, best)
		}
		if !a.Proved {
			open++
		}
	}
	if open == 0 {
		t.Error("30 nodes proved every case: the test says nothing")
	}
}

// Needs that cannot be met are answered, with the reason and the nearest.
func TestNeedsBeyondWhatThereIs(t *testing.T) {
	t.Parallel()
	age := Limit{Of: []float64{3, 1}, Lo: math.Inf(-1), Hi: 2.5}
	for name, c := range map[string]struct {
		p     Problem
		short float64
		want  Conflict
	}{
		"more than all stock": {Problem{Mass: 3, Lots: []Lot{{Stock: 1}, {Stock: 0.5}}, Limits: []Limit{age}}, 1.5, Conflict{Stock: true, Least: true}},
		"empty stock":         {Problem{Mass: 3, Lots: []Lot{{}, {}}, Limits: []Limit{age}}, 3, Conflict{Stock: true, Least: true}},
		"more must than mass": {Problem{Mass: 3, Lots: []Lot{{Stock: 9, Must: 4}, {Stock: 9}}, Limits: []Limit{age}}, -1, Conflict{Must: true, Least: true}},
		"one lot too small":   {Problem{Mass: 3, Most: 1, Lots: []Lot{{Stock: 2}, {Stock: 2}}, Limits: []Limit{age}}, 1, Conflict{Stock: true, Most: true, Least: true}},
	} {
		a, err := Solve(t.Context(), c.p, Options{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if len(a.Recipes) > 0 || !a.Proved || !reflect.DeepEqual(a.Conflict, &c.want) {
			t.Errorf("%s: %d recipes, conflict %+v, wanted %+v", name, len(a.Recipes), a.Conflict, c.want)
		}
		if math.Abs(a.Nearest.Short-c.short) > 1e-6 {
			t.Errorf("%s: the nearest is short by %g kg, wanted %g", name, a.Nearest.Short, c.short)
		}
	}
}

// Lots that differ in a property by rounding alone, and a limit none keeps: the
// nearest blend is told, not an error of the program beneath.
func TestLotsThatDifferByRounding(t *testing.T) {
	t.Parallel()
	p := Problem{Mass: 1, Most: 2, Limits: []Limit{{Of: []float64{1.1, math.Nextafter(1.1, 2), 1.1}, Lo: math.Inf(-1), Hi: 0.2}}}
	for i := range 3 {
		p.Lots = append(p.Lots, Lot{Cost: float64(i), Stock: 1})
	}
	a, err := Solve(t.Context(), p, Options{})
	if err != nil || len(a.Recipes) > 0 || a.Nearest == nil || math.Abs(a.Nearest.Over[0]-0.9) > 1e-9 {
		t.Errorf("%v %+v", err, a)
	}
}
