package root

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

func TestBetweenFindsRootsKnownInClosedForm(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		f            func(float64) float64
		lo, hi, want float64
	}{
		{"square", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2},
		{"falling", func(x float64) float64 { return 1/x - 4 }, 0.01, 10, 0.25},
		{"flat at one end", func(x float64) float64 { return math.Pow(x, 15) - 1e-15 }, 0, 5, 0.1},
		{"at the low end", func(x float64) float64 { return x - 1 }, 1, 2, 1},
		{"at the high end", func(x float64) float64 { return x - 2 }, 1, 2, 2},
		{"jump", func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0, 1, 0.3},
		{"steep", func(x float64) float64 { return math.Exp(50*x) - 1e10 }, -1, 3, 10 * math.Ln10 / 50},
	} {
		calls := 0
		got, err := Between(func(x float64) float64 { calls++; return c.f(x) }, c.lo, c.hi, 1e-13)
		if err != nil || math.Abs(got-c.want) > 1e-12*(1+math.Abs(c.want)) {
			t.Errorf("%s: got %.15g, %v; wanted %.15g", c.name, got, err, c.want)
		}
		if calls > 100 {
			t.Errorf("%s: asked %d times", c.name, calls)
		}
	}
}

func TestBetweenRefuses(t *testing.T) {
	t.Parallel()
	one := func(float64) float64 { return 1 }
	line := func(x float64) float64 { return x }
	if _, err := Between(one, 0, 1, 0); !errors.Is(err, ErrNoCrossing) {
		t.Errorf("equal signs: %v", err)
	}
	if _, err := Between(line, 1, -1, 0); !errors.Is(err, ErrNoCrossing) {
		t.Errorf("ends swapped: %v", err)
	}
	if _, err := Between(math.Log, -2, -1, 0); !errors.Is(err, ErrNotSettled) {
		t.Errorf("no number at the ends: %v", err)
	}
	hole := func(x float64) float64 {
		if math.Abs(x) == 1 {
			return x
		}
		return math.NaN()
	}
	if _, err := Between(hole, -1, 1, 0); !errors.Is(err, ErrNotSettled) {
		t.Errorf("no number inside: %v", err)
	}
}

func TestBetweenSolvesRandomCubics(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 1))
	for range 500 {
		r := 10*rng.Float64() - 5
		a, b := rng.Float64()*3, rng.Float64()*3+0.01
		f := func(x float64) float64 { return (x - r) * ((x-r)*(x-r)*a + b) }
		got, err := Between(f, -6, 6, 1e-14)
		if err != nil || math.Abs(got-r) > 1e-11 {
			t.Fatalf("root %g: got %g, %v", r, got, err)
		}
	}
}
