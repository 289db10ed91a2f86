package heat

import (
	"errors"
	"math"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	pot := Pot{Wall: 1500, Exchange: 2, Loss: 0.75, ToCharge: 0.8, SpecificHeat: 1800, Layer: 0.1}
	checkrow.Fields(t, pot, func(p Pot) error { return p.Check() })
	checkrow.Fields(t, pot, func(p Pot) error { return p.Step(&State{300, 300}, &Account{}, Span{Room: room}) })
	checkrow.Fields(t, State{300, 310}, func(s State) error { return pot.Step(&s, &Account{}, Span{Room: room}) })
	checkrow.Fields(t, Span{Time: 1, Power: 1, From: 1, To: 1, Room: room}, Span.check)
	checkrow.Fields(t, Vessel{0.15, 0.2, 0.9}, func(v Vessel) error { _, err := LossConductance(v, 310, room); return err })
	checkrow.Fields(t, Part{1, 500}, func(p Part) error { _, err := WallCapacity(p); return err })
	for name, f := range map[string]func(float64) error{
		"to":   func(x float64) error { _, err := RestUntil(pot, 400, 350, x, 1); return err },
		"from": func(x float64) error { _, err := RestUntil(pot, x, 300, 250, 1); return err },
	} {
		checkrow.Range(t, "RestUntil "+name, 233.15, 673.15, f)
	}
	checkrow.Range(t, "lid of RestUntil", 1, 20, func(x float64) error { _, err := RestUntil(pot, 350, 300, room, x); return err })
	checkrow.Range(t, "lid of Rest", 1, 20, func(x float64) error { return pot.Rest(&State{300, 300}, &Account{}, 1, 0, room, x) })
	checkrow.Range(t, "load", 0, 1e9, func(x float64) error { _, _, err := CycleLoad(Load{1, x}); return err })
	checkrow.Range(t, "time of a load", 0, 1e9, func(x float64) error { _, _, err := CycleLoad(Load{x, 1}, Load{1, 1}); return err })
	for name, f := range map[string]func(float64) error{
		"air":                   func(x float64) error { _, err := Air(x); return err },
		"warm surface":          func(x float64) error { _, err := Rayleigh(x, 300, 0.1); return err },
		"air beside a surface":  func(x float64) error { _, err := Rayleigh(300, x, 0.1); return err },
		"shining surface":       func(x float64) error { _, err := RadiationCoefficient(x, 300, 0.5); return err },
		"room of a surface":     func(x float64) error { _, err := RadiationCoefficient(300, x, 0.5); return err },
		"room of a span":        func(x float64) error { return Span{Time: 1, Power: 1, From: 1, To: 1, Room: x}.check() },
		"room RestUntil starts": func(x float64) error { _, err := RestUntil(pot, 673.15, 673.15, x, 1); return err },
	} {
		checkrow.Range(t, name, 233.15, 673.15, f)
	}
	checkrow.Range(t, "length of a surface", 1e-4, 10, func(x float64) error { _, err := Rayleigh(301, 300, x); return err })
	checkrow.Range(t, "mass at the end", 0, 2, func(x float64) error { return Span{Time: 1, From: 2, To: x, Room: room}.check() })
}

// An empty pot is one body: with power P, loss UA and heat capacity C it warms as
// P/UA (1 − e^(−UA t/C)) over the room, and what went in is stored or lost.
func TestEmptyPotWarms(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ power, loss, time, over float64 }{{50, 0.75, 30, 0}, {50, 0.75, 3000, 0}, {20, 2, 600, 15}, {50, 1e-9, 100, 5}, {0, 1, 500, 40}} {
		p := Pot{Wall: 1500, Exchange: 2, Loss: c.loss, ToCharge: 0.8, SpecificHeat: 1800}
		s, a := State{room + c.over, room + c.over}, Account{}
		if err := p.Step(&s, &a, Span{Time: c.time, Power: c.power, Room: room}); err != nil {
			t.Fatal(err)
		}
		fade := math.Exp(-c.loss * c.time / p.Wall)
		want := c.over*fade + c.power/c.loss*-math.Expm1(-c.loss*c.time/p.Wall)
		if math.Abs(s.Wall-room-want) > 1e-6*(1+want) || s.Charge != s.Wall {
			t.Errorf("%+v: %g K over the room, wanted %g", c, s.Wall-room, want)
		}
		if math.Abs(a.In-c.power*c.time) > 1e-9*a.In || math.Abs(a.In-a.Lost-p.Wall*(want-c.over)) > 1e-6*(1+a.In) || a.CarriedOut != 0 {
			t.Errorf("%+v: %+v does not add up", c, a)
		}
	}
}

// A course whose rows do not fit its times is refused: held mass and energy are needed, the
// temperatures may be missing but not be of another length.
func TestCourseOfOneLength(t *testing.T) {
	t.Parallel()
	p := Pot{Wall: 1500, Exchange: 2, Loss: 0.75, ToCharge: 0.8, SpecificHeat: 1800}
	time, held, energy := []float64{10, 20}, []float64{0.1, 0.05}, []float64{500, 900}
	for name, c := range map[string]struct {
		course Course
		in     bool
	}{
		"no temperatures":      {Course{Time: time, Held: held, Energy: energy}, true},
		"all":                  {Course{Time: time, Held: held, Energy: energy, Charge: make([]float64, 2), Wall: make([]float64, 2)}, true},
		"nothing held":         {Course{Time: time, Energy: energy}, false},
		"no energy":            {Course{Time: time, Held: held}, false},
		"one held":             {Course{Time: time, Held: held[:1], Energy: energy}, false},
		"one charge":           {Course{Time: time, Held: held, Energy: energy, Charge: make([]float64, 1)}, false},
		"three walls":          {Course{Time: time, Held: held, Energy: energy, Wall: make([]float64, 3)}, false},
		"time stands":          {Course{Time: []float64{10, 10}, Held: held, Energy: energy}, false},
		"energy falls":         {Course{Time: time, Held: held, Energy: []float64{500, 400}}, false},
		"mass comes from none": {Course{Time: time, Held: []float64{0.1, 0.11}, Energy: energy}, false},
		"more than at first":   {Course{Time: time, Held: []float64{0.13, 0.05}, Energy: energy}, false},
	} {
		s, a := State{300, 300}, Account{}
		top, err := p.Follow(&s, &a, 0.12, room, &c.course)
		var out *process.RangeError
		if (err == nil) != c.in || !c.in && !errors.As(err, &out) {
			t.Errorf("%s: %v", name, err)
		}
		if c.in && (top < s.Charge || math.Abs(a.In-900) > 1e-9 || c.course.Wall != nil && (c.course.Wall[1] != s.Wall || c.course.Charge[1] != s.Charge || c.course.Charge[0] == s.Charge)) {
			t.Errorf("%s: at most %g K, %+v, %+v, %+v", name, top, s, a, c.course)
		}
	}
}
