package heat

// Laws every pot obeys.

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process"
)

// plausible draws a pot from wide ranges, some of its paths closed.
func plausible(rng *rand.Rand) Pot {
	scale := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rng.Float64()) }
	p := Pot{scale(50, 2e4), scale(0.01, 200), scale(0.01, 20), rng.Float64(), scale(800, 3000), 0}
	if rng.IntN(2) == 0 {
		p.Layer = scale(0.01, 1)
	}
	switch rng.IntN(6) {
	case 0:
		p.Exchange = 0
	case 1:
		p.Loss = 0
	}
	return p
}

// In = stored + lost + carried out, over a run in which nearly all mass leaves.
func TestHeatIsAccountedFor(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 4))
	for n := range 300 {
		p := plausible(rng)
		s := State{290 + 20*rng.Float64(), 290 + 20*rng.Float64()}
		var a Account
		mass := 0.05 + 0.2*rng.Float64()
		before := p.Stored(s, mass, room)
		for mass > 1e-12 {
			next := mass * rng.Float64()
			span := Span{Time: 20 * rng.Float64(), Power: 600 * mass * rng.Float64(), From: mass, To: next, Room: room}
			if err := p.Step(&s, &a, span); err != nil {
				t.Fatalf("case %d: %v", n, err)
			}
			mass = next
		}
		balance := before + a.In - a.Lost - a.CarriedOut - p.Stored(s, mass, room)
		size := math.Abs(before) + a.In + p.Wall // a kelvin of the wall
		if !(math.Abs(balance) < 1e-9*size) {
			t.Errorf("case %d: %g J of %g J are not accounted for (%+v)", n, balance, size, p)
		}
	}
}

// One span or many of the same kind lead to the same state.
func TestSpansJoin(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 4))
	for n := range 100 {
		p := plausible(rng)
		once, often := State{300, 310}, State{300, 310}
		var a, b Account
		span := Span{Time: 90, Power: 100, From: 0.2, To: 0.2, Room: room}
		if err := p.Step(&once, &a, span); err != nil {
			t.Fatal(err)
		}
		span.Time /= 30
		for range 30 {
			if err := p.Step(&often, &b, span); err != nil {
				t.Fatal(err)
			}
		}
		if math.Abs(once.Charge-often.Charge) > 1e-9 || math.Abs(once.Wall-often.Wall) > 1e-9 || math.Abs(a.Lost-b.Lost) > 1e-7 {
			t.Errorf("case %d: %+v %+v and %+v %+v", n, once, a, often, b)
		}
	}
}

// Without power nothing becomes warmer than the warmest, and all tends to the room.
func TestRestCools(t *testing.T) {
	t.Parallel()
	p := Pot{1500, 2, 0.75, 0.8, 1800, 0}
	var a Account
	last := State{330, 320}
	closed := last
	for range 40 {
		s := last
		if err := p.Rest(&s, &a, 300, 0.1, room, 2); err != nil {
			t.Fatal(err)
		}
		if s.Charge > last.Charge || s.Wall > last.Wall+10 || s.Wall < room || s.Charge < room {
			t.Fatalf("from %+v to %+v", last, s)
		}
		last = s
	}
	if math.Abs(last.Wall-room) > 1 {
		t.Errorf("after a long rest the wall is at %g K", last.Wall)
	}
	if err := p.Rest(&closed, &a, 12000, 0.1, room, 1); err != nil || closed.Wall <= last.Wall {
		t.Errorf("a closed lid cools faster: %g K, %v", closed.Wall, err)
	}
}

// RestUntil and Rest of an empty pot agree.
func TestRestUntilAgrees(t *testing.T) {
	t.Parallel()
	p := Pot{1500, 2, 0.75, 0.8, 1800, 0}
	time, err := RestUntil(p, 330, 305, room, 2)
	if err != nil {
		t.Fatal(err)
	}
	s := State{330, 330}
	if err := p.Rest(&s, &Account{}, time, 0, room, 2); err != nil || math.Abs(s.Wall-305) > 1e-9 {
		t.Errorf("after %g s the wall is at %g K, %v", time, s.Wall, err)
	}
}

// Follow along a course is of second order in the spans.
func TestFollowConverges(t *testing.T) {
	t.Parallel()
	run := func(n int) float64 {
		p := Pot{1500, 3, 0.8, 0.9, 1500, 0}
		s := State{298.15, 303.15}
		c := &Course{}
		for k := 1; k <= n; k++ {
			time := 200 * float64(k) / float64(n)
			c.Time, c.Held, c.Energy = append(c.Time, time), append(c.Held, 0.1-0.0004*time), append(c.Energy, 200*time)
		}
		if _, err := p.Follow(&s, &Account{}, 0.1, room, c); err != nil {
			t.Fatal(err)
		}
		return s.Charge
	}
	const exact = 380.2473013 // scipy 1.10 solve_ivp Radau rtol 1e-12
	coarse, fine := math.Abs(run(20)-exact), math.Abs(run(40)-exact)
	if order := math.Log2(coarse / fine); order < 1.8 || order > 2.3 {
		t.Errorf("order %.2f: errors %g K and %g K", order, coarse, fine)
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	good := Pot{1500, 2, 0.75, 0.8, 1800, 0}
	span := Span{Time: 1, Power: 1, From: 0.1, To: 0.1, Room: room}
	step := func(change func(*Pot, *State, *Span)) error {
		p, s, sp := good, State{300, 300}, span
		change(&p, &s, &sp)
		return p.Step(&s, &Account{}, sp)
	}
	follow := func(c *Course) error {
		s := State{300, 300}
		_, err := good.Follow(&s, &Account{}, 0.1, room, c)
		return err
	}
	for name, err := range map[string]error{
		"no wall":         step(func(p *Pot, _ *State, _ *Span) { p.Wall = 0 }),
		"NaN exchange":    step(func(p *Pot, _ *State, _ *Span) { p.Exchange = math.NaN() }),
		"share above 1":   step(func(p *Pot, _ *State, _ *Span) { p.ToCharge = 1.1 }),
		"NaN temperature": step(func(_ *Pot, s *State, _ *Span) { s.Charge = math.NaN() }),
		"celsius":         step(func(_ *Pot, _ *State, s *Span) { s.Room = 20 }),
		"growing mass":    step(func(_ *Pot, _ *State, s *Span) { s.To = 0.2 }),
		"back in time":    step(func(_ *Pot, _ *State, s *Span) { s.Time = -1 }),
		"melts down":      step(func(_ *Pot, _ *State, s *Span) { s.Time, s.Power = 3600, 5000 }),
		"short course":    follow(&Course{Time: []float64{1, 2}, Held: []float64{0.1}, Energy: []float64{1, 2}}),
		"fresh feed":      follow(&Course{Time: []float64{1}, Held: []float64{0.2}, Energy: []float64{1}}),
		"falling energy":  follow(&Course{Time: []float64{1, 2}, Held: []float64{0.1, 0.1}, Energy: []float64{2, 1}}),
		"no time":         follow(&Course{Time: []float64{0}, Held: []float64{0.1}, Energy: []float64{0}}),
		"lid factor":      good.Rest(&State{300, 300}, &Account{}, 1, 0, room, 0.5),
	} {
		var out *process.RangeError
		if !errors.As(err, &out) {
			t.Errorf("%s: got %v, wanted a RangeError", name, err)
		}
	}
}

func runCourse(n int) *Course {
	c := &Course{Charge: make([]float64, n), Wall: make([]float64, n)}
	for k := 1; k <= n; k++ {
		c.Time, c.Held, c.Energy = append(c.Time, 10*float64(k)), append(c.Held, 0.1*math.Exp(-float64(k)/4)), append(c.Energy, 8e3*-math.Expm1(-float64(k)/4))
	}
	return c
}

func TestFollowAllocatesNothing(t *testing.T) {
	p := Pot{1500, 3, 0.8, 0.9, 1500, 0}
	c := runCourse(18)
	var a Account
	s := State{300, 300}
	if n := testing.AllocsPerRun(5, func() {
		s = State{300, 300}
		if _, err := p.Follow(&s, &a, 0.1, room, c); err != nil {
			t.Error(err)
		}
		if err := p.Rest(&s, &a, 60, 0, room, 2); err != nil {
			t.Error(err)
		}
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

// A run of 180 s seen at 18 places.
func BenchmarkFollow(b *testing.B) {
	p := Pot{1500, 3, 0.8, 0.9, 1500, 0}
	c := runCourse(18)
	var a Account
	b.ReportAllocs()
	for b.Loop() {
		s := State{300, 300}
		if _, err := p.Follow(&s, &a, 0.1, room, c); err != nil {
			b.Fatal(err)
		}
	}
}

// A charge far heavier than a layer gives the wall what a covered one takes; of a
// light one each gram gives as much as of any other light one, so that it keeps the
// time constant M c_p/K however little is left.
func TestALightChargeCoversLittleOfTheWall(t *testing.T) {
	t.Parallel()
	p := Pot{Wall: 1e6, Exchange: 10, ToCharge: 1, SpecificHeat: 1500, Layer: 0.06}
	for _, c := range []struct{ mass, constant float64 }{{10, 10 * 1500 / 10.0}, {6e-5, 0.06 * 1500 / 10}, {6e-4, 0.06 * 1500 / 10}} {
		s, span := State{room + 20, room}, Span{Time: 1, From: c.mass, To: c.mass, Room: room}
		if err := p.Step(&s, &Account{}, span); err != nil {
			t.Fatal(err)
		}
		if got := -1 / math.Log((s.Charge-room)/20); math.Abs(got/c.constant-1) > 0.01 {
			t.Errorf("%g kg cool with %g s, not %g", c.mass, got, c.constant)
		}
	}
}
