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

// The points asked, by hand: false position on x² − 2 between 0 and 2 goes to 2 − 2·2/4 = 1,
// then 2 − 2·1/3 = 4/3; the high end is stale and weighs half, so 2 − 1·(2/3)/(1 + 2/9) = 16/11.
// A line is met at once; an end that stays put is halved instead.
func TestBetweenAsksWhereTheRuleSays(t *testing.T) {
	t.Parallel()
	asked := func(f func(float64) float64, lo, hi float64) []float64 {
		var all []float64
		if _, err := Between(func(x float64) float64 { all = append(all, x); return f(x) }, lo, hi, 1e-12); err != nil {
			t.Fatal(err)
		}
		return all
	}
	for name, c := range map[string]struct {
		f      func(float64) float64
		lo, hi float64
		want   []float64
	}{
		"square":           {func(x float64) float64 { return x*x - 2 }, 0, 2, []float64{0, 2, 1, 4.0 / 3, 16.0 / 11}},
		"square, mirrored": {func(x float64) float64 { return 2 - x*x }, -2, 0, []float64{-2, 0, -1, -4.0 / 3, -16.0 / 11}},
		"line":             {func(x float64) float64 { return 3*x - 2 }, 0, 1, []float64{0, 1, 2.0 / 3}},
		// f is -1 and 1 alone: the middle, then from 0.5 on each third step halves what has not shrunk by half.
		"jump": {func(x float64) float64 { return math.Copysign(1, x-0.9) }, 0, 1, []float64{0, 1, 0.5, 0.75, 0.75 + 0.25*2.0/3}},
	} {
		got := asked(c.f, c.lo, c.hi)
		if len(got) < len(c.want) {
			t.Errorf("%s: asked at %v", name, got)
			continue
		}
		for i, x := range c.want {
			if math.Abs(got[i]-x) > 1e-12 {
				t.Errorf("%s: point %d is %.12g, wanted %.12g", name, i, got[i], x)
			}
		}
	}
	// One end of a steep wall stays put for long: bisection every third step bounds the search
	// to three times the halvings that the width asked for takes, 40 of them.
	wall := asked(func(x float64) float64 { return math.Expm1(1e4 * (x - 0.123)) }, 0, 1)
	if len(wall) > 2+3*40 {
		t.Errorf("a wall took %d points", len(wall))
	}
	// A function that is no number at either end alone is refused.
	for _, ends := range [][2]float64{{-1, 1}, {1, -1}} {
		side := func(x float64) float64 {
			if x == ends[0] {
				return math.NaN()
			}
			return x
		}
		if _, err := Between(side, -1, 1, 0); !errors.Is(err, ErrNotSettled) {
			t.Errorf("no number at %g: %v", ends[0], err)
		}
	}
}

// Halvings by hand: a bracket no wider than asked for is answered by its middle; a third step halves what three
// steps did not, and any step halves where the line through both ends leaves the bracket.
func TestHalvings(t *testing.T) {
	t.Parallel()
	jump := func(x float64) float64 { return math.Copysign(1, x-1.2) }
	if x, err := Between(jump, 1, 2, 0.5); err != nil || x != 1.5 {
		t.Errorf("a bracket of 1 to 2 within a half: %g, %v", x, err)
	}
	for name, c := range map[string]struct {
		s    search
		i    int
		want float64
	}{
		"stale":             {search{lo: 4, hi: 8, flo: -1, fhi: 3, mark: 7.9}, 2, 6},
		"not a third step":  {search{lo: 4, hi: 8, flo: -1, fhi: 3, mark: 7.9}, 1, 5},
		"halved meanwhile":  {search{lo: 4, hi: 8, flo: -1, fhi: 3, mark: 8}, 2, 5},
		"line at the end":   {search{lo: 4, hi: 8, flo: -1, fhi: 1e-300, mark: 8}, 0, 6},
		"line at the start": {search{lo: 4, hi: 8, flo: -1e-300, fhi: 1, mark: 8}, 0, 6},
	} {
		if got := c.s.next(c.i); got != c.want {
			t.Errorf("%s: %g, wanted %g", name, got, c.want)
		}
	}
}
