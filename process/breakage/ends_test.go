package breakage

// What charges, courses, mills and debris laws may be, at both ends and beyond.

import (
	"errors"
	"math"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process"
)

func TestChargesAtTheirEnds(t *testing.T) {
	t.Parallel()
	for _, i := range []int{0, 2} { // after what may be, too
		held := func(v float64) error {
			c := Charge{Held: []float64{0, 1e4, 0}, Passed: []float64{0, 1e6, 0}}
			c.Held[i] = v
			return c.check(3)
		}
		passed := func(v float64) error {
			c := Charge{Held: []float64{0, 1e4, 0}, Passed: []float64{0, 1e6, 0}}
			c.Passed[i] = v
			return c.check(3)
		}
		checkrow.Range(t, "held", 0, 1e4, held)
		checkrow.Range(t, "passed", 0, 1e6, passed)
	}
	for e, ok := range map[float64]bool{0: true, 1e300: true, math.MaxFloat64: true, -1e-9: false, math.Inf(1): false, math.NaN(): false} {
		if err := (&Charge{Energy: e}).check(0); (err == nil) != ok {
			t.Errorf("%g J so far: %v", e, err)
		}
	}
	for n, ok := range map[[2]int]bool{{3, 3}: true, {2, 3}: false, {3, 2}: false, {4, 3}: false, {3, 4}: false} {
		if err := (&Charge{Held: make([]float64, n[0]), Passed: make([]float64, n[1])}).check(3); (err == nil) != ok {
			t.Errorf("%d held and %d passed classes of 3: %v", n[0], n[1], err)
		}
	}
	// Where a run is looked at: in order, up to its end; every list as long as the times.
	for i, c := range []struct {
		c  Course
		ok bool
	}{
		{Course{}, true}, {Course{Time: []float64{0, 0, 5, 5, 7}}, true}, {Course{Time: []float64{0.5, 0.4}}, false}, {Course{Time: []float64{7.1}}, false}, {Course{Time: []float64{-0.1}}, false}, {Course{Time: []float64{math.NaN()}}, false},
		{Course{Time: []float64{1}, Held: make([]float64, 1), Passed: make([]float64, 1), Power: make([]float64, 1), Energy: make([]float64, 1)}, true},
		{Course{Time: []float64{1}, Held: make([]float64, 2)}, false}, {Course{Time: []float64{1}, Passed: make([]float64, 2)}, false}, {Course{Time: []float64{1}, Power: make([]float64, 2)}, false}, {Course{Time: []float64{1}, Energy: make([]float64, 2)}, false},
		{Course{Time: []float64{1}, HeldClasses: [][]float64{{1, 2, 3}}, PassedClasses: [][]float64{{1, 2, 3}}}, true}, {Course{Time: []float64{1}, HeldClasses: [][]float64{{1, 2}}}, false}, {Course{Time: []float64{1}, PassedClasses: [][]float64{{1, 2, 3, 4}}}, false},
		{Course{Time: []float64{1}, HeldClasses: [][]float64{{1, 2, 3}, {1, 2, 3}}}, false}, {Course{Time: []float64{1}, PassedClasses: [][]float64{}}, false},
	} {
		if err := c.c.check(7, 3); (err == nil) != c.ok {
			t.Errorf("course %d: %v", i, err)
		}
	}
}

// A mill has two classes at least and thirty-one at most; a debris law is 1 at the parent, and no share of it leaves 0 to 1.
func TestMillsAtTheirEnds(t *testing.T) {
	t.Parallel()
	for n, ok := range map[int]bool{0: false, 1: false, 2: true, 3: true, 31: true, 32: false, 60: false} {
		g := Grid{upper: make([]float64, n)}
		for i := range n {
			g.upper[i] = PanEdge * math.Exp2(float64(n-1-i)/2)
		}
		_, err := NewMill(g, brittle, Screen{0.002, 0.2, 0.25, 0}, Power{250, 0.02}, 1e-3)
		var out *process.RangeError
		if (err == nil) != ok || !ok && (!errors.As(err, &out) || out.Lo != 2 || out.Hi != 31 || out.Value != float64(n)) {
			t.Errorf("%d classes: %v", n, err)
		}
	}
	upper := []float64{4, 2, 1}
	for name, c := range map[string]struct {
		law func(x, y float64) float64
		ok  bool
	}{
		"straight":              {func(x, y float64) float64 { return x / y }, true},
		"above 1 at the parent": {func(x, y float64) float64 { return 1.5 * x / y }, false},
		"below":                 {func(x, y float64) float64 { return 0.9 * x / y }, false},
		"falling":               {func(x, y float64) float64 { return y / x }, false},
		"all of it at once":     {func(x, y float64) float64 { return math.Floor(x / y) }, true},
	} {
		if _, err := Debris(upper, c.law); (err == nil) != c.ok {
			t.Errorf("a law %s: %v", name, err)
		}
	}
	good, power := Screen{0.002, 0.2, 0.25, 0}, Power{250, 0.02}
	g, err := NewGrid(0.01)
	if err != nil {
		t.Fatal(err)
	}
	checkrow.Range(t, "tolerance", 1e-9, 1e-2, func(v float64) error { _, err := NewMill(g, brittle, good, power, v); return err })
	checkrow.Range(t, "net power", 0, 1e5, func(v float64) error { return Power{v, 0.02}.check() })
	checkrow.Range(t, "least hold-up", 1e-9, 100, func(v float64) error { return Power{250, v}.check() })
	checkrow.Range(t, "hole", PanEdge, 0.1, func(v float64) error { return Screen{v, 0.2, 0.25, 0}.check() })
	checkrow.Range(t, "open share", 0, 1, func(v float64) error { return Screen{0.002, v, 0.25, 0}.check() })
	checkrow.Range(t, "rate", 0, 1000, func(v float64) error { return Screen{0.002, 0.2, v, 0}.check() })
	m, err := NewMill(g, brittle, good, power, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	checkrow.Range(t, "mass of scrap", 0, 1e4, func(v float64) error { return m.Fill(NewCharge(g), v, 0.009, 0.005, 0.002) })
	checkrow.Range(t, "mass of feed", 0, 1e4, func(v float64) error { return AddFeed(g, NewCharge(g).Held, v, 0.009, 0.005, 0.002) })
	checkrow.Range(t, "largest piece", PanEdge, g.Upper(0), func(v float64) error { return m.Fill(NewCharge(g), 1, v, v/2, v/4) })
	checkrow.Range(t, "largest feed", PanEdge, g.Upper(0), func(v float64) error { return AddFeed(g, NewCharge(g).Held, 1, v, v/2, v/4) })
	checkrow.Range(t, "a disc's Poisson ratio", 0, 0.5, func(v float64) error { _, err := DiscStress(1200, 20, v); return err })
	checkrow.Range(t, "a bored disc's", 0, 0.5, func(v float64) error { _, err := BoreStress(1200, 100, 0.1, 0.01, v); return err })
	checkrow.Range(t, "longest run", 0, 86400, func(v float64) error { return m.Run(NewCharge(g), v, nil) })
	checkrow.Range(t, "share to pass", 0, 1, func(v float64) error { _, _, err := m.RunToShare(NewCharge(g), v, 1); return err })
	for p, ok := range map[float64]bool{0: true, 1: true, 10: true, 0.99: false, 10.1: false, -1: false} {
		if err := (Screen{0.002, 0.2, 0.25, p}).check(); (err == nil) != ok {
			t.Errorf("hindrance %g: %v", p, err)
		}
	}
	// How much a piece is hit: P/H = P (1 − e^(−u))/H with u = H over the least hold-up; both forms where they meet, and the limit.
	for _, u := range []float64{0, 1e-12, 0.9e-5, 1.1e-5, 0.0999, 0.1001, 3, 40} {
		p := Power{Net: 240, MinHeld: 0.03}
		want := 240 / 0.03
		if u > 0 {
			want *= -math.Expm1(-u) / u
		}
		if got := p.perMass(u * 0.03); math.Abs(got/want-1) > 1e-10 {
			t.Errorf("at %g: %g W/kg, wanted %g", u, got, want)
		}
	}
}

// A share that has passed already takes no time; one that never passes takes all there is, and says so.
func TestSharesThatPassAtOnceOrNever(t *testing.T) {
	t.Parallel()
	m, g := benchMill(t, 1e-3)
	c := NewCharge(g)
	c.Held[0], c.Passed[3] = 0.06, 0.04
	for _, share := range []float64{0, 0.2, 0.39} {
		if time, reached, err := m.RunToShare(c, share, 100); time != 0 || !reached || err != nil || c.Energy != 0 {
			t.Errorf("%g passed already: %g s, %t, %v", share, time, reached, err)
		}
	}
	if time, reached, err := m.RunToShare(c, 1, 5); time != 5 || reached || err != nil {
		t.Errorf("all of it in 5 s: %g s, %t, %v", time, reached, err)
	}
	time, reached, err := m.RunToShare(c, 0.6, 1000)
	if share := c.PassedMass() / (c.PassedMass() + c.HeldMass()); !reached || err != nil || math.Abs(share-0.6) > 1e-9 || !(time > 0 && time < 1000) {
		t.Errorf("0.6 of it: %g passed in %g s, %t, %v", share, time, reached, err)
	}
}

// Pieces of 63 µm times a power of two are the upper edge of the first class, not one class more.
func TestClassesOfRoundSizes(t *testing.T) {
	t.Parallel()
	for k := 1; k <= 14; k++ {
		for by, want := range map[float64]int{1: 2*k + 1, 1 + 1e-6: 2*k + 2, 1 - 1e-6: 2*k + 1, 0.70: 2 * k} {
			if largest := PanEdge * math.Exp2(float64(k)) * by; largest >= 1e-4 {
				if g, err := NewGrid(largest); err != nil || g.Classes() != want {
					t.Errorf("%g m: %d classes, wanted %d (%v)", largest, g.Classes(), want, err)
				}
			}
		}
	}
}
