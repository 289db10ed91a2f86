package trace_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"hopperful/process/heat"
	"hopperful/process/trace"
)

// The range of the cooling time holds the truth in about eight of ten, and the pot of
// process/heat, which has no charge in it, cools with the time that its own constants give.
func TestCoolingOfThePot(t *testing.T) {
	t.Parallel()
	pot := heat.Pot{Wall: 1500, Exchange: 2, Loss: 2, SpecificHeat: 1800}
	const room = 295.0
	inside := 0
	for seed := range uint64(200) {
		chance := rand.New(rand.NewPCG(seed, 3))
		s := heat.State{Wall: 320, Charge: 320}
		var all []trace.Reading
		for i := range 60 {
			all = append(all, trace.Reading{At: float64(15 * i), Value: s.Wall + 0.2*chance.NormFloat64()})
			if err := pot.Step(&s, &heat.Account{}, heat.Span{Time: 15, Room: room}); err != nil {
				t.Fatal(err)
			}
		}
		c, err := trace.Cool(all, room)
		if err != nil {
			t.Fatal(err)
		}
		if c.Tau.Low <= 750 && 750 <= c.Tau.High {
			inside++
		}
		if math.Abs(c.Tau.Mid/750-1) > 0.1 {
			t.Errorf("seed %d: %.0f s, the pot has 750 s", seed, c.Tau.Mid)
		}
	}
	if inside < 140 || inside > 180 {
		t.Errorf("the 10–90 %% range holds the truth in %d of 200; 160 are meant", inside)
	}
}

// The middle of Ahead is the line of gonum's regression.
func TestAheadIsTheLine(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 30).Draw(t, "n")
		var all []trace.Reading
		var x, y []float64
		at := 0.0
		for range n {
			at += rapid.Float64Range(0.5, 20).Draw(t, "gap")
			v := rapid.Float64Range(250, 400).Draw(t, "value")
			all, x, y = append(all, trace.Reading{At: at, Value: v}), append(x, at), append(y, v)
		}
		alpha, beta := stat.LinearRegression(x, y, nil, false)
		b, err := trace.Ahead(all, at+30)
		if err != nil || math.Abs(b.Mid-alpha-beta*(at+30)) > 1e-6*(1+math.Abs(b.Mid)) || b.Low > b.Mid || b.High < b.Mid {
			t.Fatalf("%+v, gonum %g (%v)", b, alpha+beta*(at+30), err)
		}
	})
}

// Nothing that can be a float64 panics or gives a NaN.
func TestHostileReadings(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var all []trace.Reading
		for range rapid.IntRange(0, 40).Draw(t, "n") {
			all = append(all, trace.Reading{At: rapid.Float64().Draw(t, "at"), Value: rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 500)).Draw(t, "p")})
		}
		f, err := trace.NewFollower(trace.Known{})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range all {
			_, _ = f.Add(r)
			f.Tick(r.At)
		}
		for _, e := range f.Close() {
			if e.Run != nil && (math.IsNaN(e.Run.Energy.Mid) || e.Run.Time() < 0) {
				t.Fatalf("%+v", e.Run)
			}
		}
		_, _ = trace.Runs(all, trace.Known{Idle: 100})
		_, _ = trace.Energy(all, 60, 0)
		if c, err := trace.Cool(all, 295); err == nil && math.IsNaN(c.Tau.Mid) {
			t.Fatal("NaN")
		}
		if b, err := trace.Ahead(all, 1e6); err == nil && math.IsNaN(b.Mid) {
			t.Fatal("NaN")
		}
	})
}
