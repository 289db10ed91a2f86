package recipe

// Curved limits: convex ones against a fine grid, and a colour, which is not
// convex, made of a blend known to exist.

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/floats"

	"hopperful/process"
)

// Two lots at most, a disc in a plane: every pair on a fine grid.
func TestDiscAgainstEveryPair(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(31, 1))
	some, none := 0, 0
	for k := range 60 {
		n := 3 + rng.IntN(8)
		p := Problem{Mass: 2, Most: 2}
		x, y := make([]float64, n), make([]float64, n)
		for i := range n {
			p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 1 + rng.Float64(), Least: 0.2})
			x[i], y[i] = 10*rng.Float64(), 10*rng.Float64()
		}
		p.Curves = []Curve{{Value: squaredDistance(x, y, 5, 5, 2), Limit: 1 + 2*rng.Float64(), Convex: true, Weight: float64(k % 2)}}
		a, err := Solve(t.Context(), p, Options{Recipes: 1})
		if err != nil {
			t.Fatal(err)
		}
		want := everyPair(p)
		if len(a.Recipes) == 0 {
			none++
			if a.Proved && !math.IsInf(want, 1) {
				t.Fatalf("case %d: no recipe, but one costs %g", k, want)
			}
			continue
		}
		some++
		got := a.Recipes[0].Cost
		if got > want*(1+1e-4) || got < want*(1-2e-3) || !a.Proved {
			t.Fatalf("case %d: cost %g (proved %v), by every pair %g", k, got, a.Proved, want)
		}
		if r := a.Recipes[0].Curves[0]; r.Value > p.Curves[0].Limit {
			t.Fatalf("case %d: %g is over the limit %g", k, r.Value, p.Curves[0].Limit)
		}
	}
	if some < 20 || none < 5 {
		t.Errorf("%d cases have a recipe, %d have none: too few of a kind", some, none)
	}
}

func everyPair(p Problem) float64 {
	best := math.Inf(1)
	c, m, slope := p.Curves[0], make([]float64, len(p.Lots)), make([]float64, len(p.Lots))
	const fine = 4000
	for i, a := range p.Lots {
		for j, b := range p.Lots[:i] {
			for s := range fine + 1 {
				m[i] = p.Mass * float64(s) / fine
				m[j] = p.Mass - m[i]
				if inUse(m[i], a) && inUse(m[j], b) {
					if v := c.Value(m, slope); v <= c.Limit {
						best = min(best, m[i]*a.Cost+m[j]*b.Cost+c.Weight*v)
					}
				}
			}
			m[j] = 0
		}
		m[i] = 0
	}
	return best
}

func inUse(m float64, l Lot) bool { return m == 0 || m >= l.Least && m <= l.Stock }

// tint is a blend's distance from a wanted reflectance at eight bands, where
// absorption over scattering mixes by mass (Kubelka and Munk, from memory):
// R = 1 + q − √(q² + 2q), q = Σ s k. It is no convex function of the shares.
func tint(q [][]float64, wanted []float64) Curve {
	differences := func(m, part []float64, slope [][]float64) {
		var mass float64
		for _, v := range m {
			mass += v
		}
		for b, w := range wanted {
			var mix float64
			for i, v := range m {
				mix += v / mass * q[i][b]
			}
			root := math.Sqrt(mix*mix + 2*mix)
			part[b] = 100 * (1 + mix - root - w)
			fall := 100 * (1 - (mix+1)/root)
			for i := range m {
				slope[b][i] = fall * (q[i][b] - mix) / mass
			}
		}
	}
	value := func(m, slope []float64) float64 {
		part, slopes := make([]float64, len(wanted)), make([][]float64, len(wanted))
		for b := range slopes {
			slopes[b] = make([]float64, len(m))
		}
		differences(m, part, slopes)
		far := math.Hypot(floats.Norm(part, 2), 1e-12)
		clear(slope)
		for b, s := range slopes {
			if slope != nil {
				floats.AddScaled(slope, part[b]/far, s)
			}
		}
		return far
	}
	return Curve{Value: value, Parts: len(wanted), Differences: differences, Limit: 4}
}

// hidden draws lots of many colours and the colour of a blend of three of them.
func hidden(rng *rand.Rand, n int) (p Problem, blend []float64) {
	p = Problem{Mass: 1, Most: 4}
	q := make([][]float64, n)
	for i := range n {
		p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 0.7, Least: 0.02})
		q[i] = make([]float64, 8)
		peak, width := 8*rng.Float64(), 0.5+2*rng.Float64()
		for b := range q[i] {
			q[i][b] = 0.02 + 4*rng.Float64()*math.Exp(-math.Pow((float64(b)-peak)/width, 2))
		}
	}
	blend = make([]float64, n)
	pick := rng.Perm(n)[:3]
	for k, share := range []float64{0.5, 0.3, 0.2} {
		blend[pick[k]] = share
	}
	wanted := make([]float64, 8)
	for b := range wanted {
		var mix float64
		for i, s := range blend {
			mix += s * q[i][b]
		}
		wanted[b] = 1 + mix - math.Sqrt(mix*mix+2*mix)
	}
	p.Curves = []Curve{tint(q, wanted)}
	return p, blend
}

func TestAColourThatExistsIsFound(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(32, 1))
	found, dearer := 0, 0
	for range 10 {
		p, blend := hidden(rng, 30)
		a, err := Solve(t.Context(), p, Options{Recipes: 1, Nodes: 600})
		if err != nil {
			t.Fatal(err)
		}
		holdAnswer(t, p, a)
		if len(a.Recipes) == 0 {
			if a.Proved {
				t.Error("claims a proof that no blend has the colour, but one has")
			}
			continue
		}
		found++
		var cost float64
		for i, s := range blend {
			cost += s * p.Lots[i].Cost
		}
		if a.Recipes[0].Cost > cost {
			dearer++
		}
		if a.Bound > cost {
			t.Errorf("bound %g, but a blend with the colour costs %g", a.Bound, cost)
		}
		if v := a.Recipes[0].Curves[0].Value; v > 4 {
			t.Errorf("colour is %g off, at most 4 is allowed", v)
		}
	}
	if found < 10 || dearer > 1 {
		t.Errorf("%d of 10 colours found, %d dearer than need be", found, dearer)
	}
}

func TestNearestColour(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(33, 1))
	worst := 0.0
	for range 10 {
		p, _ := hidden(rng, 20)
		eachLot(func(l *Lot) { l.Cost = 0 })(&p)
		p.Curves[0].Limit, p.Curves[0].Weight = math.Inf(1), 1
		a, err := Solve(t.Context(), p, Options{Recipes: 1, Nodes: 2000})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Recipes) == 0 {
			t.Fatal("no recipe without any limit")
		}
		worst = max(worst, a.Recipes[0].Cost)
	}
	if worst > 0.5 {
		t.Errorf("the nearest colour is %g off, though one is 0 off", worst)
	}
}

func TestCurvesThatAnswerNonsense(t *testing.T) {
	t.Parallel()
	p := Problem{Mass: 1, Lots: []Lot{{Cost: 1, Stock: 1}, {Cost: 2, Stock: 1}}}
	for name, f := range map[string]func(m, slope []float64) float64{
		"NaN value": func(_, _ []float64) float64 { return math.NaN() },
		"NaN slope": func(_, slope []float64) float64 {
			if slope != nil {
				slope[1] = math.NaN()
			}
			return 5
		},
	} {
		p.Curves = []Curve{{Value: f, Limit: 1}}
		if _, err := Solve(t.Context(), p, Options{}); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	p.Curves = []Curve{{Value: func(_, _ []float64) float64 { return 5 }, Limit: 1, Convex: true}}
	a, err := Solve(t.Context(), p, Options{})
	if err != nil || len(a.Recipes) != 0 || a.Conflict == nil || len(a.Conflict.Curve) != 1 || a.Nearest.Curves[0] != 4 {
		t.Errorf("a curve that never changes: %v %+v %+v", err, a.Conflict, a.Nearest)
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	good := func() Problem {
		return Problem{Mass: 1, Lots: []Lot{{Cost: 1, Stock: 1}, {Cost: 2, Stock: 1}}, Limits: []Limit{{Of: []float64{0, 1}, Lo: 0, Hi: 1}}}
	}
	for name, spoil := range map[string]func(p *Problem){
		"no mass":            func(p *Problem) { p.Mass = 0 },
		"NaN mass":           func(p *Problem) { p.Mass = math.NaN() },
		"slack of all":       func(p *Problem) { p.Slack = 1 },
		"no lots":            func(p *Problem) { p.Lots = nil },
		"fewer than no lots": func(p *Problem) { p.Most = -1 },
		"NaN cost":           func(p *Problem) { p.Lots[1].Cost = math.NaN() },
		"negative stock":     func(p *Problem) { p.Lots[1].Stock = -1 },
		"infinite stock":     func(p *Problem) { p.Lots[1].Stock = math.Inf(1) },
		"must beyond stock":  func(p *Problem) { p.Lots[1].Must = 2 },
		"must beyond steps":  func(p *Problem) { p.Lots[1].Must, p.Lots[1].Step = 0.9, 0.6 },
		"step of dust":       func(p *Problem) { p.Lots[1].Step = 1e-9 },
		"too many musts":     func(p *Problem) { p.Most, p.Lots[0].Must, p.Lots[1].Must = 1, 0.1, 0.1 },
		"short property":     func(p *Problem) { p.Limits[0].Of = nil },
		"NaN property":       func(p *Problem) { p.Limits[0].Of[0] = math.NaN() },
		"NaN limit":          func(p *Problem) { p.Limits[0].Hi = math.NaN() },
		"crossed limit":      func(p *Problem) { p.Limits[0].Lo = 2 },
		"no function":        func(p *Problem) { p.Curves = []Curve{{Limit: 1}} },
		"limit below floor":  func(p *Problem) { p.Curves = []Curve{{Value: squaredDistance(nil, nil, 0, 0, 1), Limit: -1}} },
		"negative weight": func(p *Problem) {
			p.Curves = []Curve{{Value: squaredDistance(nil, nil, 0, 0, 1), Limit: 1, Weight: -1}}
		},
		"uneven steps": func(p *Problem) { p.Lots[0].Step, p.Lots[1].Step = 0.3, 0.3 },
	} {
		p := good()
		spoil(&p)
		if a, err := Solve(t.Context(), p, Options{}); err == nil {
			t.Errorf("%s: taken, answered %+v", name, a)
		}
	}
	p := good()
	for name, o := range map[string]Options{"eleven recipes": {Recipes: 11}, "negative nodes": {Nodes: -1}, "wide gap": {Gap: 0.9}} {
		if _, err := Solve(t.Context(), p, o); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	var out *process.RangeError
	if _, err := WhyNot(t.Context(), p, Options{}, 0, 2); !errors.As(err, &out) {
		t.Errorf("more than the stock: %v", err)
	}
	if _, err := WhyNot(t.Context(), p, Options{}, 2, 0); err == nil {
		t.Error("a lot that is not there was asked for")
	}
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Solve(over, p, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("after the end: %v", err)
	}
}
