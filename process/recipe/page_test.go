package recipe

// The problem of a page: lots of all colours, every limit set, a colour wanted,
// weighed to the gram, at most four lots; sought in each order.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process/colour"
)

type order int

const (
	oldFirst order = iota
	cheapest
	nearest
)

func (o order) String() string { return [...]string{"old stock", "cheapest", "nearest colour"}[o] }

// paged draws a blend of half a kilogram from n lots in all colours under the
// eight limits of plausible, within 5 of a colour that three of them have.
func paged(t testing.TB, rng *rand.Rand, n int, strict float64, o order) Problem {
	t.Helper()
	p := plausible(rng, n, strict)
	p.Mass = 0.5
	palette := make([]colour.Body, 100)
	for i := range palette {
		c, _, err := colour.FromPhoto(colour.RGB{R: rng.Float64(), G: rng.Float64(), B: rng.Float64()})
		if err != nil {
			t.Fatal(err)
		}
		if palette[i], err = colour.BodyOf(c, 1, colour.PhotoSurface()); err != nil {
			t.Fatal(err)
		}
	}
	bodies := make([]colour.Body, n)
	for i := range p.Lots {
		l := &p.Lots[i]
		l.Step, l.Least = 0.001, 0.01
		switch o {
		case oldFirst:
			l.Cost = -math.Floor(1 + 800*rng.Float64()*rng.Float64())
		case nearest:
			l.Cost = 0
		}
		c := palette[rng.IntN(len(palette))]
		for k := range c.K {
			bodies[i].K[k], bodies[i].S[k] = c.K[k]*math.Exp(0.2*rng.NormFloat64()), c.S[k]
		}
	}
	pick := rng.Perm(n)[:3]
	mix, err := colour.Mixed([]colour.Body{bodies[pick[0]], bodies[pick[1]], bodies[pick[2]]}, []float64{0.5, 0.3, 0.2}, colour.PhotoSurface())
	if err != nil {
		t.Fatal(err)
	}
	wanted, err := colour.LabOf(mix, colour.TwoDegrees)
	if err != nil {
		t.Fatal(err)
	}
	aim, err := colour.NewAim(bodies, wanted, colour.PhotoSurface())
	if err != nil {
		t.Fatal(err)
	}
	c := Curve{Value: aim.Far, Limit: 5, Parts: 3, Differences: aim.Parts}
	if o == nearest {
		c.Weight = 1
	}
	p.Curves = []Curve{c}
	return p
}

// quick is how a page asks: one recipe, soon, and near enough that nobody sees
// the difference.
func quick(o order) Options {
	q := Options{Recipes: 1, Nodes: 200, Gap: 1e-3}
	if o == nearest {
		q.Near = 0.1
	}
	return q
}

// Three lots make the colour, and a fourth may help: a quick search finds a
// recipe wherever the limits are not drawn tight.
func TestPageFindsARecipe(t *testing.T) {
	t.Parallel()
	far := 0.0
	for seed := range uint64(8) {
		for _, o := range []order{oldFirst, cheapest, nearest} {
			p := paged(t, rand.New(rand.NewPCG(90+seed, 1)), 300, -0.5, o)
			a, err := Solve(t.Context(), p, quick(o))
			if err != nil {
				t.Fatal(err)
			}
			holdAnswer(t, p, a)
			if len(a.Recipes) == 0 {
				t.Errorf("draw %d, %v: no recipe", seed, o)
				continue
			}
			if o == nearest {
				far = max(far, a.Recipes[0].Cost)
			}
			if a.Nodes > 6000 {
				t.Errorf("draw %d, %v: %d nodes are not quick", seed, o, a.Nodes)
			}
		}
	}
	if far > 1 {
		t.Errorf("the nearest colour is up to %g off", far)
	}
}

// Ten thousand lots under every limit: an answer that says what it is, in
// bounded work.
func TestTenThousandLots(t *testing.T) {
	t.Parallel()
	for _, o := range []order{oldFirst, cheapest, nearest} {
		p := paged(t, rand.New(rand.NewPCG(71, 10000)), 10000, 0.3, o)
		a, err := Solve(t.Context(), p, quick(o))
		if err != nil {
			t.Fatal(err)
		}
		holdAnswer(t, p, a)
		if len(a.Recipes) == 0 {
			t.Errorf("%v: no recipe", o)
		}
		if a.Nodes > 6000 || a.Pivots > 30000 {
			t.Errorf("%v: %d nodes and %d pivots are more than bounded", o, a.Nodes, a.Pivots)
		}
	}
}

// The first recipe alone, as a page asks for it: the aim is 0.2 s on one core.
func BenchmarkPage(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		for _, o := range []order{oldFirst, cheapest, nearest} {
			for _, strict := range []float64{0, 0.3, 0.6} {
				b.Run(fmt.Sprintf("%d/%v/%g", n, o, strict), func(b *testing.B) {
					p := paged(b, rand.New(rand.NewPCG(3, uint64(n))), n, strict, o)
					benchSolve(b, p, quick(o))
				})
			}
		}
	}
}
