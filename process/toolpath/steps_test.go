package toolpath

// Steps of the reading by hand: corners and speeds, arcs, tables, the extruder, what files say of themselves.

import (
	"math"
	"testing"
)

func nearly(t *testing.T, what string, got, want float64) {
	t.Helper()
	if got != want && !(math.Abs(got-want) <= 1e-9*math.Max(math.Abs(want), 1e-12)) {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

// At a corner the velocity may jump by 0.01 m/s: straight on the slower of two speeds stays, at a right angle 0.01/√2, back half
// of it; after a stop nothing.
func TestCornersByHand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ x, y, speed, want float64 }{{1, 0, 0.05, 0.05}, {2, 0, 0.02, 0.02}, {0, 3, 0.05, 0.01 / math.Sqrt2}, {-1, 0, 0.05, 0.005}, {1, 1, 0.05, 0.01 / (2 * math.Sin(math.Pi/8))}, {0, 1, 0.001, 0.001}} {
		k := corner{jump2: 1e-4}
		length := math.Hypot(c.x, c.y)
		if v := k.into(&leg{length: length, speed: c.speed}, c.x, c.y, 0); v != 0 {
			t.Errorf("from rest %g", v)
		}
		k.out(&leg{length: 2, speed: 0.05}, 2, 0, 0)
		nearly(t, "speed into a corner", math.Sqrt(k.into(&leg{length: length, speed: c.speed}, c.x, c.y, 0)), c.want)
	}
}

// Legs by hand, at 1 m/s²: from rest to rest 0.1 m at 0.1 m/s take 1.1 s; 2.5 mm never reach it: 2 √0.0025 s; two in a row that
// keep their speed take as one; with 0.05 m/s between them each brakes to it.
func TestClockByHand(t *testing.T) {
	t.Parallel()
	time := func(legs ...leg) float64 {
		c := newClock(Options{MaxLayers: 4, Window: 1})
		for i := range legs {
			c.push(&legs[i])
		}
		c.stop()
		return c.table.total
	}
	one := func(length, corner float64) leg {
		return leg{length: length, speed: 0.1, accel: 1, corner2: corner * corner}
	}
	nearly(t, "one", time(one(0.1, 0)), 1.1)
	nearly(t, "a short one", time(one(0.0025, 0)), 2*math.Sqrt(0.0025))
	nearly(t, "two as one", time(one(0.04, 0), one(0.06, 0.1)), 1.1)
	// To 0.1 and down to 0.05: 0.1 s and 0.05 s, over 5 and 3.75 mm; the rest at 0.1 m/s; and the same back.
	nearly(t, "two that part", time(one(0.04, 0), one(0.06, 0.05)), 2*(0.1+0.05)+(0.04-0.00875)/0.1+(0.06-0.00875)/0.1)
	nearly(t, "two from rest", time(one(0.04, 0), one(0.06, 0)), 0.5+0.7)
	// Braking is planned over several short legs: 100 of 1 mm in a row are as 0.1 m.
	var many []leg
	for range 100 {
		many = append(many, one(0.001, 0.1))
	}
	nearly(t, "a hundred", time(many...), 1.1)
}

// Limits of single axes: 3, 4 and 12 of 13 parts of a way.
func TestHeldByHand(t *testing.T) {
	t.Parallel()
	var l limits
	l.start(5)
	g := leg{length: 13, speed: 1, accel: 2}
	l.hold(&g, &[3]float64{3, -4, 12})
	if g.speed != 1 || g.accel != 2 || l.print != 5 || l.travel != 5 {
		t.Errorf("without limits %+v", g)
	}
	l.speed, l.accel = [3]float64{0.3, 0.1, 0.6}, [3]float64{9, 9, 1.2}
	l.hold(&g, &[3]float64{3, -4, 12})
	nearly(t, "speed", g.speed, 0.1*13/4)
	nearly(t, "acceleration", g.accel, 1.2*13/12)
}

// A helix: half a turn of radius 3 and 4 up is 5π long in its own measure (3π, 4); its quarter turn is in the box. By radius the
// centre lies left of a way counter-clockwise, right of it clockwise, and the other way where more than half a turn is meant.
func TestArcsByHand(t *testing.T) {
	t.Parallel()
	c := curve{a: 0, b: 1, n: 2, from: [3]float64{3, 0, 1}, to: [3]float64{-3, 0, 5}, r0: 3, r1: 3, start: 0, sweep: math.Pi}
	p := c.path()
	nearly(t, "length", p.length, math.Hypot(3*math.Pi, 4))
	for i, want := range [3]float64{0, 3 * math.Pi, 4} {
		nearly(t, "first", p.first[i]+0, want)
	}
	if math.Abs(p.last[0]) > 1e-12 || math.Abs(p.last[1]+3*math.Pi) > 1e-9 || p.last[2] != 4 || !p.level {
		t.Errorf("last %v, level %t", p.last, p.level)
	}
	nearly(t, "reach along", p.reach[0], 3*math.Pi)
	nearly(t, "reach up", p.reach[2], 4)
	box := Box{Min: [3]float64{9, 9, 9}, Max: [3]float64{-9, -9, -9}}
	c.enlarge(&box)
	for i, want := range [3][2]float64{{-3, 3}, {0, 3}, {1, 5}} {
		if math.Abs(box.Min[i]-want[0]) > 1e-12 || math.Abs(box.Max[i]-want[1]) > 1e-12 {
			t.Errorf("axis %d from %g to %g, wanted %v", i, box.Min[i], box.Max[i], want)
		}
	}
	for _, k := range []struct {
		r         float64
		clockwise bool
		y         float64
	}{{5, false, 3}, {5, true, -3}, {-5, false, -3}, {-5, true, 3}, {4, false, 0}, {4 - 49e-6, true, 0}} {
		c := curve{a: 0, b: 1, n: 2, to: [3]float64{8, 0, 0}}
		if !c.byRadius(k.r, k.clockwise) || math.Abs(c.ca-4) > 1e-12 || math.Abs(c.cb-k.y) > 1e-9 {
			t.Errorf("radius %g: centre %g, %g, wanted 4, %g", k.r, c.ca, c.cb, k.y)
		}
	}
	for _, k := range []struct{ r, to float64 }{{4 - 51e-6, 8}, {0, 8}, {5, 0}} {
		c := curve{a: 0, b: 1, n: 2, to: [3]float64{k.to, 0, 0}}
		if c.byRadius(k.r, false) {
			t.Errorf("radius %g over %g is an arc", k.r, k.to)
		}
	}
}

// The extruder's books by hand: what is pulled back is owed, per tool; units change what a word is worth and keep the place.
func TestExtruderByHand(t *testing.T) {
	t.Parallel()
	m := newMachine(Options{Diameter: 2e-3, Feed: 0.01, MaxLayers: 5, Window: 1})
	area := math.Pi * 1e-6
	e := func(v float64) (float64, float64) {
		k := &block{has: hasE}
		k.v[slotE] = v
		return m.push(k)
	}
	for _, c := range []struct{ word, melt, way float64 }{{5, 5, 5}, {3, 0, -2}, {4, 0, 1}, {6, 1, 2}, {6, 0, 0}} {
		melt, way := e(c.word)
		nearly(t, "melt", melt, c.melt*area*1e-3)
		nearly(t, "way", way, c.way)
	}
	if m.count.Retractions != 1 {
		t.Errorf("%d retractions", m.count.Retractions)
	}
	m.ext.setRelative(true)
	m.ext.tools[0].flow = 0.5
	melt, _ := e(2)
	nearly(t, "at half the flow", melt, area*1e-3)
	nearly(t, "counter", m.ext.e, 8)
	m.ext.rescale(1e-3, inch)
	nearly(t, "counter in inches", m.ext.e, 8/25.4)
	nearly(t, "worth of an inch", m.ext.tools[0].perE, area*inch)
	m.ext.tools[0].volumetric = true
	m.ext.rescale(inch, 1e-3)
	nearly(t, "counter of volume", m.ext.e, 8/25.4*25.4*25.4*25.4)
	nearly(t, "worth of a cubic millimetre", m.ext.tools[0].perE, 1e-9)
	for _, c := range []struct{ relative, latched, want bool }{{true, false, true}, {false, false, false}, {false, true, true}, {true, true, true}} {
		m.ext.latched = c.latched
		if m.ext.followDistance(c.relative); m.ext.relative != c.want {
			t.Errorf("%+v is relative: %t", c, m.ext.relative)
		}
	}
	// Sixty cubic millimetres pulled before a change are loading after it.
	x := &extruder{}
	x.pulled(-50e-9)
	x.pulled(-9e-9)
	if x.swap(); x.load != 0 || x.pull != 0 {
		t.Errorf("59 mm³ are loaded: %g", x.load)
	}
	x.pulled(-70e-9)
	x.pulled(5e-9)
	x.swap()
	nearly(t, "to be loaded", x.load, 65e-9)
	nearly(t, "of 40, 10 owed", x.loading(40e-9, 30e-9), 30e-9)
	nearly(t, "of 40 more", x.loading(40e-9, 40e-9), 25e-9)
	nearly(t, "nothing left", x.loading(40e-9, 40e-9), 0)
	nearly(t, "back", x.loading(-1, 0), 0)
	x.pull, x.load = 1, 1
	if x.printed(); x.pull != 0 || x.load != 0 {
		t.Error("printing leaves something to load")
	}
}

// Tables merge in pairs when they are full, times and layers alike.
func TestTablesByHand(t *testing.T) {
	t.Parallel()
	tt := timeTable{most: 3}
	for i := range 5 {
		tt.add(i, float64(i+1))
		row := tt.row(i)
		row.peak = max(row.peak, float64(10-i))
	}
	tt.add(-1, 7)
	if len(tt.rows) != 3 || tt.shift != 1 || tt.rows[0] != (timeRow{3, 10}) || tt.rows[1] != (timeRow{7, 8}) || tt.rows[2] != (timeRow{5, 6}) || tt.total != 22 || tt.start.time != 7 {
		t.Errorf("%+v", tt)
	}
	for _, v := range []float64{2, 5, 5, 3} {
		tt.note(v, &leg{line: int64(10 * v), serial: int(v)})
	}
	if tt.peak != 5 || tt.peakLine != 50 || tt.peakSerial != 5 {
		t.Errorf("the peak is %g in line %d", tt.peak, tt.peakLine)
	}
	var l layers
	l.begin(2)
	for i, z := range []float64{0.2, 0.2 + 0.9e-6, 0.4, 0.3, 0.6, 0.8} {
		l.at(z, int64(i+1))
		l.row.Moves++
		l.row.Volume += 1
	}
	if len(l.rows) != 2 || l.shift != 2 || l.serial != 4 {
		t.Fatalf("%+v", l.rows)
	}
	if a, b := l.rows[0], l.rows[1]; a.Z != 0.2 || a.Top != 0.6 || a.Merged != 4 || a.Moves != 5 || a.Volume != 5 || a.Line != 1 || b.Z != 0.8 || b.Line != 6 || b.Merged != 1 {
		t.Errorf("%+v", l.rows)
	}
}

// What a file says is held against what it moves, by hand: a diameter from length and volume between 1 and 5 mm; volumes as said,
// by mass and density, by length and diameter; by a quarter apart is as good as alike.
func TestSaidByHand(t *testing.T) {
	t.Parallel()
	area := func(d float64) float64 { return math.Pi / 4 * d * d }
	for d, known := range map[float64]bool{0.99e-3: false, 1.01e-3: true, 4.99e-3: true, 5.01e-3: false} {
		st := Stated{Length: []float64{2, 1}, Volume: []float64{3 * area(d)}}
		got := st.diameters()
		if (len(got) == 1) != known {
			t.Errorf("%g m: %v", d, got)
		}
		if known {
			nearly(t, "diameter", got[0], d)
		}
	}
	if got := (Stated{Diameter: []float64{3e-3}, Length: []float64{1}, Volume: []float64{area(2e-3)}}).diameters(); got[0] != 3e-3 {
		t.Errorf("said %v", got)
	}
	for name, c := range map[string]struct {
		st    Stated
		d     []float64
		want  float64
		known bool
	}{
		"as volume":   {Stated{Volume: []float64{1e-6, 2e-6}, Mass: []float64{9}, Density: []float64{1000}}, nil, 3e-6, true},
		"as mass":     {Stated{Mass: []float64{1, 3}, Density: []float64{1000, 1500}}, nil, 1e-3 + 2e-3, true},
		"one for all": {Stated{Mass: []float64{1, 3}, Density: []float64{1000}}, nil, 4e-3, true},
		"as length":   {Stated{Length: []float64{2, 3}}, []float64{2e-3}, 5 * area(2e-3), true},
		"by tool":     {Stated{Length: []float64{2, 3}}, []float64{2e-3, 0, 1e-3}, 2*area(2e-3) + 3*area(1.75e-3), true},
		"no mass":     {Stated{Mass: []float64{1}}, nil, 0, false}, "no diameter": {Stated{Length: []float64{2}}, nil, 0, false}, "nothing": {Stated{}, []float64{2e-3}, 0, false},
	} {
		got, known := c.st.use(c.d, 1.75e-3)
		if known != c.known {
			t.Errorf("%s: known %t", name, known)
		}
		nearly(t, name, got, c.want)
	}
	for b, want := range map[float64]bool{1.249: false, 1.251: true, 0.801: false, 0.799: true} {
		if apart(1, b, sameUse) != want || near(1, b) == want {
			t.Errorf("1 and %g are apart: %t", b, !want)
		}
	}
	for tool, want := range []float64{3, 7, 4, 7} { // none said for the second and the fourth
		nearly(t, "of a tool", at([]float64{3, 0, 4}, tool, 7), want)
		nearly(t, "one for all", at([]float64{3e-3}, tool, 7), 3e-3)
	}
	nearly(t, "a zero for all", at([]float64{0}, 2, 7), 7)
	if sum([]float64{1, 2, 4}) != 7 {
		t.Error("sums")
	}
}

// However slow, a feed above nothing is one; at nothing and below, the last stays. Millimetres a minute, at one and a half times.
func TestSlowFeedsByHand(t *testing.T) {
	t.Parallel()
	for f, want := range map[float64]float64{0.001: 0.001, 0.5: 0.5, 1: 1, 1.5: 1.5, 6000: 6000, 0: 3000, -0.5: 3000, -3000: 3000} {
		m := newMachine(Options{Diameter: 2e-3, Feed: 0.05, MaxLayers: 5, Window: 1})
		m.feedFactor = 1.5
		k := block{has: hasF, line: 7}
		k.v[slotF] = 3000
		m.setFeed(&k)
		k.v[slotF] = f
		m.setFeed(&k)
		nearly(t, "feed", m.feed, 1.5*want/60e3)
		nearly(t, "feed word", m.feedWord, want/60e3)
		k.has, k.v[slotF] = hasE, 9
		m.setFeed(&k)
		nearly(t, "feed where none is told", m.feedWord, want/60e3)
	}
	for v, ok := range map[float64]bool{0: true, 1: true, mostTools - 1: true, mostTools: false, -1: false, 0.5: false} {
		if n, got := toolNumber(v); got != ok || ok && float64(n) != v {
			t.Errorf("tool %g: %d, %t", v, n, got)
		}
	}
	for c, ok := range map[float64]bool{0: false, 0.5: true, 999.9: true, 1000: false, -5: false} {
		for _, slot := range []int{slotS, slotR} {
			k := block{has: 1 << slot}
			k.v[slot] = c
			if got, told := temperature(&k); told != ok || got != c+273.15 {
				t.Errorf("%g °C: %g K, %t", c, got, told)
			}
		}
	}
	if _, told := temperature(&block{has: hasE}); told {
		t.Error("no word is a temperature")
	}
	m := newMachine(Options{})
	for s, ok := range map[float64]bool{1: true, 0.9: false, 1000: true, 1001: false, 100: true} {
		k := block{has: hasS}
		k.v[slotS] = s
		if f, got := m.factor(&k); got != ok || ok && f != s/100 {
			t.Errorf("a factor of %g %%: %g, %t", s, f, got)
		}
	}
}
