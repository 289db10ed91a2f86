package recipe

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"

	"hopperful/internal/checkrow"
)

func TestChecks(t *testing.T) {
	t.Parallel()
	drawn := readProblems(t)
	whole := func(in checkrow.Inputs) ([]float64, error) {
		p := rowProblem(in)
		r, err := first(t, p)
		if err != nil {
			return nil, err
		}
		got := make([]float64, 1+len(p.Lots))
		got[0] = r.Cost
		for _, u := range r.Uses {
			got[1+u.Lot] = u.Mass
		}
		return got, nil
	}
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"Solve": whole, "SolveSteps": whole, "SolveCount": whole,
		"SolvePrices": func(in checkrow.Inputs) ([]float64, error) {
			p := rowProblem(in)
			r, err := first(t, p)
			if err != nil {
				return nil, err
			}
			var got []float64
			for _, l := range r.Limits {
				got = append(got, l.Price/p.Mass)
			}
			return append(got, r.PerKG), nil
		},
		"SecondLibrary": func(in checkrow.Inputs) ([]float64, error) {
			r, err := first(t, drawn[int(in.Num("problem"))])
			if err != nil {
				return nil, err
			}
			return []float64{r.Cost}, nil
		},
		"SolveCurve": func(in checkrow.Inputs) ([]float64, error) {
			r, err := first(t, planeProblem(in))
			if err != nil {
				return nil, err
			}
			return []float64{r.Cost}, nil
		},
		"WhyNot": func(in checkrow.Inputs) ([]float64, error) {
			c, err := WhyNot(t.Context(), rowProblem(in), Options{}, int(in.Num("lot")), in.Num("amount"))
			return []float64{c.Cost}, err
		},
	})
}

var errNone = errors.New("no recipe, and that is proved")

// first is the best recipe; the answer must be proved.
func first(t *testing.T, p Problem) (Recipe, error) {
	a, err := Solve(t.Context(), p, Options{Gap: 1e-10})
	if err != nil {
		return Recipe{}, err
	}
	if !a.Proved {
		t.Errorf("not proved: bound %g, %d recipes", a.Bound, len(a.Recipes))
	}
	if len(a.Recipes) == 0 {
		if a.Conflict == nil || a.Nearest == nil {
			t.Error("no recipe and no reason")
		}
		return Recipe{}, errNone
	}
	return a.Recipes[0], nil
}

// rowProblem builds the problem of a row: properties one after another.
func rowProblem(in checkrow.Inputs) Problem {
	cost := in.List("cost")
	p := Problem{Mass: in.Num("mass"), Lots: make([]Lot, len(cost))}
	if in.Has("slack") {
		p.Slack = in.Num("slack")
	}
	if in.Has("most") {
		p.Most = int(in.Num("most"))
	}
	for i := range cost {
		p.Lots[i].Cost = cost[i]
	}
	for name, field := range map[string]func(l *Lot) *float64{
		"stock": func(l *Lot) *float64 { return &l.Stock },
		"must":  func(l *Lot) *float64 { return &l.Must },
		"least": func(l *Lot) *float64 { return &l.Least },
		"step":  func(l *Lot) *float64 { return &l.Step },
	} {
		if in.Has(name) {
			for i, v := range in.List(name) {
				*field(&p.Lots[i]) = v
			}
		}
	}
	of, lo, hi := in.List("of"), in.List("lo"), in.List("hi")
	for k := range lo {
		p.Limits = append(p.Limits, Limit{Of: of[k*len(cost) : (k+1)*len(cost)], Lo: lo[k], Hi: hi[k]})
	}
	return p
}

// planeProblem blends points of a plane near a wanted one.
func planeProblem(in checkrow.Inputs) Problem {
	x, y, at := in.List("x"), in.List("y"), in.List("at")
	p := Problem{Mass: 1}
	for _, c := range in.List("cost") {
		p.Lots = append(p.Lots, Lot{Cost: c, Stock: in.Num("stock")})
	}
	c := Curve{Value: squaredDistance(x, y, at[0], at[1], 1), Limit: math.Inf(1), Convex: true}
	if in.Has("limit") {
		c.Limit = in.Num("limit")
	}
	if in.Has("weight") {
		c.Weight = in.Num("weight")
	}
	p.Curves = []Curve{c}
	return p
}

// squaredDistance is convex in the masses of a blend of a fixed mass.
func squaredDistance(x, y []float64, atX, atY, mass float64) func(m, slope []float64) float64 {
	return func(m, slope []float64) float64 {
		dx, dy := -atX, -atY
		for i, v := range m {
			dx += x[i] * v / mass
			dy += y[i] * v / mass
		}
		for i := range slope {
			slope[i] = 2 * (dx*x[i] + dy*y[i]) / mass
		}
		return dx*dx + dy*dy
	}
}

// readProblems reads the drawn problems; testdata/second-library.py drew them.
func readProblems(t *testing.T) []Problem {
	t.Helper()
	text, err := os.ReadFile("testdata/problems.json")
	if err != nil {
		t.Fatal(err)
	}
	var all []struct {
		Mass, Slack                    float64
		Most                           int
		Cost, Stock, Must, Least, Step []float64
		Limits                         []struct {
			Of     []float64
			Lo, Hi *float64
		}
	}
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	var problems []Problem
	for _, d := range all {
		p := Problem{Mass: d.Mass, Slack: d.Slack, Most: d.Most}
		for i := range d.Cost {
			p.Lots = append(p.Lots, Lot{d.Cost[i], d.Stock[i], d.Must[i], d.Least[i], d.Step[i]})
		}
		for _, l := range d.Limits {
			lo, hi := math.Inf(-1), math.Inf(1)
			if l.Lo != nil {
				lo = *l.Lo
			}
			if l.Hi != nil {
				hi = *l.Hi
			}
			p.Limits = append(p.Limits, Limit{l.Of, lo, hi})
		}
		problems = append(problems, p)
	}
	return problems
}
