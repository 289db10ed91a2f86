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
		c, _, err := colour.FromPhoto(colour.RGB{R: rng.Float64(), G: rng.Float64(), B: rng.Float64()})
		if err != nil {
			t.Fatal(err)
		}
		if bodies[i], err = colour.BodyOf(c, 1, colour.PhotoSurface()); err != nil {
			t.Fatal(err)
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

// The first recipe alone, as a page asks for it: the aim is 0.2 s on one core.
func BenchmarkPage(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		for _, o := range []order{oldFirst, cheapest, nearest} {
			for _, strict := range []float64{0, 0.3, 0.6} {
				b.Run(fmt.Sprintf("%d/%v/%g", n, o, strict), func(b *testing.B) {
					p := paged(b, rand.New(rand.NewPCG(3, uint64(n))), n, strict, o)
					benchSolve(b, p, Options{Recipes: 1})
				})
			}
		}
	}
}
