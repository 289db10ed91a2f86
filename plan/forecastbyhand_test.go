package plan

// Where a forecast is corrected, a search begins and ends, and a first charge lies: by hand, or the other way round.

import (
	"math"
	"slices"
	"testing"

	"hopperful/estimate"
	"hopperful/process/breakage"
	"hopperful/shop"
)

// What the models are off by changes what passes and stays of what is in the mill, and how far charge and wall rise by
// themselves: at the time looked at, and in a settled campaign at all of them, of what each charge meets.
func TestHowTheModelsErrorIsPutIn(t *testing.T) {
	t.Parallel()
	b := pressed(t, func(*shop.Mill, *Request) {}).bench
	// Read charges rose 1.5 times as far, which a draw has only in part, in part at this setting too, or here anyway.
	for i, has := range b.offAt(b.off, b.levels[11], 0.1, 100, nil).Charge {
		b.rises[i], b.told[i] = 1.5, has*[]float64{2, 1.2, 0.9}[i%3]
	}
	fresh := func() *cell {
		c := &cell{d: b.levels[11], mass: 0.1, at: []float64{40, 100}}
		for range b.rows {
			one := view{held: []float64{0.06, 0.03}, passed: []float64{0.04, 0.065}, heat: []warmth{{chargeOwn: 10, wallOwn: 4}, {chargeOwn: 20, chargeByWall: 0.5, wallOwn: 8}}}
			c.chain = append(c.chain, []view{one.own(), one.own()})
		}
		return c
	}
	c := fresh()
	products := func(passed float64) []float64 {
		all := make([]float64, len(b.rows))
		for i, r := range b.rows {
			all[i] = passed * (1 - r[estimate.Dust])
		}
		return all
	}
	b.misjudge(c, 0, b.off)
	b.misjudge(c, 1, b.off)
	f := b.offIn(b.off, c.d, 0.1, 100, products(0.065))
	plain := b.offAt(b.off, c.d, 0.1, 100, products(0.065))
	moved := 0.0
	for i := range b.rows {
		v := c.chain[i][0]
		passed, held := split(0.065, 0.03, 0.095, f.Product[i], f.Left[i])
		near(t, "passed", v.passed[1], passed)
		near(t, "held", v.held[1], held)
		near(t, "the charge's rise", v.heat[1].chargeOwn, 20*f.Charge[i])
		near(t, "the wall's", v.heat[1].wallOwn, 8*f.Heat[i])
		near(t, "what the wall does to it", v.heat[1].chargeByWall, 0.5)
		near(t, "as far as read ones did, heard once", f.Charge[i], plain.Charge[i]*[]float64{1.5, 1.2, 1}[i%3])
		near(t, "the later time", c.offBy(1, i, ofProduct), f.Product[i])
		moved = math.Max(moved, math.Abs(f.Product[i]-1))
	}
	// What was read cooler tells of what was run like it: half as far as forecasts reach by the root of it.
	b.practice = practice{deeds: []deed{{charge: 0.1 * math.Sqrt(farCharge), time: 100, level: b.levels[11].Level, plastic: b.plastic, read: true}}, levels: len(b.levels)}
	for i := range b.rises {
		b.rises[i] = 0.81
	}
	cooler := b.offIn(b.off, c.d, 0.1, 100, products(0.065))
	for i := range b.rows {
		near(t, "as far as cooler ones did", cooler.Charge[i], plain.Charge[i]*0.9)
	}
	if moved < 0.01 {
		t.Errorf("products are off by %g at the most: this tests nothing", moved)
	}
	f = cooler
	settled := fresh()
	b.misjudgeChain(settled)
	for i := range b.rows {
		one, next := settled.chain[i][0], settled.chain[i][1]
		passed, held := split(0.065, 0.03, 0.1, f.Product[i], f.Left[i])
		near(t, "passed of the first", one.passed[1], passed)
		near(t, "before that", one.passed[0], 0.04*passed/0.065)
		near(t, "held of the first", one.held[1], held)
		near(t, "held before that", one.held[0], 0.06)
		near(t, "its rise at first", one.heat[0].chargeOwn, 10*f.Charge[i])
		passed, held = split(0.065, 0.03, 0.1+held, f.Product[i], f.Left[i])
		near(t, "passed of the second", next.passed[1], passed)
		near(t, "held of the second", next.held[1], held)
		near(t, "the earlier time", settled.offBy(0, i, ofLeft), f.Left[i])
	}
	if len(settled.off) != 2 {
		t.Errorf("factors of %d times", len(settled.off))
	}
}

// At the share of the break rate at which the blade is due, the last charge on record takes half as long again for what
// passed; a run without a known draw is passed over, and where there is none breaking alone sets the time.
func TestWhenAChargeTakesHalfAsLongAgain(t *testing.T) {
	t.Parallel()
	j := pressed(t, func(*shop.Mill, *Request) {})
	log, fitted := *j.known.log, j.known.fitted
	due := func() float64 {
		share, err := slowShare(&log, fitted)
		if err != nil {
			t.Fatal(err)
		}
		return share
	}
	share, r := due(), log.runs[len(log.runs)-1]
	row := fitted.Beliefs(log.setup.Priors[r.Polymer], estimate.Target{Polymer: r.Polymer, Screen: r.Screen, Chapter: log.chapter, Since: log.since})
	medians := row.Medians()
	medians[estimate.PowerScale] = fitted.ScaleAt(log.setup.Priors[r.Polymer], r.Load).Median
	grid, err := breakage.NewGrid(r.Largest)
	if err != nil {
		t.Fatal(err)
	}
	sharp, err := passes(grid, medians, r, 120, 1)
	if err != nil {
		t.Fatal(err)
	}
	worn, err := passes(grid, medians, r, 180, share)
	if err != nil || math.Abs(worn-sharp) > 1e-4*sharp || !(share > 0.4 && share < 1) || !(sharp > 0.01 && sharp < r.Charge+0.1) {
		t.Errorf("at %g of the rate %g kg pass in 180 s, %g in 120 s of a sharp blade, %v", share, worn, sharp, err)
	}
	log.runs = slices.Clone(log.runs)
	for i := range log.runs {
		log.runs[i].Charge = 0.05 + 0.01*float64(i)
	}
	log.runs[len(log.runs)-1].Load.Watts = 0
	unknown := due()
	if log.runs = log.runs[:len(log.runs)-1]; due() != unknown {
		t.Error("a run without a known draw counts")
	}
	log.runs = log.runs[:1]
	first := due()
	log.runs = append(log.runs[:1:1], estimate.Run{}, estimate.Run{})
	near(t, "the first of three", due(), first)
	log.runs = log.runs[1:]
	near(t, "no draw is known", due(), 1/1.5)
	log.runs = nil
	near(t, "nobody ran it", due(), 1/1.5)
	// The latest record is the one that moved a plan, wherever it stands.
	j.known.log.runs = slices.Clone(j.known.log.runs)
	want := j.known.log.runs[len(j.known.log.runs)-1].Record
	slices.Reverse(j.known.log.runs)
	if m, err := j.moved(nil); err != nil || m == nil || m.Record != want {
		t.Errorf("%+v, %v", m, err)
	}
	j.known.log.runs = j.known.log.runs[:1]
	if m, err := j.moved(nil); err != nil || m != nil {
		t.Errorf("of one record %+v", m)
	}
}

// The cheapest of two is found below a ceiling, and nothing that is not done in time; of six masses the best of four
// are settled and two that come second.
func TestTheBestOfTheOpenings(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	b := j.bench
	b.bounds.motor, b.wanted = 500, []float64{0.19, 0.19, 0.19}
	at := func(c *cell, away float64) campaign {
		x := one
		x.cell, x.away, x.turned = c, away, 1
		return x
	}
	all := []campaign{at(one.cell, 0.2), at(one.cell, 0.3), at(one.cell, 0.4)}
	cost := func(away float64) float64 { return (420 + 60*3*1.15) * (1 + 0.6*away) } // three of 100 s, a minute between
	for i, c := range []struct {
		n       int
		ceiling float64
		want    int
	}{{1, math.Inf(1), 1}, {2, math.Inf(1), 2}, {9, math.Inf(1), 3}, {9, cost(0.3) - 1, 1}, {9, cost(0.3) + 1, 2}, {9, cost(0.2) - 1, 0}} {
		got := b.best(all, c.n, c.ceiling)
		if len(got) != c.want {
			t.Errorf("case %d: %d found", i, len(got))
		}
		for k := range got {
			near(t, "away", got[k].away, all[k].away)
			near(t, "its cost", got[k].cost(), cost(all[k].away))
		}
	}
	for within, n := range map[float64]int{420: 1, 419: 0} {
		b.within = within
		if got := b.best(all, 1, math.Inf(1)); len(got) != n {
			t.Errorf("in %g s: %d found", within, len(got))
		}
	}
	b.within = 5000
	var openings []campaign
	for k := range 6 {
		c := *one.cell
		c.mass = 0.1 - 0.001*float64(k)
		openings = append(openings, at(&c, 0.2+0.01*float64(k)), at(&c, 0.5+0.01*float64(k)), at(&c, 0.8))
	}
	slices.SortStableFunc(openings, cheaper)
	got := b.contenders(openings)
	if len(got) != 6 {
		t.Fatalf("%d are settled", len(got))
	}
	for k, want := range []float64{0.2, 0.21, 0.22, 0.23, 0.5, 0.51} {
		near(t, "how far away", got[k].away, want)
	}
	// What is as it was done is weighed besides, unless it is among them.
	c := *one.cell
	c.mass = 0.07
	for away, n := range map[float64]int{0.101: 6, 0.099: 7} {
		dear := at(&c, away)
		dear.piles = 2 // 3.4 times as dear
		if got = b.contenders(append(slices.Clone(openings), dear)); len(got) != n {
			t.Errorf("%g from what was done: %d are settled", away, len(got))
		}
	}
	// As loud as it is for three days at the most, by the rule for a day of eight hours: 10·lg 3 more.
	one.charges, one.cell.at = 200, []float64{40, 3600}
	near(t, "three days' noise", b.exposure(b.rows[0], one), 95+10*math.Log10(3))
	one.charges = 0
	near(t, "no time", b.exposure(b.rows[0], one), 95)
	one.cell.at, one.pause = []float64{0, 0}, 0
	near(t, "a cycle without time", b.motorLoad(b.rows[0], one, 0), math.Inf(1))
}

// A first charge is 40, 32, 25, 20 or 15 kg in a cubic metre of chamber, at half of the levels and one or two steps of 8 %
// below; after a stall it is six tenths of what stalled and four, three and two fifths less, for half of the usual time and less.
func TestWhereAFirstChargeLies(t *testing.T) {
	t.Parallel()
	b := pressed(t, func(*shop.Mill, *Request) {}).bench
	usual, lies := b.practice, b.still
	b.still = nil
	b.practice = practice{levels: 20, most: math.Inf(1), mass: math.Inf(1)}
	check := func(cells []*cell, err error, levels []int, masses, at []float64) {
		t.Helper()
		if err != nil || len(cells) != len(levels)*len(masses) {
			t.Fatalf("%d charges, %v", len(cells), err)
		}
		for i, c := range cells {
			near(t, "a charge", c.mass, masses[i%len(masses)])
			if c.d.Level != levels[i/len(masses)] || !slices.Equal(c.at, at) {
				t.Errorf("charge %d: level %d for %v s", i, c.d.Level, c.at)
			}
		}
	}
	cells, err := b.modest()
	check(cells, err, []int{10, 8, 6}, []float64{0.04, 0.03, 0.025, 0.02, 0.015}, []float64{30, 45, 60}) // in steps of 5 g
	b.practice.mass = 0.0255
	cells, err = b.modest()
	check(cells, err, []int{10, 8, 6}, []float64{0.025, 0.02, 0.015}, []float64{30, 45, 60})
	b.practice.mass = math.Inf(1)
	stall := deed{met: 0.1, level: 12, time: 5}
	b.practice.jammed = jammed{open: []deed{stall}, went: true}
	cells, err = b.careful()
	check(cells, err, []int{12, 13, 14}, []float64{0.06, 0.045, 0.035, 0.02}, []float64{30})
	b.practice.deeds = []deed{done(0.1, 100, 12), done(0.1, 140, 12), done(0.1, 200, 12)}
	for time, at := range map[float64][]float64{5: {40, 70}, 100: {40, 50}, 31: {30}, 29: {40, 70}} {
		b.practice.jammed.open[0].time = time
		cells, err = b.careful()
		check(cells, err, []int{12, 13, 14}, []float64{0.06, 0.045, 0.035, 0.02}, at)
	}
	b.practice.deeds[0].time = 20 // who ran it for less than half a minute may again
	b.practice.jammed.open[0].time = 21
	cells, err = b.careful()
	check(cells, err, []int{12, 13, 14}, []float64{0.06, 0.045, 0.035, 0.02}, []float64{20})
	b.still = &still{inside: slices.Repeat([]float64{0.0095}, len(b.rows))} // 9.5 g before the rotor count
	cells, err = b.careful()
	check(cells, err, []int{12, 13, 14}, []float64{0.05, 0.04, 0.03, 0.02}, []float64{20})
	b.practice, b.still = usual, lies
	if cells, err = b.gentler(); err != nil || len(cells) == 0 {
		t.Fatalf("%d charges, %v", len(cells), err)
	}
	// Charges of 83 to 86 g, from 1.3·1.3 times less on and no larger; two minutes, from 1.5 times less on.
	least, most, first, last := math.Inf(1), 0.0, math.Inf(1), 0.0
	for _, c := range cells {
		least, most, first, last = math.Min(least, c.mass), math.Max(most, c.mass), math.Min(first, c.at[0]), math.Max(last, c.at[len(c.at)-1])
	}
	near(t, "the least", least, 0.05) // 83/1.69 = 49.1
	near(t, "the most", most, 0.085)
	near(t, "the shortest", first, 80)
	near(t, "the longest", last, 120)
}

// A reading of a charge lengthens no rest where its wall need not be waited for: seven tenths of a rest are worth it.
func TestWhatAProbeGains(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	j.bench.bounds.motor, j.bench.wanted = 500, []float64{0.19, 0.19, 0.19}
	j.bench.practice.read.charge = 3
	for rest, gains := range map[float64]bool{86: true, 85: false, 60: false} { // 60/0.7 = 85.7
		if one.rest = rest; (j.probe(one).Code == "plan.probe_gains") != gains {
			t.Errorf("a rest of %g s: %q", rest, j.probe(one).Code)
		}
	}
	one.rest = 86
	s := j.probe(one)
	below, _ := s.Fact("below")
	rest, _ := s.Fact("rest")
	near(t, "read below", below.Value, 330)
	near(t, "then the rest", rest.Value, 60)
	if one.charges = 1; !j.probe(one).Empty() {
		t.Error("one charge has no rest")
	}
}
