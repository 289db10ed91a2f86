package trace

// Energy, levels, stalls and fits with their sums written out, and against the library gonum.

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if got != want && !(math.Abs(got-want) <= within*math.Abs(want)) {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

// Energy by trapezia: 100 to 300 W over 10 s are 2 kJ; where 20 s went by, no more than 10 may, the most that was seen or is known
// counts as the upper end, nothing as the lower.
func TestEnergyByHand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ known, most float64 }{{0, 300}, {500, 500}, {250, 300}} {
		j, err := Energy([]Reading{{0, 100}, {10, 300}, {30, 200}}, 10, c.known)
		if err != nil {
			t.Fatal(err)
		}
		if want := (Joules{Mid: 7000, Low: 2000, High: 2000 + 20*c.most, Unseen: 20}); j != want {
			t.Errorf("at most %g W: %+v, wanted %+v", c.known, j, want)
		}
	}
	var j Joules
	j.edge(Reading{0, 0}, Reading{4, 200}, 5)
	j.edge(Reading{0, 100}, Reading{6, 50}, 5)
	if want := (Joules{Mid: 400 + 450, High: 800 + 600, Unseen: 6}); j != want {
		t.Errorf("edges %+v, wanted %+v", j, want)
	}
	a := &active{}
	got := a.net(50, Run{Start: Moment{At: 10, Doubt: 2}, Stop: Moment{At: 40, Doubt: 3}, Energy: Joules{Mid: 6000, Low: 5000, High: 8000, Unseen: 4}})
	if want := (Joules{Mid: 6000 - 1500, Low: 5000 - 50*35, High: 8000 - 50*21, Unseen: 4}); got != want {
		t.Errorf("net %+v, wanted %+v", got, want)
	}
	if got := a.net(500, Run{Stop: Moment{At: 40}, Energy: Joules{Mid: 6000, Low: 5000, High: 8000}}); got != (Joules{}) {
		t.Errorf("less than idling: %+v", got)
	}
}

// What was read lately: no longer ago than the span, its middle, and whether half of the span is covered.
func TestRecentByHand(t *testing.T) {
	t.Parallel()
	w := recent{span: 30}
	if w.full() || w.median() != 0 {
		t.Error("nothing is full")
	}
	for _, r := range []Reading{{0, 5}, {12, 1}, {14.9, 3}} {
		if w.add(r); w.full() {
			t.Errorf("full with %v", w.all)
		}
	}
	if w.add(Reading{15, 9}); !w.full() || w.median() != 4 {
		t.Errorf("full %t, middle %g of %v", w.full(), w.median(), w.all)
	}
	if w.add(Reading{30, 7}); len(w.all) != 4 || w.all[0].At != 12 || w.median() != 5 { // what lies a whole span back is gone
		t.Errorf("%v", w.all)
	}
	for span, want := range map[float64]bool{19.9: true, 20.1: false} { // one reading covers a span as short as readings may lie apart
		one := recent{span: span}
		if one.add(Reading{}); one.full() != want {
			t.Errorf("one reading of %g s: full %t", span, one.full())
		}
	}
	for _, c := range []struct {
		all  []float64
		want float64
	}{{nil, 0}, {[]float64{3}, 3}, {[]float64{9, 1, 4}, 4}, {[]float64{8, 2, 6, 1}, 4}} {
		if got := median(c.all); got != c.want {
			t.Errorf("the middle of %v is %g", c.all, got)
		}
	}
	all := []Reading{{0, 3}, {1, 5}, {2, 4}, {3, 9}}
	near(t, "spread", spread(all), stat.StdDev([]float64{3, 5, 4, 9}, nil), 1e-12)
	if spread(all[:1]) != 0 {
		t.Error("one reading spreads")
	}
}

// A load pins a rotor that stays within a share of its mean for so long; of a long one the first and the latest are kept.
func TestPinnedByHand(t *testing.T) {
	t.Parallel()
	held := func(time, spread float64) []Reading {
		return []Reading{{0, 1000 * (1 - spread/2)}, {time / 2, 1000}, {time, 1000 * (1 + spread/2)}}
	}
	for _, c := range []struct {
		time, spread float64
		want         bool
	}{{stallFor, 0.99 * stallFlat, true}, {stallFor * 0.999, 0, false}, {stallFor, 1.01 * stallFlat, false}} {
		if got := pinned(held(c.time, c.spread)); got != c.want {
			t.Errorf("for %g s within %g: pinned %t", c.time, c.spread, got)
		}
	}
	if lasts([]Reading{{0, 1}}) {
		t.Error("one reading lasts")
	}
	var s stalling
	var all []Reading
	for i := range 100 {
		all = s.grow(all, Reading{At: float64(i)}, true)
	}
	if len(all) != mostPinned || all[0].At != 0 || all[1].At != 37 || all[63].At != 99 {
		t.Errorf("%d kept: %g, %g to %g", len(all), all[0].At, all[1].At, all[len(all)-1].At)
	}
	if got := s.grow(all, Reading{}, false); len(got) != 0 {
		t.Errorf("what ends keeps %d", len(got))
	}
}

// A line ahead by gonum's regression, its range by Student's distribution: s √(1 + 1/n + (t − t̄)²/Σ(t − t̄)²).
func TestAheadByRegression(t *testing.T) {
	t.Parallel()
	x, y := []float64{100, 107, 111, 120, 133, 140}, []float64{300, 303, 302, 309, 313, 312}
	var all []Reading
	for i := range x {
		all = append(all, Reading{x[i], y[i]})
	}
	a, b := stat.LinearRegression(x, y, nil, false)
	mean, tt, rest := stat.Mean(x, nil), 0.0, 0.0
	for i := range x {
		tt, rest = tt+math.Pow(x[i]-mean, 2), rest+math.Pow(y[i]-a-b*x[i], 2)
	}
	for _, at := range []float64{140, 170, 3740} {
		got, err := Ahead(all, at)
		if err != nil {
			t.Fatal(err)
		}
		wide := distuv.StudentsT{Sigma: 1, Nu: 4}.Quantile(0.9) * math.Sqrt(rest/4*(1+1.0/6+(at-mean)*(at-mean)/tt))
		near(t, "ahead", got.Mid, a+b*at, 1e-9)
		near(t, "low", got.Low, a+b*at-wide, 1e-9)
		near(t, "high", got.High, a+b*at+wide, 1e-9)
	}
	for at, ok := range map[float64]bool{139.9: false, 3740.1: false} {
		if _, err := Ahead(all, at); (err == nil) != ok {
			t.Errorf("at %g: %v", at, err)
		}
	}
	for n, ok := range map[int]bool{3: false, 4: true} {
		if _, err := Ahead(all[:n], 150); (err == nil) != ok {
			t.Errorf("%d readings: %v", n, err)
		}
	}
	for value, ok := range map[float64]bool{1e9: true, 1.01e9: false, -1e9: true, -1.01e9: false} {
		if _, err := Ahead(append(all[:5:5], Reading{140, value}), 150); (err == nil) != ok {
			t.Errorf("a value of %g: %v", value, err)
		}
	}
	if _, err := Ahead(append(all[:5:5], Reading{133, 300}), 150); err == nil {
		t.Error("two at one time are taken")
	}
}

// A cooling curve without noise is found again; with noise no other time leaves less, and its range is Student's of the slope by ln τ.
func TestCoolingByHand(t *testing.T) {
	t.Parallel()
	curve := func(tau, over, noise float64, n int, step float64) (all []Reading) {
		for i := range n {
			all = append(all, Reading{step * float64(i), 295 + over*math.Exp(-step*float64(i)/tau) + noise*float64(i%3-1)})
		}
		return all
	}
	for _, tau := range []float64{20, 600, 5000} {
		c, err := Cool(curve(tau, 30, 0, 20, tau/10), 295)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "time", c.Tau.Mid, tau, 1e-6)
		near(t, "from", c.From, 325, 1e-9)
		if c.Count != 20 || math.Abs(c.Time-1.9*tau) > 1e-9 || c.Room != 295 {
			t.Errorf("%+v", c)
		}
	}
	all := curve(600, 30, 0.2, 21, 60)
	all = all[1:] // the first is the hottest again: i%3 = 1
	for i := range all {
		all[i].At -= 60
	}
	c, err := Cool(all, 295)
	if err != nil {
		t.Fatal(err)
	}
	over, least := coolingMiss(all, 295, c.Tau.Mid)
	for _, by := range []float64{0.999, 1.001} {
		if _, miss := coolingMiss(all, 295, by*c.Tau.Mid); miss < least {
			t.Errorf("%g times as long leaves %g, not %g", by, miss, least)
		}
	}
	var ff, fg, gg float64
	for _, r := range all {
		f := math.Exp(-r.At / c.Tau.Mid)
		g := over * f * r.At / c.Tau.Mid
		ff, fg, gg = ff+f*f, fg+f*g, gg+g*g
	}
	near(t, "miss", c.Miss, math.Sqrt(least/float64(c.Count-2)), 1e-9)
	wide := distuv.StudentsT{Sigma: 1, Nu: float64(c.Count - 2)}.Quantile(0.9) * c.Miss * math.Sqrt(ff/(ff*gg-fg*fg))
	near(t, "low", c.Tau.Low, c.Tau.Mid*math.Exp(-wide), 1e-9)
	near(t, "high", c.Tau.High, c.Tau.Mid*math.Exp(wide), 1e-9)
	for name, k := range map[string]struct {
		all  []Reading
		room float64
		ok   bool
	}{
		"eight": {curve(600, 30, 0, 8, 60), 295, true}, "seven": {curve(600, 30, 0, 7, 60), 295, false}, "a fall of 2.1 K": {curve(600, 3.1, 0, 20, 60), 295, true}, "of 1.9 K": {curve(600, 2.2, 0, 20, 60), 295, false},
		"a third of its time": {curve(600, 30, 0, 32, 6), 295, true}, "a quarter": {curve(600, 30, 0, 26, 6), 295, false}, "quick": {curve(10.5, 30, 0, 20, 1), 295, true}, "too quick": {curve(9.5, 30, 0, 20, 1), 295, false},
		"slow": {curve(9.5e4, 30, 0, 20, 5e3), 295, true}, "too slow": {curve(1.05e5, 30, 0, 20, 5e3), 295, false}, "a cold room": {curve(600, 30, 0, 20, 60), 233.1, false}, "a hot one": {curve(600, 30, 0, 20, 60), 600.1, false},
	} {
		if _, err := Cool(k.all, k.room); (err == nil) != k.ok {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Breaking ends where the middle falls below so many times idling after a load that lasted; it goes on where it rises again.
func TestEndingByHand(t *testing.T) {
	t.Parallel()
	e := ending{idle: 100, from: 5, recent: recent{span: window}}
	var said []string
	at := 0.0
	for _, part := range []struct{ watts, seconds float64 }{{100*ended + 1, 5 + window + loadedFor + 2}, {100*ended - 1, window + 3}, {100*resumed - 1, window + 3}, {100*resumed + 1, window + 3}} {
		for end := at + part.seconds; at < end; at++ {
			switch over, again := e.add(Reading{at, part.watts}); {
			case over:
				said = append(said, "over")
			case again:
				said = append(said, "again")
			}
		}
	}
	if len(said) != 2 || said[0] != "over" || said[1] != "again" {
		t.Errorf("told %v", said)
	}
	short := ending{idle: 100, recent: recent{span: window}}
	for at := 0.0; at < window/2+loadedFor-1; at++ {
		short.add(Reading{at, 500})
	}
	if short.loaded {
		t.Error("a short load counts")
	}
}
