package plan

// What was done in a mill, and how far a plan leaves it: each bound at both sides, sums by hand.

import (
	"math"
	"slices"
	"testing"
)

func done(charge, time float64, level int) deed {
	return deed{charge: charge, time: time, level: level, met: charge, out: -1}
}

// 100 g for 120 s and 200 g for 60 s reach from 100/1.3 to 200·1.3 g and from 60/1.5 to 120·1.5 s;
// a run of half a minute or less is its own lower end; one charge alone is the upper end itself.
func TestHowFarFromPracticeAPlanLooks(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		deeds        []deed
		charge, time [2]float64
	}{
		"two":         {[]deed{done(0.1, 120, 0), done(0.2, 60, 0)}, [2]float64{0.1 / 1.3, 0.26}, [2]float64{40, 180}},
		"one":         {[]deed{done(0.1, 120, 0)}, [2]float64{0.1 / 1.3, 0.1}, [2]float64{80, 120}},
		"36 s":        {[]deed{done(0.1, 36, 0), done(0.1, 60, 0)}, [2]float64{0.1 / 1.3, 0.13}, [2]float64{30, 90}},
		"20 s":        {[]deed{done(0.1, 20, 0), done(0.1, 60, 0)}, [2]float64{0.1 / 1.3, 0.13}, [2]float64{20, 90}},
		"in any turn": {[]deed{done(0.2, 60, 0), done(0.1, 120, 0)}, [2]float64{0.1 / 1.3, 0.26}, [2]float64{40, 180}},
	} {
		charge, time := (&practice{deeds: c.deeds}).spans()
		for k := range 2 {
			near(t, name+": charge", charge[k], c.charge[k])
			near(t, name+": time", time[k], c.time[k])
		}
	}
}

// Where little came out of 100 g in 100 s, nine tenths of that and more are ground for no less; a
// charge no more than a tenth larger of which half came out sooner speaks against it.
func TestLittleOutAsksForMoreTime(t *testing.T) {
	t.Parallel()
	with := func(d deed, out float64) deed { d.out = out; return d }
	poor := with(done(0.1, 100, 0), 0.049)
	for i, c := range []struct {
		deeds      []deed
		charge     float64
		times, may []float64
	}{
		{[]deed{poor}, 0.1, []float64{50, 98.9, 99.1, 120}, []float64{99.1, 120}},
		{[]deed{poor}, 0.0901, []float64{50, 120}, []float64{120}},
		{[]deed{poor}, 0.072, []float64{50, 79, 80, 120}, []float64{80, 120}},              // as long for its mass
		{[]deed{done(0.1, 100, 0)}, 0.1, []float64{50}, []float64{50}},                     // nobody weighed it
		{[]deed{with(done(0.1, 100, 0), 0)}, 0.1, []float64{50, 120, 126}, []float64{126}}, // the same again teaches nothing
		{[]deed{with(done(0.1, 100, 0), 0.051)}, 0.1, []float64{50}, []float64{50}},
		{[]deed{poor, with(done(0.1, 66, 0), 0.06)}, 0.1, []float64{59, 61, 98}, []float64{61, 98}},
		{[]deed{poor, with(done(0.1, 66, 0), 0.06)}, 0.1099, []float64{59, 61}, []float64{61}},
		{[]deed{poor, with(done(0.1, 66, 0), 0.06)}, 0.1101, []float64{59, 61}, nil},
	} {
		if got := (&practice{deeds: c.deeds}).soon(c.charge, c.times); !slices.Equal(got, c.may) && len(got)+len(c.may) > 0 {
			t.Errorf("case %d: %v, wanted %v", i, got, c.may)
		}
	}
}

// From 1 to 16 in five even ratios are 1, 2, 4, 8 and 16; what was run stands in the place of what
// is within six hundredths of it, and of many runs every so many are kept.
func TestValuesBetween(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		span [2]float64
		run  []float64
		n    int
		want []float64
	}{
		{[2]float64{1, 16}, nil, 5, []float64{1, 2, 4, 8, 16}},
		{[2]float64{1, 16}, []float64{2.1, 3.8}, 5, []float64{1, 2.1, 3.8, 8, 16}},
		{[2]float64{1, 16}, []float64{2.14, 3.7}, 5, []float64{1, 2, 2.14, 3.7, 4, 8, 16}},
		{[2]float64{1, 16}, []float64{5.25, 5}, 5, []float64{1, 2, 4, 5, 8, 16}},
		{[2]float64{1, 16}, []float64{5.35, 5}, 5, []float64{1, 2, 4, 5, 5.35, 8, 16}},
		{[2]float64{1, 7}, []float64{7, 6, 5, 4, 3, 2, 1}, 3, []float64{1, math.Sqrt(7), 4, 7}},
	} {
		got := between(c.span, c.run, c.n)
		if len(got) != len(c.want) {
			t.Errorf("case %d: %v, wanted %v", i, got, c.want)
			continue
		}
		for k := range got {
			near(t, "a value", got[k], c.want[k])
		}
	}
}

// A setting is as far as forecasts reach at 1.6 times the charge, 1.4 times the level or 2.5 times the
// time, whichever is furthest; the nearest deed counts. A level nobody noted is the usual one.
func TestHowFarASettingLies(t *testing.T) {
	t.Parallel()
	p := &practice{levels: 10, deeds: []deed{done(0.1, 100, 5)}}
	near(t, "the same", p.away(0.1, 100, 5), 0)
	near(t, "a charge", p.away(0.16, 100, 5), 1)
	near(t, "a smaller charge", p.away(0.0625, 100, 5), 1)
	near(t, "a level", p.away(0.1, 100, 7), 1)
	near(t, "a time", p.away(0.1, 250, 5), 1)
	near(t, "the furthest", p.away(0.16*1.6, 250, 7), 2)
	near(t, "the charge before, where none is", p.turned(0.16, 100, 5), 1)
	near(t, "an unnoted level", (&practice{levels: 10, deeds: []deed{done(0.1, 100, 0)}}).away(0.1, 100, 6), 0)
	near(t, "no controller", (&practice{deeds: []deed{done(0.1, 100, 0)}}).away(0.1, 100, 0), 0)
	near(t, "nobody ran it", (&practice{levels: 10}).away(0.1, 100, 6), math.Inf(1))
	p.deeds = append(p.deeds, done(0.16, 100, 5))
	near(t, "the nearer of two", p.away(0.16, 250, 5), 1)
	if d, ok := p.nearest(0.15, 100, 5); !ok || d.charge != 0.16 {
		t.Errorf("the nearest is %+v", d)
	}
	if d, ok := p.nearest(0.11, 100, 5); !ok || d.charge != 0.1 {
		t.Errorf("the nearest is %+v", d)
	}
	if _, ok := (&practice{}).nearest(0.1, 100, 0); ok {
		t.Error("of no deed one is the nearest")
	}
	p.before = &deed{charge: 0.25, time: 100, level: 5}
	near(t, "from the charge before", p.turned(0.4, 100, 5), 1)
}

// What was run at no lower a level, no less than a tenth shorter, of a charge within the root of 1.6.
func TestHowOftenASettingWasRun(t *testing.T) {
	t.Parallel()
	p := &practice{levels: 10, deeds: []deed{done(0.1, 100, 5), done(0.1, 100, 5), done(0.1, 100, 7)}}
	for i, c := range []struct {
		charge, time float64
		level, want  int
	}{{0.1, 100, 5, 3}, {0.1, 100, 6, 1}, {0.1, 100, 8, 0}, {0.1, 109, 5, 3}, {0.1, 111, 5, 0}, {0.126, 100, 5, 3}, {0.127, 100, 5, 0}, {0.0795, 100, 5, 3}, {0.0788, 100, 5, 0}} {
		if got := p.often(c.charge, c.time, c.level); got != c.want {
			t.Errorf("case %d: %d times, wanted %d", i, got, c.want)
		}
	}
}

// With pencil and paper: of 100, 200 and 300 g the middle is 200 g, of which four fifths are granulate;
// 0.5 kg take 4 such charges, each its 100 s and ten minutes. Where products were weighed, the middle of those.
func TestByPencil(t *testing.T) {
	t.Parallel()
	p := &practice{deeds: []deed{done(0.3, 100, 0), done(0.1, 60, 0), done(0.2, 200, 0)}}
	check := func(what string, wanted, least, charges float64) {
		t.Helper()
		n, total := p.byPencil(wanted, least)
		near(t, what, n, charges)
		near(t, what+": the time", total, charges*700)
	}
	near(t, "a usual charge", p.usualCharge(), 0.2)
	check("by charges", 0.5, 0.1, 4)
	check("no less than is worth it", 0.5, 0.25, 3)
	p.yields = []float64{0.2, 0.1, 0.12}
	check("by products", 0.5, 0.1, 5)
	check("by products, no less than is worth it", 0.5, 0.25, 3)
}

// A value beyond all others by its factor is a slip, where there are two others at least.
func TestWhatIsASlip(t *testing.T) {
	t.Parallel()
	charge := func(d deed) float64 { return d.charge }
	for i, c := range []struct {
		charges []float64
		kept    int
	}{{[]float64{1, 5}, 2}, {[]float64{1, 2, 5.01}, 2}, {[]float64{1, 2, 4.99}, 3}, {[]float64{2, 0.79, 3}, 2}, {[]float64{2, 0.81, 3}, 3}, {[]float64{0.3, 2, 2, 2, 6}, 3}, {nil, 0}} {
		var all []deed
		for _, v := range c.charges {
			all = append(all, done(v, 60, 0))
		}
		if got := withoutSlips(all, charge, 2.5); len(got) != c.kept {
			t.Errorf("case %d: %d kept, wanted %d", i, len(got), c.kept)
		}
	}
}

// A rotor's load: 100 g at level 5 of 20, a quarter of the scale, are 0.1/(1/4·1/2) = 0.8 kg; without a
// level the mass alone. What it took three times is the third hardest, of that plastic.
func TestLoadOnTheRotor(t *testing.T) {
	t.Parallel()
	p := &practice{levels: 20}
	near(t, "a quarter of the scale", p.press(0.1, 5), 0.8)
	near(t, "the whole", p.press(0.1, 20), 0.1)
	near(t, "not noted", p.press(0.1, 0), 0.1)
	near(t, "no controller", (&practice{}).press(0.1, 7), 0.1)
	one := func(charge float64, level int, plastic string) deed {
		d := done(charge, 60, level)
		d.plastic = plastic
		return d
	}
	p.deeds = []deed{one(0.1, 20, "PLA"), one(0.2, 20, "PLA"), one(0.9, 20, "PETG"), one(0.9, 0, "PLA")}
	near(t, "too seldom", p.oftenPress("PLA"), 0)
	p.deeds = append(p.deeds, one(0.3, 20, "PLA"), one(0.4, 20, "PLA"))
	near(t, "the third hardest", p.oftenPress("PLA"), 0.2)
	near(t, "of another plastic", p.oftenPress("PETG"), 0)
	near(t, "without levels", (&practice{deeds: []deed{one(0.1, 0, "PLA"), one(0.3, 0, "PLA"), one(0.2, 0, "PLA")}}).oftenPress("PLA"), 0.1)
	// Of deeds whose level nobody noted the mass alone binds.
	if press, mass := (&practice{levels: 20, deeds: []deed{done(0.1, 60, 0)}}).mostPress(); !math.IsInf(press, 1) || math.Abs(mass-0.13) > 1e-12 {
		t.Errorf("%g kg of load, %g kg", press, mass)
	}
	if press, mass := (&practice{levels: 20, deeds: []deed{done(0.1, 60, 5), done(0.2, 60, 20)}}).mostPress(); math.Abs(press-0.96) > 1e-12 || math.Abs(mass-0.26) > 1e-12 {
		t.Errorf("%g kg of load, %g kg", press, mass)
	}
	p.most, p.mass = 0.8, 0.15
	for i, c := range []struct {
		mass  float64
		level int
		bears bool
	}{{0.0999, 5, true}, {0.1001, 5, false}, {0.1499, 20, true}, {0.1501, 20, false}} {
		if p.bears(c.mass, c.level) != c.bears {
			t.Errorf("case %d: bears %t", i, !c.bears)
		}
	}
}

// Levels within eight hundredths of the scale of one that was run, one at the least, the nearest first;
// of the usual one, three fifths, where nobody noted any.
func TestWhichLevelsMayBeRun(t *testing.T) {
	t.Parallel()
	of := func(p *practice) (all []int) {
		var every []draw
		for level := 1; level <= p.levels; level++ {
			var d draw
			d.Level = level
			every = append(every, d)
		}
		for _, d := range p.allowedLevels(every) {
			all = append(all, d.Level)
		}
		return all
	}
	for i, c := range []struct {
		p    practice
		want []int
	}{
		{practice{levels: 20, deeds: []deed{done(0.1, 60, 10)}}, []int{10, 9, 11, 8, 12}},
		{practice{levels: 20, deeds: []deed{done(0.1, 60, 0), done(0.1, 60, 19)}}, []int{19, 18, 20, 17}},
		{practice{levels: 6, deeds: []deed{done(0.1, 60, 2), done(0.1, 60, 5)}}, []int{2, 5, 1, 3, 4, 6}},
		{practice{levels: 20}, []int{12, 11, 13, 10, 14}},
		{practice{levels: 2}, []int{1, 2}},
	} {
		if got := of(&c.p); !slices.Equal(got, c.want) {
			t.Errorf("case %d: %v, wanted %v", i, got, c.want)
		}
	}
	if all := (&practice{}).allowedLevels(make([]draw, 1)); len(all) != 1 {
		t.Errorf("a mill without a controller may be run at %d levels", len(all))
	}
}
