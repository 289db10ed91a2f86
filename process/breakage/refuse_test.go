package breakage

// What the package refuses, and that it does not allocate where plans call it.

import (
	"errors"
	"math"
	"testing"

	"hopperful/process"
)

func TestRefusals(t *testing.T) {
	t.Parallel()
	m, g := benchMill(t, 1e-3)
	good := Screen{0.002, 0.2, 0.25, 0}
	power := Power{250, 0.02}
	nan := math.NaN()
	for name, err := range map[string]error{
		"NaN rate":          m.Reset(Kernel{Rate: nan}, good, power),
		"negative exponent": m.Reset(Kernel{Rate: 1e-4, SizeExponent: -1, RotorSize: 1, Gamma: 1, Beta: 1}, good, power),
		"no hole":           m.Reset(brittle, Screen{0, 0.2, 0.25, 0}, power),
		"open above 1":      m.Reset(brittle, Screen{0.002, 1.2, 0.25, 0}, power),
		"NaN screen rate":   m.Reset(brittle, Screen{0.002, 0.2, nan, 0}, power),
		"no least hold-up":  m.Reset(brittle, good, Power{250, 0}),
		"negative power":    m.Reset(brittle, good, Power{-1, 0.02}),
		"NaN time":          m.Run(NewCharge(g), nan, nil),
		"negative time":     m.Run(NewCharge(g), -1, nil),
		"short charge":      m.Run(&Charge{Held: make([]float64, 3), Passed: make([]float64, 3)}, 1, nil),
		"late look":         m.Run(NewCharge(g), 1, &Course{Time: []float64{2}}),
		"looks backwards":   m.Run(NewCharge(g), 3, &Course{Time: []float64{2, 1}}),
		"short course":      m.Run(NewCharge(g), 3, &Course{Time: []float64{1, 2}, Held: make([]float64, 1)}),
		"feed off the grid": AddFeed(g, make([]float64, g.Classes()), 1, 1, 0.5, 0.1),
		"feed out of order": AddFeed(g, make([]float64, g.Classes()), 1, 0.1, 0.2, 0.05),
	} {
		var out *process.RangeError
		if !errors.As(err, &out) {
			t.Errorf("%s: got %v, wanted a RangeError", name, err)
		}
	}
	bad := NewCharge(g)
	bad.Held[1] = -1
	if err := m.Run(bad, 1, nil); err == nil {
		t.Error("a negative mass was ground")
	}
	if _, err := NewMill(Grid{}, brittle, good, power, 1e-3); err == nil {
		t.Error("a mill without classes was made")
	}
	if _, _, err := m.RunToShare(NewCharge(g), 2, 1); err == nil {
		t.Error("twice the charge was asked for")
	}
}

func TestRunsAllocateNothing(t *testing.T) {
	m, g := benchMill(t, 1e-3)
	c := NewCharge(g)
	course := &Course{Time: []float64{20, 40}, Held: make([]float64, 2), Power: make([]float64, 2)}
	k, s, p := brittle, Screen{0.002, 0.2, 0.25, 0}, Power{250, 0.02}
	if n := testing.AllocsPerRun(5, func() {
		clear(c.Held)
		clear(c.Passed)
		err := errors.Join(m.Reset(k, s, p), AddFeed(g, c.Held, 0.1, 0.06, 0.03, 0.002), m.Run(c, 60, course))
		if _, chanceErr := StallChance(DefaultStall, 0.3, 0.001, 1); chanceErr != nil || err != nil {
			t.Error(err, chanceErr)
		}
	}); n != 0 {
		t.Errorf("%g allocations a run", n)
	}
}

// An empty mill runs and stays empty; a charge that is all pan leaves.
func TestEmptyAndFine(t *testing.T) {
	t.Parallel()
	m, g := benchMill(t, 1e-3)
	c := NewCharge(g)
	if err := m.Run(c, 100, nil); err != nil || c.PassedMass() != 0 || c.Energy != 0 {
		t.Errorf("an empty mill: %v, %g kg, %g J", err, c.PassedMass(), c.Energy)
	}
	c.Held[g.Classes()-1] = 0.1
	if err := m.Run(c, 100, nil); err != nil {
		t.Fatal(err)
	}
	rate := 0.0484415375 * g.Upper(g.Classes()-1) / PanEdge
	if want := 0.1 * -math.Expm1(-100*rate); math.Abs(c.PassedMass()-want) > 1e-4 {
		t.Errorf("fine powder: %g kg left, wanted %g", c.PassedMass(), want)
	}
}

// The edges of debris descend, each below the one before, even by the last digit.
func TestDebrisEdgesDescend(t *testing.T) {
	t.Parallel()
	law := func(x, y float64) float64 { return x / y }
	for _, c := range []struct {
		upper []float64
		ok    bool
	}{
		{[]float64{1, 0.5, 0.25}, true}, {[]float64{1, math.Nextafter(1, 0), 0.25}, true}, {[]float64{0.5, 0.5, 0.25}, false}, {[]float64{1, 1, 0.25}, false},
		{[]float64{0.5, math.Nextafter(0.5, 1), 0.25}, false}, {[]float64{1, 0.5, 0}, false}, {[]float64{1, 0.25, 0.5}, false}, {[]float64{4, 2, 1}, true}, {[]float64{4, 4, 1}, false},
	} {
		if _, err := Debris(c.upper, law); (err == nil) != c.ok {
			t.Errorf("%v: %v", c.upper, err)
		}
	}
	b, err := Debris([]float64{4, 2, 1}, law) // of a parent of 2 the half is finer than 1; the finest does not break
	if err != nil || b[1][0] != 0.5 || b[2][0] != 0.5 || b[2][1] != 1 || b[0][0] != 0 {
		t.Errorf("%v %v", b, err)
	}
}
