package plan

// What runs on record tell, and how long it is remembered, by hand.

import (
	"crypto/sha256"
	"math"
	"slices"
	"testing"
	"time"

	"hopperful/estimate"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// The runs of a sitting follow each other by less than six hours, and none was written down sooner than the next
// can have run.
func TestTheRunsOfASitting(t *testing.T) {
	t.Parallel()
	at := shoptest.Noon
	log := func(ago ...time.Duration) *logbook {
		l := &logbook{times: map[int64]time.Time{}}
		for i, d := range ago {
			l.runs = append(l.runs, estimate.Run{Record: int64(i + 1), Time: 120})
			l.times[int64(i+1)] = at.Add(-d)
		}
		return l
	}
	h := time.Hour
	for i, c := range []struct {
		ago  []time.Duration
		want int
	}{
		{nil, 0}, {[]time.Duration{h}, 1}, {[]time.Duration{6*h - 1}, 1}, {[]time.Duration{6 * h}, 0}, {[]time.Duration{-1}, 0},
		{[]time.Duration{8 * h, 7 * h, h}, 1}, {[]time.Duration{7 * h, 2 * h, h}, 3}, {[]time.Duration{9 * h, 5 * h}, 2},
		{[]time.Duration{h + 119*time.Second, h}, 0}, {[]time.Duration{h + 120*time.Second, h}, 2},
		{[]time.Duration{20 * time.Second}, 1},
	} {
		if got := sittingOf(log(c.ago...), at); len(got) != c.want {
			t.Errorf("case %d: %d runs of the sitting, wanted %d", i, len(got), c.want)
		}
	}
	b := &bench{handling: 200}
	l := log(h, 50*time.Minute, 48*time.Minute)
	near(t, "before the first", b.restBetween(l, l.runs, 0), 0)
	near(t, "ten minutes less the run", b.restBetween(l, l.runs, 1), 480)
	near(t, "no less than it takes to fill it", b.restBetween(l, l.runs, 2), 200)
	l.runs[0].Rest = shoptest.P(33)
	near(t, "as noted", b.restBetween(l, l.runs, 0), 33)
	s := &still{wall: []float64{9, 9}}
	s.begin(&estimate.Run{Room: 290}, 293)
	near(t, "nobody read it", s.wall[1], 9)
	s.begin(&estimate.Run{Room: 290, WallAfter: shoptest.P(300)}, 293)
	near(t, "read", s.wall[1], 7)
	s.begin(&estimate.Run{Room: 290, WallAfter: shoptest.P(290)}, 293)
	near(t, "read colder than the room", s.wall[0], 0)
	// A twentieth of a usual charge is worth emptying the mill for.
	b.practice.deeds = []deed{done(0.1, 60, 0)}
	if _, there := b.emptied(); there || b.lying() != 0 {
		t.Error("nothing to empty")
	}
	for lies, worth := range map[float64]bool{0.0049: false, 0.0051: true} {
		b.still = &still{inside: []float64{0, lies, 1}}
		clean, there := b.emptied()
		if near(t, "what lies there", b.lying(), lies); there != worth || there && (clean.lying() != 0 || b.still.inside[2] != 1) {
			t.Errorf("%g kg worth emptying: %t", lies, there)
		}
	}
}

// Which past runs tell how warm charges became, and how long they had rested.
func TestPastRuns(t *testing.T) {
	t.Parallel()
	at, p := shoptest.Noon, shoptest.P
	run := func(change func(*estimate.Run)) estimate.Run {
		r := estimate.Run{Charge: 0.1, Time: 100, Room: 293, Polymer: "PLA", Load: estimate.Load{Watts: 300, Level: 5}, Intact: true}
		if change != nil {
			change(&r)
		}
		return r
	}
	var beliefs estimate.Beliefs
	beliefs[estimate.Softening].Median = 330
	b := &bench{mill: shop.Mill{Controller: &shop.Control{Levels: 6}}, beliefs: beliefs, bounds: usual}
	past := func(gaps []time.Duration, runs ...estimate.Run) ([]pastRun, []estimate.Run) {
		l := &logbook{times: map[int64]time.Time{}}
		end := at.Add(-24 * time.Hour)
		for i := len(runs) - 1; i >= 0; i-- {
			runs[i].Record, l.times[int64(i+1)] = int64(i+1), end
			if i > 0 {
				end = end.Add(-gaps[i-1])
			}
		}
		l.runs = runs
		return b.past(l, "PLA", at)
	}
	minute := time.Minute
	all, kinds := past([]time.Duration{10 * minute, 6 * time.Hour, 10 * minute, minute},
		run(nil), run(func(r *estimate.Run) { r.Charge = 0.105 }), run(func(r *estimate.Run) { r.Time, r.Polymer = 105, "PETG" }),
		run(func(r *estimate.Run) { r.Rest, r.Charge = p(33), 0.106 }), run(func(r *estimate.Run) { r.Time, r.Intact = 94, false }))
	if len(all) != 5 || len(kinds) != 3 {
		t.Fatalf("%d runs of %d kinds", len(all), len(kinds))
	}
	for k, want := range []struct {
		kind   int
		rested float64
		tells  bool
	}{{0, -1, true}, {0, 500, true}, {0, -1, false}, {1, 33, true}, {2, -1, false}} {
		if got := all[k]; got.kind != want.kind || got.rested != want.rested || got.tells != want.tells || got.cool {
			t.Errorf("run %d: kind %d, rested %g, tells %t", k, got.kind, got.rested, got.tells)
		}
	}
	if all, _ = past(make([]time.Duration, 2), run(func(r *estimate.Run) { r.Stalled = true }), run(func(r *estimate.Run) { r.Load.Watts = 0 }), run(func(r *estimate.Run) { r.Load.Level = 7 })); len(all) != 0 {
		t.Errorf("%d of stalled, unnoted and impossible runs count", len(all))
	}
	if all, _ = past(make([]time.Duration, 29), slices.Repeat([]estimate.Run{run(nil)}, 30)...); len(all) != mostDone || all[0].Record != 7 {
		t.Errorf("%d of thirty runs count", len(all))
	}
	// Ten kelvin below softening and half of it out.
	for i, c := range []struct {
		after, product *float64
		cool           bool
	}{{p(320), p(0.05), true}, {p(320.1), p(0.09), false}, {p(319), p(0.049), false}, {nil, p(0.09), false}, {p(319), nil, false}} {
		r := run(func(r *estimate.Run) { r.ChargeAfter, r.Product = c.after, c.product })
		if got := b.readCool(&r); got != c.cool {
			t.Errorf("case %d: read cool %t", i, got)
		}
	}
	// Alone at noon less an hour, a run is of the sitting and tells nothing yet, but what was read cool counts.
	l := &logbook{times: map[int64]time.Time{1: at.Add(-time.Hour)}, runs: []estimate.Run{run(func(r *estimate.Run) { r.Record, r.ChargeAfter, r.Product = 1, p(310), p(0.09) })}}
	if all, _ = b.past(l, "PLA", at); len(all) != 1 || all[0].tells || !all[0].cool {
		t.Errorf("%+v", all)
	}
}

// A wall 10 K over the room that is as much warmer inside as it seems adds 5 K to a charge of 20 K: read at 27 K it speaks for
// 1.4 times, as much as the books do for 1, at 2 K and 0.4 of error each: (6.25·1 + 6.25·1.4)/12.5 = 1.2.
func TestHowMuchWarmerTheWallIsInside(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	r := row(map[estimate.Param]float64{estimate.WallCapacity: 1000, estimate.WallLoss: 1, estimate.LidFactor: 1})
	b := &bench{rows: [][]float64{r}, plastic: "PLA"}
	heat := make([]warmth, doneTimes)
	for q := range heat {
		heat[q] = warmth{chargeOwn: 20, chargeByWall: 0.5, wallOwn: 8, wallByWall: 0.8}
	}
	views := []view{{held: []float64{0.05}, heat: heat}}
	one := []estimate.Factors{{Charge: []float64{1}, Heat: []float64{1}}}
	run := func(charge float64, before, after *float64) pastRun {
		return pastRun{Run: estimate.Run{Charge: 0.1, Room: 293, Polymer: "PLA", WallBefore: before, ChargeAfter: p(293 + charge), WallAfter: after}, rested: -1, tells: true}
	}
	for _, c := range []struct {
		runs []pastRun
		want float64
	}{
		{nil, 1}, {[]pastRun{run(27, p(303), nil)}, 1.2}, {[]pastRun{run(22, p(303), nil)}, 1}, {[]pastRun{run(80, p(303), nil)}, 3}, {[]pastRun{run(27, nil, nil)}, 1},
	} {
		near(t, "inside", b.innerFrom(0, c.runs, views, one), c.want)
	}
	// A wall that only lags, and has stood for three minutes, has e⁻¹ of that left: the reading speaks for 1.4 by (2.5/e)² only.
	b.lags = []float64{1}
	later, left := run(27, p(303), nil), math.Exp(-1)
	later.rested = 180
	near(t, "inside, after a rest", b.innerFrom(0, []pastRun{later}, views, one), (6.25+2.5*left*(3.5-2.5*(1-left)))/(6.25+2.5*left*2.5*left))
	b.lags = nil
	grains := []view{{held: []float64{0.0099}, heat: heat}}
	near(t, "a probe in the last grains", b.innerFrom(0, []pastRun{run(27, p(303), nil)}, grains, one), 1)
	near(t, "how late it was read", readLate([]pastRun{run(27, nil, nil)}, views), 0.5)
	near(t, "in the last grains", readLate([]pastRun{run(27, nil, nil)}, grains), 2*0.901)
	near(t, "of one left and one right", readLate([]pastRun{run(27, nil, nil), {Run: estimate.Run{Charge: 0.1}}}, views), 0.5)
	// The wall after 500 s: as read, else as the run before left it.
	next := run(27, nil, nil)
	next.rested = 1000 * math.Ln2
	var walls []float64
	b.walk(0, []pastRun{run(27, p(303), nil), next, run(27, nil, p(313)), next, run(27, nil, p(290)), next}, views, one, func(_ *pastRun, wall float64, _ []warmth) { walls = append(walls, wall) })
	for k, want := range []float64{10, 8, 0, 10, 0, 0} {
		near(t, "a wall", walls[k], want)
	}
	// Read at 24 K where 20 K are reckoned, less the 2 K a thermometer errs by: all rise 1.1 times as far.
	for i, c := range []struct {
		runs  []pastRun
		rises float64
		warm  []float64
	}{
		{[]pastRun{run(24, nil, nil)}, 1.1, []float64{315}},
		{[]pastRun{run(21, nil, nil)}, 1, []float64{313}},
		{[]pastRun{run(70, nil, nil)}, 2, []float64{333}},
		{[]pastRun{run(25, nil, nil), run(25, nil, nil)}, (50 - 2*math.Sqrt2) / 40, []float64{293 + 20*(50-2*math.Sqrt2)/40, 293 + 20*(50-2*math.Sqrt2)/40}},
		{[]pastRun{run(24, p(303), nil)}, 1, []float64{318}},
		// Cooler ones are believed from twice that on, 4 K: read at 10 K it is 0.7 times; what was done without harm stays as warm as it was.
		{[]pastRun{run(10, nil, nil)}, 0.7, []float64{313}},
		{[]pastRun{run(17, nil, nil)}, 1, []float64{313}},
		{[]pastRun{run(1, nil, nil)}, 0.5, []float64{313}},
		{[]pastRun{run(10, nil, nil), run(10, nil, nil)}, (20 + 4*math.Sqrt2) / 40, []float64{313, 313}},
	} {
		warm, rises, _ := b.warmed(0, c.runs, views, one)
		if near(t, "how far they rise", rises, c.rises); len(warm) != len(c.warm) {
			t.Fatalf("case %d: %v", i, warm)
		}
		for k := range warm {
			near(t, "how warm it was", warm[k], c.warm[k])
		}
	}
	if _, rises, _ := b.warmed(0, []pastRun{run(10, nil, nil)}, []view{{held: []float64{0.0099}, heat: heat}}, one); rises != 1 {
		t.Errorf("the last grains, read at 10 K, tell of %g times", rises)
	}
	// It tells of what was run so, less of what is half as far as forecasts reach, and nothing of what is as far or of another plastic.
	pr := practice{deeds: []deed{{charge: 0.1, time: 60, plastic: "PLA", read: true}, {charge: 0.3, time: 60, plastic: "PLA"}, {charge: 0.5, time: 60, plastic: "PETG", read: true}}}
	for charge, want := range map[float64]float64{0.1: 1, 0.1 * math.Sqrt(1.6): 0.5, 0.16: 0, 0.3: 0, 0.5: 0} {
		_, is := pr.readSo("PLA", charge, 60, 0)
		near(t, "how near a reading is", 1+is, 1+want)
	}
	// What the draw comes down by is not taken off twice: 20 K told and 10 K read are 8 K too much but for 2 K, of which 6 K are gone.
	cool := run(10, nil, nil)
	cool.cool = true
	if _, _, relief := b.warmed(0, []pastRun{cool}, views, one); len(relief) != 1 || math.Abs(relief[0]-2) > 1e-9 {
		t.Errorf("what is left to take off: %g", relief)
	}
	// How far upwards the models err where one was read, the most of it; of another plastic it says nothing.
	off, other := []estimate.Factors{{Charge: []float64{1.3}}, {Charge: []float64{1.6}}, {Charge: []float64{1.9}}}, run(24, nil, nil)
	next.ChargeAfter, next.kind, other.Polymer, other.kind = nil, 2, "PETG", 2
	second := run(24, nil, nil)
	second.kind = 1
	near(t, "where charges were read", b.offWhenRead(0, []pastRun{run(24, nil, nil), second, next, other}, off), 1.6)
	near(t, "where none was", b.offWhenRead(0, []pastRun{next, other}, off), 1)
	// Cold charges are no reading to hold a draw against.
	small := make([]warmth, doneTimes)
	for q := range small {
		small[q].chargeOwn = 2.9
	}
	if _, rises, _ := b.warmed(0, []pastRun{run(24, nil, nil)}, []view{{held: []float64{0.05}, heat: small}}, one); rises != 1 {
		t.Errorf("%g of a cold charge", rises)
	}
}

// What was done often allows half a kelvin more, or two as long as it stays 7 K below softening; where fewer than three
// began warm, four; a charge to be read as much as the warmest. What a draw has softened allows nothing.
func TestWhatWasDoneAllows(t *testing.T) {
	t.Parallel()
	b := &bench{rows: [][]float64{row(map[estimate.Param]float64{estimate.Softening: 330})}, bounds: usual}
	one := campaign{cell: &cell{at: []float64{60}, mass: 0.1}}
	for i, c := range []struct {
		done    [2]float64
		rowed   int
		trial   bool
		hottest float64
		allowed bool
	}{
		{[2]float64{}, 3, false, 320, true}, {[2]float64{}, 3, false, 320.1, false}, {[2]float64{}, 0, false, 321, false},
		{[2]float64{325, 320}, 3, false, 322, true}, {[2]float64{325, 320}, 3, false, 322.1, false},
		{[2]float64{325, 322}, 3, false, 323, true}, {[2]float64{325, 322}, 3, false, 323.1, false},
		{[2]float64{325, 325}, 3, false, 325.5, true}, {[2]float64{325, 325}, 3, false, 325.6, false},
		{[2]float64{325, 320}, 3, true, 325.5, true}, {[2]float64{325, 320}, 3, true, 325.6, false},
		{[2]float64{325, 320}, 2, false, 324, true}, {[2]float64{325, 320}, 2, false, 324.1, false},
		{[2]float64{360, 350}, 3, false, 330, true}, {[2]float64{360, 350}, 3, false, 330.1, false}, {[2]float64{360, 350}, 2, false, 330.1, false}, {[2]float64{360, 350}, 3, true, 330.1, false},
	} {
		b.done, b.rowed, one.trial = [][2]float64{c.done}, c.rowed, c.trial
		if got := b.allowed(0, one, c.hottest); got != c.allowed {
			t.Errorf("case %d: allowed %t", i, got)
		}
	}
	b.done = nil
	if b.allowed(0, one, 320.1) {
		t.Error("nothing was done, and it is allowed")
	}
}

// A run follows one that was not brushed out, long after where six hours went by and nobody knows that something lay there.
func TestWhatTheRunBeforeTells(t *testing.T) {
	t.Parallel()
	p, h := shoptest.P, time.Hour
	for i, c := range []struct {
		last          *shop.Ground
		since         time.Duration
		emptied, rest bool
		follows, long bool
		wall          bool
	}{
		{nil, h, false, true, false, false, false},
		{&shop.Ground{WallAfter: p(300)}, h, false, true, true, false, true},
		{&shop.Ground{WallAfter: p(300)}, h, false, false, true, false, false},
		{&shop.Ground{WallAfter: p(300)}, h, true, true, false, false, true},
		{&shop.Ground{WallAfter: p(300)}, 6*h - 1, false, true, true, false, true},
		{&shop.Ground{WallAfter: p(300)}, 6 * h, false, true, true, true, false},
		{&shop.Ground{}, -1, false, true, true, true, false},
		{&shop.Ground{Left: p(0.01)}, 7 * h, false, true, true, false, false},
		{&shop.Ground{Left: p(0)}, 7 * h, false, true, true, true, false},
		{&shop.Ground{Left: p(0), Swept: p(0.01)}, h, false, true, false, false, false},
	} {
		n := noted{emptied: c.emptied}
		if c.rest {
			n.Rest = p(60)
		}
		if n.after(c.last, c.since); n.Follows != c.follows || n.LongAfter != c.long || (n.WallStopped != nil) != c.wall {
			t.Errorf("case %d: follows %t, long after %t, wall %v", i, n.Follows, n.LongAfter, n.WallStopped)
		}
	}
	near(t, "50 g in a litre", usualRun(shop.Mill{Chamber: p(0.004)}).Charge, 0.2)
	if r := usualRun(shop.Mill{Controller: &shop.Control{Levels: 20}}); r.Time != 120 || r.Load.Level != 12 {
		t.Errorf("%+v", r)
	}
}

// The latest twelve fits are remembered, and the one asked for longest ago goes first.
func TestFitsAreRemembered(t *testing.T) {
	t.Parallel()
	key := func(i int) [sha256.Size]byte { return [sha256.Size]byte{byte(i)} }
	var m memory
	first, second := m.of(key(0)), m.of(key(1))
	for i := range 10 {
		m.of(key(i + 2))
	}
	if m.of(key(0)) != first { // is the latest asked for now
		t.Error("of twelve the first is forgotten")
	}
	if m.of(key(12)); m.of(key(0)) != first {
		t.Error("what was asked for lately is forgotten")
	}
	if m.of(key(1)) == second {
		t.Error("the thirteenth is remembered")
	}
	if len(m.keys) != 12 || len(m.by) != 12 {
		t.Errorf("%d keys of %d fits", len(m.keys), len(m.by))
	}
}
