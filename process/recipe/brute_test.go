package recipe

// Tiny problems against trying everything: whole steps by counting all of them,
// any mass by the linear program of every set of lots.

import (
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process/recipe/simplex"
)

// tiny draws a problem of up to five lots in steps, with ties and contradictions.
func tiny(rng *rand.Rand) Problem {
	n := 1 + rng.IntN(5)
	p := Problem{Mass: 8, Most: rng.IntN(4)}
	for range n {
		l := Lot{Cost: float64(rng.IntN(9) - 3), Stock: float64(rng.IntN(9)), Step: 1}
		if rng.IntN(3) == 0 {
			l.Least = float64(rng.IntN(4))
		}
		if rng.IntN(6) == 0 {
			l.Must = min(l.Stock, 1)
		}
		if rng.IntN(4) == 0 {
			l.Step, p.Slack = 1.5, 0.5
		}
		p.Lots = append(p.Lots, l)
	}
	for range rng.IntN(4) {
		l := Limit{Of: make([]float64, n), Lo: math.Inf(-1), Hi: float64(rng.IntN(5)) / 2}
		for i := range n {
			l.Of[i] = float64(rng.IntN(5) - 1)
		}
		if rng.IntN(3) == 0 {
			l.Lo = l.Hi - float64(rng.IntN(3))
		}
		p.Limits = append(p.Limits, l)
	}
	return p
}

// everything tries all numbers of steps and returns the least cost of a blend
// that is not at work with all lots of a set in sets; +Inf where there is none.
func everything(p Problem, sets [][]int) float64 {
	best := math.Inf(1)
	mass := make([]float64, len(p.Lots))
	var try func(i int, left float64)
	try = func(i int, left float64) {
		if i == len(mass) {
			if math.Abs(left) <= p.Slack+1e-9 && allowed(p, mass, sets) {
				cost := 0.0
				for k, m := range mass {
					cost += m * p.Lots[k].Cost
				}
				best = min(best, cost)
			}
			return
		}
		for m := 0.0; m <= min(p.Lots[i].Stock, left+p.Slack)+1e-9; m += p.Lots[i].Step {
			mass[i] = m
			try(i+1, left-m)
		}
		mass[i] = 0
	}
	try(0, p.Mass)
	return best
}

func allowed(p Problem, mass []float64, sets [][]int) bool {
	used, total := 0, 0.0
	for i, l := range p.Lots {
		if mass[i] < l.Must-1e-9 || mass[i] > 0 && mass[i] < l.Least-1e-9 {
			return false
		}
		if mass[i] > 0 {
			used++
		}
		total += mass[i]
	}
	for _, l := range p.Limits {
		var sum float64
		for i, m := range mass {
			sum += l.Of[i] * m
		}
		if sum > l.Hi*total+1e-9 || sum < l.Lo*total-1e-9 {
			return false
		}
	}
	for _, set := range sets {
		all := true
		for _, i := range set {
			all = all && mass[i] > 0
		}
		if all {
			return false
		}
	}
	return p.Most == 0 || used <= p.Most
}

func TestStepsAgainstTryingEverything(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(11, 4))
	some, none, held := 0, 0, 0
	for k := range 3000 {
		p := tiny(rng)
		if p.check() != nil {
			continue
		}
		a, err := Solve(t.Context(), p, Options{})
		if err != nil {
			t.Fatalf("case %d: %v", k, err)
		}
		if !a.Proved {
			t.Fatalf("case %d: not proved: %+v", k, p)
		}
		var sets [][]int
		for i, r := range a.Recipes {
			if want := everything(p, sets); math.Abs(r.Cost-want) > 1e-6 {
				t.Fatalf("case %d, recipe %d: cost %g, by trying everything %g: %+v", k, i, r.Cost, want, p)
			}
			sets = append(sets, lotsOf(r.Uses))
		}
		if want := everything(p, sets); len(a.Recipes) < 3 && !math.IsInf(want, 1) {
			t.Fatalf("case %d: %d recipes found, another costs %g: %+v", k, len(a.Recipes), want, p)
		}
		if len(a.Recipes) == 0 {
			none++
			if holdConflict(t, p, a, func(q Problem) float64 { return everything(q, nil) }, func(q Problem) bool { return q.Lots[0].Step > 0 }) {
				held++
			}
		} else {
			some++
		}
	}
	if some < 500 || none < 300 || held < 30 {
		t.Errorf("%d cases have recipes, %d have none, of %d of these the reasons were tried: too few of a kind", some, none, held)
	}
}

// holdConflict asks for the least cost with all but the named conditions left
// out, and with each named one left out as well. cheapest cannot judge masses
// outside its kind, so it is told which problems it may be asked.
func holdConflict(t *testing.T, p Problem, a Answer, cheapest func(Problem) float64, can func(Problem) bool) (held bool) {
	t.Helper()
	c := a.Conflict
	if c == nil || !c.Least {
		t.Fatalf("no smallest set of reasons: %+v", c)
	}
	kept := p.copy()
	var named []condition
	for _, k := range p.conditions() {
		if !k.there {
			continue
		}
		var alone Conflict
		k.name(&alone)
		if names(*c, alone) {
			named = append(named, k)
		} else {
			k.leave(&kept)
		}
	}
	if !can(kept) {
		return false
	}
	if v := cheapest(kept); !math.IsInf(v, 1) {
		t.Fatalf("the conditions %+v allow a recipe of cost %g: %+v", *c, v, p)
	}
	for _, k := range named {
		less := kept.copy()
		k.leave(&less)
		if can(less) && math.IsInf(cheapest(less), 1) {
			t.Fatalf("the conditions %+v contradict each other without one of them too: %+v", *c, p)
		}
	}
	return true
}

// names reports whether a conflict names the one condition that another holds.
func names(c, one Conflict) bool {
	has := func(list, want []int) bool {
		for _, v := range list {
			if len(want) > 0 && v == want[0] {
				return true
			}
		}
		return false
	}
	return c.Stock && one.Stock || c.Must && one.Must || c.Most && one.Most || c.Steps && one.Steps || c.Small && one.Small ||
		has(c.Low, one.Low) || has(c.High, one.High)
}

// Any mass, few lots: the best over all sets of lots, each a linear program.
func TestFewLotsAgainstEverySet(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(12, 8))
	some, held := 0, 0
	for k := range 300 {
		n := 4 + rng.IntN(6)
		p := plausible(rng, n, -0.6+rng.Float64())
		p.Most = 1 + rng.IntN(4)
		p.Limits = p.Limits[:2+rng.IntN(4)]
		p.Limits[0].Lo -= 0.4
		for i := range p.Lots {
			p.Lots[i].Least = 0.15 * float64(rng.IntN(2))
			p.Lots[i].Stock = max(p.Lots[i].Stock, 0.2)
		}
		a, err := Solve(t.Context(), p, Options{Recipes: 1})
		if err != nil {
			t.Fatal(err)
		}
		best := bestSet(t, p)
		cost := math.Inf(1)
		if len(a.Recipes) > 0 {
			cost, some = a.Recipes[0].Cost, some+1
		}
		if len(a.Recipes) == 0 && a.Proved && holdConflict(t, p, a, func(q Problem) float64 { return bestSet(t, q) }, func(Problem) bool { return true }) {
			held++
		}
		if !a.Proved || cost != best && math.Abs(cost-best) > 2e-6*math.Abs(best) {
			t.Fatalf("case %d: cost %.9g (proved %v), by every set %.9g", k, cost, a.Proved, best)
		}
	}
	if some < 100 || held < 50 {
		t.Errorf("only %d cases have a recipe, of %d others the reasons were tried", some, held)
	}
}

func bestSet(t *testing.T, p Problem) float64 {
	t.Helper()
	best := math.Inf(1)
	for set := range 1 << len(p.Lots) {
		best = min(best, bestOf(t, p, set))
	}
	return best
}

// bestOf is the least cost with exactly the lots of a set of bits.
func bestOf(t *testing.T, p Problem, set int) float64 {
	t.Helper()
	whole := simplex.Row{Lo: p.Mass, Hi: p.Mass}
	var q simplex.Program
	rows := make([]simplex.Row, len(p.Limits))
	for i, l := range p.Lots {
		if set&(1<<i) == 0 {
			continue
		}
		if l.Least > l.Stock {
			return math.Inf(1)
		}
		q.Cost, q.Lo, q.Hi = append(q.Cost, l.Cost), append(q.Lo, l.Least), append(q.Hi, l.Stock)
		whole.Coef = append(whole.Coef, 1)
		for k := range rows {
			rows[k].Coef = append(rows[k].Coef, p.Limits[k].Of[i])
		}
	}
	if len(q.Cost) == 0 || p.Most > 0 && len(q.Cost) > p.Most {
		return math.Inf(1)
	}
	for k, l := range p.Limits {
		rows[k].Lo, rows[k].Hi = l.Lo*p.Mass, l.Hi*p.Mass
	}
	q.Rows = append(rows, whole)
	s, err := simplex.New(q)
	if err != nil {
		t.Fatal(err)
	}
	status, err := s.Solve()
	if err != nil {
		t.Fatal(err)
	}
	if status != simplex.Optimal {
		return math.Inf(1)
	}
	return s.Objective()
}
