package plan

// How a campaign is chosen, rested, tried and judged: sums by hand, both sides of each bound.

import (
	"math"
	"slices"
	"testing"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/process/heat"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
	"hopperful/source"
)

// A single charge of 937 s costs 1000 with a person's minute and a twentieth. What is nearer to practice may cost 1120, or 1300
// as the charge before; what was done may cost 1900 while few runs are on record, in no more than twice the time.
func TestWhatIsTakenInsteadOfTheBest(t *testing.T) {
	t.Parallel()
	of := func(charges int, run, rest float64) campaign {
		return campaign{cell: &cell{mass: 0.1, at: []float64{run}}, charges: charges, rest: rest, shares: held{cool: 1}, away: 0}
	}
	few, many := make([]deed, 5), make([]deed, 6)
	for i := range many {
		many[i] = done(0.1, 100, 0)
	}
	copy(few, many)
	best, longBest := of(1, 937, 0), of(1, 1820, 0)
	far := func(c campaign, turned, away float64) campaign { c.turned, c.away = turned, away; return c }
	warm := func(c campaign, cool float64) campaign { c.shares.cool = cool; return c }
	before := &deed{}
	for i, c := range []struct {
		deeds   []deed
		before  *deed
		t, best campaign
		instead bool
	}{
		{many, nil, of(1, 1056, 0), best, true}, {many, nil, of(1, 1058, 0), best, false},
		{many, before, of(1, 1236, 0), best, true}, {many, before, of(1, 1238, 0), best, false}, {many, nil, of(1, 1236, 0), best, false},
		{many, before, far(of(1, 1236, 0), 0.099, 0), best, true}, {many, before, far(of(1, 1236, 0), 0.101, 0), best, false},
		{few, nil, of(1, 1836, 0), best, true}, {few, nil, of(1, 1838, 0), best, false}, {many, nil, of(1, 1836, 0), best, false},
		{few, nil, of(10, 254, 60), of(10, 100, 60), true}, {few, nil, of(10, 255, 60), of(10, 100, 60), false}, // twice the time
		{few, nil, of(3, 564, 0), best, true}, {few, nil, of(3, 565, 0), best, false}, // 1692 + 207 and 1695 + 207
		{few, nil, of(2, 100, 1199), longBest, true}, {few, nil, of(2, 100, 1201), longBest, false}, // nobody waits so long
		{few, nil, far(of(1, 1200, 0), 0, 0.099), best, true}, {few, nil, far(of(1, 1200, 0), 0, 0.101), best, false},
		{few, nil, warm(of(1, 1600, 0), 0.71), best, true}, {few, nil, warm(of(1, 1600, 0), 0.69), best, false},
		{few, nil, warm(of(1, 1600, 0), 0.49), warm(best, 0.5), true}, {few, nil, warm(of(1, 1600, 0), 0.47), warm(best, 0.5), false},
		{few, nil, of(14, 60, 60), of(10, 100, 60), false}, {few, nil, of(14, 60, 60), of(11, 100, 60), true}, {few, nil, of(13, 60, 60), of(10, 100, 60), true},
		{few, nil, of(12, 60, 60), of(9, 100, 60), true},
		{few, nil, of(33, 100, 60), of(33, 100, 60), false}, // out of all proportion to 13 charges by pencil
	} {
		b := &bench{practice: practice{deeds: c.deeds, before: c.before}, wanted: []float64{1}}
		if got := b.instead(c.t, c.best); got != c.instead {
			t.Errorf("case %d: costs %g beside %g, taken instead: %t", i, c.t.cost(), c.best.cost(), got)
		}
	}
	// Emptying costs three minutes, and what is thrown out the time it was ground for: half a charge of 937 s and a minute.
	j := &job{bench: &bench{still: &still{inside: []float64{0.05, 0.05}}}}
	near(t, "emptied first", j.emptying(best), 1000+180+0.5*997)
	near(t, "emptied first, with rests", j.emptying(of(2, 100, 300)), 2*100+300+132+180+0.5*460)
}

// A charge goes to 20 K and half of what the wall is over the room. With 21.5 K allowed the wall has to come to 3 K: by
// halves from 1 to 35.15 K 2.6 is found, at 22 °C 2.15 K. It then waits 1000·ln(7.53/2.15) and 1000·ln(9.15/2.15) s beyond
// its minute, 1411 s in the mean: 24 minutes.
func TestHowLongACampaignRests(t *testing.T) {
	t.Parallel()
	of := func(soft, within float64) (campaign, bool) {
		j, one := round(t)
		b := j.bench
		b.bounds.motor = 500
		b.wanted, b.within = []float64{0.19, 0.19, 0.19}, within
		for _, r := range b.rows {
			r[estimate.Softening] = soft
		}
		one.pause, one.rest = 60, 60
		return b.rested(one)
	}
	c, ok := of(340, 5000)
	if near(t, "no need to wait", c.rest, 60); !ok || !math.IsInf(c.below, 1) {
		t.Errorf("waits for %g K", c.below)
	}
	if c, ok = of(324.5, 9000); !ok {
		t.Fatal("no rest is enough")
	}
	near(t, "the wall", c.below, 2.15)
	decay := math.Exp(-0.06)
	mean := 60 + 500*math.Log(8*decay/2.15) + 500*math.Log((8+0.8*2.15)*decay/2.15)
	near(t, "the rest", c.rest, math.Ceil(mean/60)*60)
	near(t, "24 minutes", c.rest, 1440)
	near(t, "its pause", c.pause, 60)
	// 20.3 K are kept by no wall of 1 K: after p seconds 8 K are 8·e^(−p/1000), and the third charge finds 8.45 times that, to
	// be 0.6 K: 2645 s, told as 45 minutes.
	c, ok = of(323.3, 8000)
	near(t, "the pause", c.pause, 2700)
	if near(t, "the rest", c.rest, 2700); !ok {
		t.Error("an hour is enough")
	}
	if _, ok = of(323.3, 2*2600+300); ok {
		t.Error("there is no time for that")
	}
	if _, ok = of(322.9, 1e6); ok {
		t.Error("below what the charge does by itself")
	}
	// What cannot be helped by resting is said of each limit by itself.
	for want, change := range map[limits]func(*bench){
		0:                           func(*bench) {},
		limitOfNeed:                 func(b *bench) { b.wanted = []float64{0.2, 0.2, 0.2} },
		limitOfJar:                  func(b *bench) { b.bounds.jar = 0.27e-3 }, // a quarter of a litre is more than nine tenths of it
		limitOfNoise:                func(b *bench) { b.bounds.noise = 60 },
		limitOfMotor:                func(b *bench) { b.bounds.motor, b.within = 200, 100*3+2*200 }, // 330 W for a third of the time are 190
		limitOfController:           func(b *bench) { b.bounds.controller = 370 },                   // 0.8 of it are 296
		limitOfWall:                 func(b *bench) { b.bounds.touch = 300.9 },                      // 7.9 K
		limitOfCharge:               func(b *bench) { b.rows[0][estimate.Softening] = 322.9 },
		limitOfFill | limitOfClear:  func(b *bench) { b.still = &still{inside: []float64{0.2, 0, 0}}; b.practice.mass = 0.25 },
		limitOfWall | limitOfCharge: func(b *bench) { b.room += 100 },
	} {
		j, one := round(t)
		j.bench.wanted = []float64{0.19, 0.19, 0.19}
		one.pause = 60
		change(j.bench)
		if got := j.bench.breaks(one); got != want && !(want == limitOfFill|limitOfClear && got == limitOfFill) {
			t.Errorf("breaks %b, by hand %b", got, want)
		}
	}
}

// One charge to be read: its share to a twentieth, nine tenths at the most, and three quarters are enough where it was done.
// In a warm mill it waits 0, 5, 10, 20, 30, 45 or 60 minutes beyond filling: to be below 33.9 K takes 1000·ln(80/33.9) = 859 s from 80 K.
func TestOneChargeToBeRead(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	b := j.bench
	b.bounds.motor = 500 // that rests a minute only
	for i, c := range []struct {
		holds, share float64
		known        bool
	}{{1, 0.9, false}, {0.88, 0.9, false}, {0.87, 0.85, false}, {0.72, 0.7, false}, {0.76, 0.75, false}, {0.73, 0.9, true}, {0.72, 0.7, true}} {
		if b.practice.deeds = nil; c.known {
			b.practice.deeds = []deed{done(0.1, 100, 12)}
		}
		got, share := b.alone(one.cell, 1, cellLimits{fill: c.holds, controller: 1, borne: 1}, answer.SureShare)
		if math.Abs(share-c.share) > 1e-12 || got.pause != 60 || got.rest != 60 || got.charges != 1 || !got.trial {
			t.Errorf("case %d: %g after %g s", i, share, got.pause)
		}
	}
	well := cellLimits{fill: 1, controller: 1, borne: 1}
	for wall, want := range map[float64]float64{30: 60, 40: 360, 60: 660, 80: 1260, 150: 1860, 500: 2760, 1000: 3660, 5000: 60} {
		b.still = &still{wall: []float64{wall, wall, wall}, inside: make([]float64, 3)}
		if got, share := b.alone(one.cell, 1, well, answer.SureShare); got.pause != want || (share == answer.SureShare) != (wall < 5000) {
			t.Errorf("from %g K after %g s, by hand %g: %g", wall, got.pause, want, share)
		}
	}
	// Of three draws one is 80 K warm: where two will do nobody waits for it.
	b.still = &still{wall: []float64{0, 0, 80}, inside: make([]float64, 3)}
	if got, share := b.alone(one.cell, 1, well, 0.6); got.pause != 60 || share < 0.6 || share >= doneShare {
		t.Errorf("after %g s in %g of the draws", got.pause, share)
	}
	b.still = nil
	near(t, "it gives", b.gives(one), 0.072)
	// Of charges as sure the one that is better, of others the surest; the first level that has a sure one is kept.
	other := *one.cell
	more := func(x, y campaign) bool { return b.gives(x) > b.gives(y) }
	found, share := b.single([]*cell{one.cell}, more)
	if near(t, "sure", share, 0.9); found.k != 1 {
		t.Errorf("the shorter of the two, that gives less")
	}
	other.d.Level = 13
	other.chain = nil
	for range 3 {
		v := one.chain[0][0]
		v.passed = []float64{0.05, 0.09}
		other.chain = append(other.chain, []view{v, v, v})
	}
	if found, _ = b.single([]*cell{one.cell, &other}, more); found.cell != one.cell {
		t.Error("another level is taken, where the first is sure")
	}
	other.d.Level = 12
	if found, _ = b.single([]*cell{one.cell, &other}, more); found.cell != &other {
		t.Error("what gives more is left")
	}
	// Who stands beside the mill goes a third as far as forecasts reach rather than wait ten minutes and a half, and waits ten.
	here, there := campaign{pause: 660}, campaign{pause: 60, away: 1. / 3}
	if nearer(here, there) || nearer(there, here) {
		t.Error("neither is nearer")
	}
	if here.pause = 670; !nearer(there, here) || nearer(here, there) {
		t.Error("ten minutes and a half are waited for")
	}
	if here.pause = 640; !nearer(here, there) || nearer(there, here) {
		t.Error("ten minutes are not waited for")
	}
	// A charge that goes further must cost half at the most, and hold in three quarters.
	cheap, dear := one, one
	cheap.first = 0
	for ratio, there := range map[float64]bool{2.01: true, 1.99: false} {
		dear.first = (ratio - 1) * one.cost() / ((1 + leaving*one.away) * 1)
		if _, ok := b.further([]campaign{cheap}, dear); ok != there {
			t.Errorf("%g times as dear: %t", ratio, ok)
		}
	}
	// One that was done and read three times is none.
	dear.first = 1e4
	for read, there := range map[int]bool{0: true, 2: true, 3: false} {
		b.practice.deeds = nil
		for k := range 3 {
			d := done(0.1, 100, 12)
			d.plastic, d.read = b.plastic, k < read
			b.practice.deeds = append(b.practice.deeds, d)
		}
		if _, ok := b.further([]campaign{one}, dear); ok != there {
			t.Errorf("read %d times, to be read again: %t", read, ok)
		}
	}
	// What was done teaches nothing new, nor does what gives less.
	b.practice.deeds = []deed{done(0.1, 100, 12)}
	if got, ok := b.bolder([]*cell{one.cell}, one); ok {
		t.Errorf("bolder: %g s", got.run())
	}
	b.practice.deeds = []deed{done(0.1, 40, 12)}
	small := one
	small.k = 0
	if got, ok := b.bolder([]*cell{one.cell}, small); !ok || got.k != 1 {
		t.Error("what gives more and was not done is bolder")
	}
	if _, ok := b.bolder([]*cell{one.cell}, one); ok {
		t.Error("it gives as much")
	}
	// In all 0.2 kg over 72 g: three; two hundred are as many as are told.
	for wanted, n := range map[float64]float64{0.2: 3, 0.0719: 1, 0.0721: 2, 14.39: 200} {
		b.wanted = []float64{wanted, wanted, wanted}
		f, ok := j.ahead(one)
		if near(t, "ahead", f.Value, n); !ok {
			t.Errorf("%g kg are told", wanted)
		}
	}
	b.wanted = []float64{14.41, 14.41, 14.41}
	if _, ok := j.ahead(one); ok {
		t.Error("201 charges ahead")
	}
}

// The campaigns over a cell that make enough: 0.9·80 g a charge, the last one 20 g short: 196 g with three.
func TestCampaignsThatMakeEnough(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	b := j.bench
	for wanted, charges := range map[float64]int{0.0719: 1, 0.143: 2, 0.195: 3, 0.197: 0} {
		b.wanted = []float64{wanted, wanted, wanted}
		all := b.openings([]*cell{one.cell})
		all = slices.DeleteFunc(all, func(c campaign) bool { return c.k == 0 })
		if len(all) != min(charges, 1) || charges > 0 && (all[0].charges != charges || all[0].pause != 60 || all[0].rest != 60 || math.Abs(all[0].piles-0.2) > 1e-12) {
			t.Errorf("for %g kg: %d campaigns", wanted, len(all))
		}
	}
	// Of a first charge that leaves a fifth of what it meets, a quarter of a charge piles up; of one that leaves all, four.
	v := func(held float64) view { return view{held: []float64{held}, passed: []float64{0}} }
	for left, want := range map[float64]float64{0.02: 0.25, 0.05: 1, 0.1: 4, 0.074: 0.74 / 0.26, 0.076: 0.76 / 0.25} {
		near(t, "piles up", b.piles(&cell{mass: 0.1, chain: [][]view{{v(left)}, {v(left)}, {v(left)}}}, 0), want)
	}
	near(t, "at the most", b.piles(&cell{mass: 0.1, chain: [][]view{{v(0), v(0.9)}}}, 0), 4)
}

// Readings within 1.2816 deviations are inside; of sixteen runs a share may lie two times 0.1 off, of sixty-four 0.1.
func TestHowGoodForecastsAre(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		share          float64
		readings, runs int
		want           string
	}{
		{0.8, 0, 99, "nothing_measured"}, {0.1, 5, 9, "too_few"}, {0.1, 5, 10, "too_narrow"}, {0.1, 5, 1, "too_few"},
		{0.599, 5, 16, "too_narrow"}, {0.601, 5, 16, "as_they_should"}, {1, 5, 15, "as_they_should"},
		{0.699, 5, 64, "too_narrow"}, {0.701, 5, 64, "as_they_should"}, {0.899, 5, 64, "as_they_should"}, {0.901, 5, 64, "too_wide"},
	} {
		if got := verdictOn(c.share, c.readings, c.runs).Code; got != "learn."+c.want {
			t.Errorf("case %d: %s", i, got)
		}
	}
	one := func(z float64) estimate.Checked { return estimate.Checked{Value: 2 * z, Spread: 2} }
	for runs, how := range map[int]string{1: "learn.inside_by_books", 2: "learn.inside_by_runs"} {
		l := Learning{Runs: runs}
		l.calibrate([]estimate.Checked{one(-1.29), one(1.29), one(1.28), one(-1.28), one(0)})
		near(t, "inside", l.Calibration.Inside.Value, 0.6)
		if l.Calibration.Inside.How != how || l.Calibration.Readings != 5 || !slices.IsSorted(l.Calibration.Ranks) {
			t.Errorf("%+v", l.Calibration)
		}
		// Φ(1.28) = 0.8997, Φ(1.29) = 0.9015: tables of the normal distribution.
		for k, want := range []float64{0.0985, 0.1003, 0.5, 0.8997, 0.9015} {
			if math.Abs(l.Calibration.Ranks[k]-want) > 5e-5 {
				t.Errorf("rank %d is %g, of tables %g", k, l.Calibration.Ranks[k], want)
			}
		}
	}
	var none Learning
	none.calibrate(nil)
	near(t, "of no reading", none.Calibration.Inside.Value, 0.8)
	// Masses lie above nothing, temperatures where they lie.
	f, _ := figures(estimate.Checked{Of: estimate.OfProduct, Value: 0.01, Spread: 1, Record: 7}, 2)
	near(t, "no mass", f.Forecast.Low+f.Forecast.Value, 0)
	near(t, "the most", f.Forecast.High, 1.2815515655446004)
	if !f.Inside || f.Forecast.Basis != figure.Learned || !slices.Equal(f.Actual.Records, []int64{7}) {
		t.Errorf("%+v", f)
	}
	f, _ = figures(estimate.Checked{Of: estimate.OfWall, Value: 1.29, Spread: 1}, 0)
	if near(t, "a temperature", f.Forecast.Low, -1.2815515655446004); f.Inside || f.Forecast.Basis != figure.Books {
		t.Errorf("%+v", f)
	}
	for factor, want := range map[float64]string{1.25: "learn.faster", 0.75: "learn.slower"} {
		s := pace(estimate.Change{Factor: factor}, shoptest.Noon)
		if by, _ := s.Fact("by"); s.Code != want || math.Abs(by.Value-0.25) > 1e-12 {
			t.Errorf("%s by %g", s.Code, by.Value)
		}
	}
}

// What a wall gives to the room: dark ones more than bright ones, between them where nobody said; its heat from its mass.
func TestWhatIsBelievedOfAWall(t *testing.T) {
	t.Parallel()
	of := func(m shop.Mill) *estimate.Beliefs {
		b := estimate.Prior()
		if err := believeWall(&b, m); err != nil {
			t.Fatal(err)
		}
		return &b
	}
	width := 1.15 * chamberWidth(0.001)
	loss := func(emissivity float64) float64 {
		v, err := heat.LossConductance(heat.Vessel{Diameter: width, Height: width, Emissivity: emissivity}, 308.15, 293.15)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	dark, bright := loss(0.9), loss(0.2)
	for i, c := range []struct {
		painted     shop.YesNo
		middle, off float64
	}{{shop.Yes, dark, 1.6}, {shop.No, bright, 1.6}, {shop.Unknown, math.Sqrt(dark * bright), 1.6 * math.Sqrt(dark/bright)}} {
		one := of(shop.Mill{Painted: c.painted})[estimate.WallLoss]
		near(t, "a loss", one.Median, c.middle)
		near(t, "at the most", one.High, c.middle*c.off)
		near(t, "at the least", one.Low, c.middle/c.off)
		if one.Source.Key != "ChurchillChu1975" {
			t.Errorf("case %d: %+v", i, one.Source)
		}
	}
	one := of(shop.Mill{WallMass: shoptest.P(2), WallMetal: shop.Steel})[estimate.WallCapacity]
	near(t, "two kilograms of steel", one.Median, 2*metalHeat("carbon steel"))
	near(t, "at the most", one.High, 2.3*metalHeat("carbon steel"))
	near(t, "at the least", one.Low, 2/1.15*metalHeat("carbon steel"))
	for _, m := range heat.Metals {
		near(t, m.Name, metalHeat(m.Name), m.SpecificHeat)
	}
	near(t, "of a metal nobody knows", metalHeat("cheese"), heat.Metals[0].SpecificHeat)
	if prior := estimate.Prior(); of(shop.Mill{})[estimate.WallCapacity].Median != prior[estimate.WallCapacity].Median {
		t.Error("an unknown mass is believed")
	}
	var b estimate.Belief
	around(&b, 6, 2, source.Ref{Key: "x"})
	if b.Median != 6 || b.Low != 3 || b.High != 12 || b.Source.Key != "x" {
		t.Errorf("%+v", b)
	}
}

// The draw nearest to the median is shown, the first of two as near; and whose word the dust a printer bears is.
func TestTheMiddleDraw(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		all  []float64
		want int
	}{{[]float64{5, 1, 3}, 2}, {[]float64{1, 2, 3, 10}, 1}, {[]float64{10, 3, 2, 1}, 1}, {[]float64{7}, 0}, {[]float64{-5, -1, -2}, 2}} {
		if got := middle(make([][]float64, len(c.all)), func(i int) float64 { return c.all[i] }); got != c.want {
			t.Errorf("case %d: draw %d", i, got)
		}
	}
	for want, of := range map[figure.Basis]traceability.DustBorne{figure.Learned: {Median: 2, Low: 1, High: 3, Prints: 1, Own: true}, figure.Entered: {Median: 2, Low: 1, High: 3, Own: true}, figure.Assumed: {Median: 2, Low: 1, High: 3}} {
		if f := borneFigure(of); f.Basis != want || f.Value != 2 || f.Low != 1 || f.High != 3 || f.Runs != of.Prints {
			t.Errorf("%+v", f)
		}
	}
	// What the time would be without a reading is told where it differs by more than a twentieth.
	one := func(v float64) figure.Figure {
		return figure.Exact("total", "plan.total", quantity.Duration, v, figure.Reckoned)
	}
	for now, told := range map[float64]bool{105: false, 105.2: false, 105.3: true, 95.3: false, 95.2: true} {
		m := Moved{Changes: []Change{{one(1), one(2)}}, Reading: &Readback{}, By: &Change{one(100), one(now)}}
		all := m.says(campaign{})
		if got := all[len(all)-1].Code == "plan.moved_without"; got != told {
			t.Errorf("100 s without it, %g with it: told %t", now, got)
		}
	}
}

// Of a wall that has to be 4 K over the room, found as 3.15 K, rests are 18 minutes: 2460 s in all. In a room 5 K cooler it may
// be 14 K, and nobody waits: 420 s. Where nothing is possible for the noise, 5 dB make it so, and nothing else does.
func TestWhatEasingALimitSaves(t *testing.T) {
	t.Parallel()
	saved := func(change func(*bench)) (map[string]float64, []campaign) {
		j, one := round(t)
		b := j.bench
		b.bounds.motor, b.wanted, b.practice.deeds = 500, []float64{0.19, 0.19, 0.19}, []deed{done(0.1, 100, 12)}
		change(b)
		all, openings := map[string]float64{}, b.openings([]*cell{one.cell})
		for _, p := range b.prices(openings) {
			if all[p.limit] = p.saves; p.saves == 0 {
				delete(all, p.limit)
			}
		}
		return all, b.best(openings, 1, math.Inf(1))
	}
	is := func(what string, got map[string]float64, limit string, saves float64) {
		t.Helper()
		if len(got) != 1 || math.Abs(got[limit]-saves) > 1e-9 && got[limit] != saves {
			t.Errorf("%s: %v, by hand %s %g", what, got, limit, saves)
		}
	}
	soft := func(k float64) func(*bench) {
		return func(b *bench) {
			for _, r := range b.rows {
				r[estimate.Softening] = k
			}
		}
	}
	got, best := saved(soft(325))
	is("warm", got, "charge_temperature", 2040)
	if len(best) != 1 {
		t.Fatal("none is possible")
	}
	near(t, "the best as it is", best[0].total(), 2460)
	near(t, "its rests", best[0].rest, 1080)
	got, best = saved(func(b *bench) { b.bounds.noise = 60 })
	if is("loud", got, "noise", math.Inf(1)); len(best) != 0 {
		t.Error("possible all the same")
	}
	if got, _ = saved(func(b *bench) { b.bounds.noise = 55 }); len(got) != 0 {
		t.Errorf("five decibels are not enough: %v", got)
	}
	got, _ = saved(func(b *bench) { b.bounds.jar = 0.27e-3 }) // a quarter of a litre in 0.9·0.27 of one
	is("a small jar", got, "jar", math.Inf(1))
	got, _ = saved(func(b *bench) { b.bounds.controller = 370 }) // 300 W of 0.8·370
	is("a weak controller", got, "controller", math.Inf(1))
	got, _ = saved(func(b *bench) { b.within = 400 })
	is("too late", got, "time", math.Inf(1))
	got, _ = saved(func(b *bench) { b.bounds.fill = 0.17 }) // and two fifths more for as large a charge as was run
	is("too full", got, "fill", math.Inf(1))
	if got, _ = saved(func(*bench) {}); len(got) != 0 {
		t.Errorf("nothing binds: %v", got)
	}
}
