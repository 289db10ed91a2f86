package plan

// Masses, temperatures and times of a campaign, by hand.

import (
	"math"
	"slices"
	"testing"

	"hopperful/estimate"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Charges of 100 g that leave a fifth of what they meet find 100, 120 and 124 g, and leave 20, 24 and
// 24.8 g; with a tenth of dust, 0.8·0.9 of what they meet comes out. What never leaves piles up.
func TestMassesOfACampaign(t *testing.T) {
	t.Parallel()
	one := func(links ...view) *cell {
		return &cell{mass: 0.1, at: []float64{60}, chain: [][]view{links}}
	}
	v := func(passed, held float64) view { return view{passed: []float64{passed}, held: []float64{held}} }
	b := &bench{rows: [][]float64{row(map[estimate.Param]float64{estimate.Dust: 0.1})}, available: 0.35, wanted: []float64{0.2}}
	first, settled, stuck := one(v(0.08, 0.02)), one(v(0.08, 0.02), v(0.09, 0.03)), one(v(0, 0.1))
	for n, c := range []struct{ met, left, made, leftSettled, madeSettled, metStuck, leftStuck float64 }{
		{0, 0, 0, 0, 0, 0, 0},
		{0.1, 0.02, 0.072, 0.02, 0.072, 0.1, 0.1},
		{0.22, 0.024, 0.1584, 0.03, 0.153, 0.3, 0.2},
		{0.344, 0.0248, 0.24768, 0.03, 0.234, 0.6, 0.3},
	} {
		near(t, "met", first.met(0, 0, n), c.met)
		near(t, "left", b.residue(first, 0, 0, n), c.left)
		near(t, "made", b.produced(first, 0, 0, n), c.made)
		near(t, "left of two that were run", b.residue(settled, 0, 0, n), c.leftSettled)
		near(t, "made of two that were run", b.produced(settled, 0, 0, n), c.madeSettled)
		near(t, "met where nothing comes out", stuck.met(0, 0, n), c.metStuck)
		near(t, "left where nothing comes out", b.residue(stuck, 0, 0, n), c.leftStuck)
	}
	// A third charge makes 248 g in all. Of 350 g of scrap there are three and a half charges: the fourth makes
	// 338 less the missing 50 g.
	for _, c := range []struct {
		wanted float64
		n      int
		ok     bool
	}{{0.07, 1, true}, {0.2, 3, true}, {0.26, 4, true}, {0.287, 4, true}, {0.288, 5, false}} {
		b.wanted[0] = c.wanted
		if n, ok := b.chargesFor(first, 0); n != c.n || ok != c.ok {
			t.Errorf("for %g kg %d charges (%t), wanted %d", c.wanted, n, ok, c.n)
		}
	}
	// In nine of ten draws it has to be enough.
	b.rows = slices.Repeat(b.rows, 10)
	many := &cell{mass: 0.1, at: []float64{60}, chain: slices.Repeat(first.chain, 10)}
	b.wanted = []float64{9, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1}
	near(t, "the share", b.meets(many, 0, 2), 0.9)
	if n, ok := b.chargesFor(many, 0); n != 2 || !ok {
		t.Errorf("%d charges", n)
	}
	b.wanted[1] = 9
	if _, ok := b.chargesFor(many, 0); ok {
		t.Error("enough in eight of ten")
	}
	near(t, "the third charge stays the last", first.link(0, 2).held[0], 0.02)
	near(t, "an error of the models beyond the looks", (&cell{}).offBy(0, 0, ofHeat), 1)
	// What is in the mill keeps a share of what came out: 100 g, models 60 g out and 30 g in.
	for i, c := range []struct{ product, left, through, stays float64 }{
		{1.2, 1, 0.08, 0.02}, {1, 1, 0.2 / 3, 0.1 / 3}, {1, 0.3, 0.2 / 3, 0.097 - 0.2/3}, {2, 1, 0.0995, 0.0005}, {0.5, 2, 0.1 / 3, 0.2 / 3}, {0.5, 1.5, 0.1 / 3, 0.097 - 0.1/3},
	} {
		if through, stays := split(0.06, 0.03, 0.1, c.product, c.left); math.Abs(through-c.through) > 1e-12 || math.Abs(stays-c.stays) > 1e-12 {
			t.Errorf("case %d: %g through, %g stay", i, through, stays)
		}
	}
	for _, c := range []struct{ held, piles float64 }{{0.02, 0.25}, {0.09, 3.6}, {0.12, 4}} {
		near(t, "what piles up", b.piles(one(v(0, c.held)), 0), c.piles)
		near(t, "where it settled", b.piles(one(v(0, 0), v(0, c.held)), 0), c.held/0.1)
	}
}

// A wall of 1000 J/K that loses 1 W/K halves its excess in 1000·ln 2 s. Each charge takes the wall to
// 8 K + 4/5 of its start: 8, then 4 at the next start and 11.2, then 5.6 and 12.48; the charge ends at 20 K and
// half of the wall's start: 20, 22, 22.8.
func TestTemperaturesOfACampaign(t *testing.T) {
	t.Parallel()
	r := row(map[estimate.Param]float64{estimate.WallCapacity: 1000, estimate.WallLoss: 1, estimate.LidFactor: 1})
	rest := 1000 * math.Ln2
	heat := []warmth{{chargeOwn: 20, chargeByWall: 0.5, wallOwn: 8, wallByWall: 0.8}}
	one := campaign{cell: &cell{mass: 0.1, at: []float64{60}, chain: [][]view{{{held: []float64{0}, passed: []float64{0.1}, heat: heat}}}}, charges: 3, pause: rest, below: math.Inf(1)}
	b := &bench{rows: [][]float64{r}}
	check := func(what string, one campaign, charges, walls []float64, first, mean float64) {
		t.Helper()
		var got [2][]float64
		f, m := b.follow(one, 0, func(_, _ int, charge, wall float64) { got[0], got[1] = append(got[0], charge), append(got[1], wall) },
			func(int, float64, float64) bool { return true })
		near(t, what+": the first wait", f, first)
		near(t, what+": the mean wait", m, mean)
		for k := range charges {
			near(t, what+": a charge", got[0][k], charges[k])
			near(t, what+": a wall", got[1][k], walls[k])
		}
		hot := b.hottest(one, 0)
		near(t, what+": the hottest charge", hot.charge, slices.Max(charges))
		near(t, what+": the hottest wall", hot.wall, slices.Max(walls))
	}
	near(t, "half", coolsTo(r, rest), 0.5)
	check("cold", one, []float64{20, 22, 22.8}, []float64{8, 11.2, 12.48}, 0, 0)
	cooler := one
	cooler.below = 4.8
	check("waiting", cooler, []float64{20, 22, 22.4}, []float64{8, 11.2, 11.84}, 0, 1000*math.Log(5.6/4.8)/2)
	b.walls = []float64{1.5}
	check("warmer inside", one, []float64{20, 23, 24.2}, []float64{8, 11.2, 12.48}, 0, 0)
	// A wall that only lags has evened out after 11 minutes but for e^-(633/120) of it; half of one that is bright too stays.
	lasts := math.Exp(-(rest - 60) / 120)
	b.lags = []float64{1}
	check("evened out", one, []float64{20, 20 + 2*(1+0.5*lasts), 20 + 2.8*(1+0.5*lasts)}, []float64{8, 11.2, 12.48}, 0, 0)
	b.lags = []float64{0.5}
	check("half evened out", one, []float64{20, 20 + 2*(1.25+0.25*lasts), 20 + 2.8*(1.25+0.25*lasts)}, []float64{8, 11.2, 12.48}, 0, 0)
	near(t, "all of it after the shortest rest", b.innerAfter(0, 60), 1.5)
	near(t, "and where nobody knows the rest", b.innerAfter(0, -1), 1.5)
	check("evened out the more for waiting", cooler, []float64{20, 20 + 2*(1.25+0.25*lasts), 20 + 2.4*(1.25+0.25*lasts*math.Pow(4.8/5.6, 1000./120))}, []float64{8, 11.2, 11.84}, 0, 1000*math.Log(5.6/4.8)/2)
	b.lags = nil
	// Still 20 K warm half a rest ago: it waits the other half, and begins at 10 K; with 25 g in it the charge begins a
	// fifth as warm.
	b.walls, b.still = nil, &still{wall: []float64{20}, inside: []float64{0.025}, stopped: rest / 2}
	near(t, "the wait", b.still.wait(rest), rest/2)
	near(t, "no wait", b.still.wait(rest/4), 0)
	near(t, "the wall after a rest", b.still.at(r, 0, rest), 10)
	near(t, "the whole rest", b.still.stood(rest), rest)
	near(t, "who came late has waited", b.still.stood(rest/4), rest/2)
	near(t, "the wall at once", b.still.at(r, 0, 0), 20*math.Sqrt(0.5))
	one.charges = 1
	check("still warm", one, []float64{25}, []float64{16}, 0, 0)
	cooler.charges = 1
	check("and waiting", cooler, []float64{22.4}, []float64{11.84}, 1000*math.Log(10/4.8), 0)
	one.chain[0][0].heat = []warmth{{chargeByCharge: 1}}
	check("what lies there warms the charge", one, []float64{2}, []float64{0}, 0, 0)
	var cold *still
	near(t, "a cold mill", cold.at(r, 0, 0)+cold.wait(9)+cold.residue(0), 0)
	near(t, "its rest", cold.stood(9), 9)
	near(t, "a cold mill with something in it", (&still{inside: []float64{0.03}}).residue(0), 0.03)
	if (&still{inside: []float64{0.03}}).warm() {
		t.Error("a mill of another day is warm")
	}
}

// Three charges of 100 s with rests of 500 s, after 50 s: 1350 s, 20 s of either rest twice, and a minute a
// charge and half a one for what piles up, by 3.5 twentieths more: 1636.75 s; half as far as forecasts reach is 0.3 more, a tenth of a charge too much 0.15.
func TestWhatACampaignCosts(t *testing.T) {
	t.Parallel()
	one := campaign{cell: &cell{at: []float64{100}}, charges: 3, rest: 500, first: 50, piles: 0.5, away: 0.5}
	near(t, "the time", one.total(), 1300)
	near(t, "up to the second", one.upTo(2), 700)
	near(t, "the cost", one.cost(), 1636.75*1.3*1.15)
	one.piles, one.away, one.rest, one.charges = 0.3, 0, 400, 1
	near(t, "of a single one", one.cost(), 50+100+60*1.3*1.065)
	for s, want := range map[float64]float64{0: 0, 1: 10, 61: 70, 120: 120, 121: 150, 600: 600, 601: 660} {
		near(t, "a rest", roundRest(s), want)
	}
	b := &bench{}
	for kg, want := range map[float64]float64{0.1024: 0.1, 0.1026: 0.105, 0.001: 0.005, 0.4974: 0.495, 0.504: 0.5, 0.507: 0.51, 1.234: 1.23} {
		near(t, "a mass", b.roundMass(kg), want)
	}
	b.within = 1000
	one.pause = 77
	near(t, "no rest follows one charge", b.longestRest(one), 77)
	b.still = &still{wall: []float64{1}}
	near(t, "before one charge", b.longestRest(one), 900)
	one.charges = 4
	near(t, "between four", b.longestRest(one), 200)
	near(t, "no longer than an hour", (&bench{within: 1e9}).longestPause(one), 3600)
	b.practice = practice{most: 0.5, mass: 0.3, levels: 20}
	one.cell.mass, one.d.Level = 0.1, 20
	near(t, "until it is emptied", b.emptyAt(one), 0.2)
	one.d.Level = 5
	b.practice.most = 1.2
	near(t, "until it is emptied, at a low level", b.emptyAt(one), 0.05)
}

// A setting that was run three times may be kept by three quarters of the draws where nobody read a charge,
// and by nine tenths where three did.
func TestInHowManyDrawsLimitsHold(t *testing.T) {
	t.Parallel()
	one := campaign{cell: &cell{mass: 0.1, at: []float64{100}, chain: make([][]view, 200)}}
	b := &bench{practice: practice{deeds: []deed{done(0.1, 100, 0), done(0.1, 100, 0)}}}
	near(t, "run twice", b.enough(one), 0.9)
	b.practice.deeds = append(b.practice.deeds, done(0.1, 100, 0))
	for read, want := range []float64{0.75, 0.8, 0.85, 0.9, 0.9} {
		b.practice.read.charge = read
		near(t, "run thrice", b.enough(one), want)
		if got := b.spare(one); got != int(math.Round(200*(1-want))) {
			t.Errorf("%d of 200 draws may break it", got)
		}
	}
	for n, want := range map[int]int{1: 0, 2: 1, 3: 2, 4: 3, 6: 3, 7: 4, 11: 4, 12: 5, 99: 5} {
		if got := replanAfter(n); len(got) != want {
			t.Errorf("of %d charges it is planned anew after %v", n, got)
		}
	}
	b.wanted = []float64{0.1234}
	near(t, "where to stop", b.stopAt(), 0.13)
	b.wanted = []float64{0.13}
	near(t, "where to stop, to the digit", b.stopAt(), 0.13)
	// More than twelve charges and two and a half times as many as pencil and paper ask for, or half an hour and two
	// and a half times its time: 1 kg of 80 g each are 13 charges of 700 s.
	b = &bench{wanted: []float64{1}, practice: practice{deeds: []deed{done(0.1, 100, 0)}}}
	for i, c := range []struct {
		charges int
		rest    float64
		absurd  bool
	}{{32, 60, false}, {33, 60, true}, {13, 1936, false}, {13, 1938, true}} {
		one.charges, one.rest = c.charges, c.rest
		if got := b.absurd(one); got != c.absurd {
			t.Errorf("case %d: %g s absurd %t", i, one.total(), got)
		}
	}
}

// A label gives twice what grinding takes; a meter's word stands, and what it idles at where that is less.
func TestWhatAMillDraws(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	full := fullDraw(shop.Mill{RatedPower: p(2000)})
	near(t, "of the label", full.Watts, 1000)
	near(t, "give or take", full.Spread, 1.35)
	full = fullDraw(shop.Mill{})
	near(t, "of nothing", full.Watts, 600)
	near(t, "give or take", full.Spread, 1.8)
	m := shop.Mill{RatedPower: p(2000), Controller: &shop.Control{Levels: 8, Watts: []shop.LevelWatts{{Level: 2, Watts: 100}, {Level: 6, Watts: 500}}, IdleWatts: []shop.LevelWatts{{Level: 2, Watts: 60}, {Level: 6, Watts: 500}}}}
	for level, want := range map[int]estimate.Load{
		2: {Watts: 100, Spread: 1.06, IdleShare: 0.6}, 3: {Watts: 200, Spread: 1.12, IdleShare: 0.85}, 6: {Watts: 500, Spread: 1.06}, 8: {Watts: 1000, Spread: 1.35},
	} {
		d := drawAt(m, level)
		near(t, "the draw", d.Watts, want.Watts)
		near(t, "give or take", d.Spread, want.Spread)
		near(t, "idling", d.IdleShare, want.IdleShare)
		near(t, "of the scale", d.Share, float64(level)/8)
	}
	if len(draws(m)) != 8 || len(loads(m)) != 8 || len(draws(shop.Mill{})) != 1 || loads(shop.Mill{}) != nil || draws(m)[1].Level != 2 {
		t.Error("a mill has as many draws as levels, and one without a controller")
	}
	near(t, "the voltage without a level", voltageShare(m, draw{}), 1)
	// A sine cut at half its angle has half its power, so 1/√2 of its effective voltage.
	near(t, "the voltage at half", voltageShare(m, draws(m)[3]), math.Sqrt(0.5))
}

// A chamber nobody knows is one that the largest charge fills by a quarter: 100 g at 200 kg/m³ are half a litre, of two.
func TestAChamberToldByPractice(t *testing.T) {
	t.Parallel()
	r := row(map[estimate.Param]float64{estimate.SolidDensity: 1000, estimate.ScrapPacking: 0.2})
	b := &bench{practice: practice{deeds: []deed{done(0.1, 60, 0), done(0.02, 60, 0)}}, bounds: usual}
	b.tellChamber(r)
	near(t, "told", b.volume(), 0.002)
	b = &bench{mill: shop.Mill{Chamber: shoptest.P(0.0004)}, practice: b.practice, bounds: usual}
	b.tellChamber(r)
	near(t, "known", b.volume(), 0.0004)
	near(t, "as large as was run", b.fillFor(0.1), 1.4/3)
	near(t, "larger", b.fillFor(0.1002), 1.0/3)
	b.plastic = "PLA"
	near(t, "seldom run", b.stallFor(draw{}, 0.05), 0.02)
	for range 3 {
		d := done(0.1, 60, 0)
		d.plastic = "PLA"
		b.practice.deeds = append(b.practice.deeds, d)
	}
	near(t, "often run", b.stallFor(draw{}, 0.1), 0.05)
	near(t, "harder", b.stallFor(draw{}, 0.1002), 0.02)
	for i, c := range []struct {
		limits cellLimits
		holds  bool
	}{{cellLimits{0.9, 0.9, 0.02, 0.02}, true}, {cellLimits{0.89, 1, 0, 0.02}, false}, {cellLimits{1, 0.89, 0, 0.02}, false}, {cellLimits{1, 1, 0.021, 0.02}, false}} {
		if c.limits.holds() != c.holds {
			t.Errorf("case %d: holds %t", i, !c.holds)
		}
	}
}

// A figure has moved that differs by more than a twentieth of the larger.
func TestWhatHasMoved(t *testing.T) {
	t.Parallel()
	one := func(level int, mass, run float64, charges int, rest float64) campaign {
		c := campaign{cell: &cell{mass: mass, at: []float64{run}}, charges: charges, rest: rest}
		c.d.Level = level
		return c
	}
	was := one(20, 0.1, 100, 1, 400)
	for i, c := range []struct {
		now  campaign
		keys []string
	}{
		{one(20, 0.1, 100, 1, 400), nil}, {one(21, 0.105, 105, 1, 420), nil}, {one(22, 0.106, 106, 1, 425), []string{"level", "charge", "run", "rest", "total"}},
		{one(19, 0.0951, 95.1, 1, 381), nil}, {one(18, 0.0949, 94.9, 1, 379), []string{"level", "charge", "run", "rest", "total"}}, {one(20, 0.1, 100, 2, 400), []string{"charges", "total"}},
	} {
		var keys []string
		for _, x := range changes(was, c.now) {
			keys = append(keys, x.Now.Key)
		}
		if !slices.Equal(keys, c.keys) {
			t.Errorf("case %d: %v moved, wanted %v", i, keys, c.keys)
		}
	}
}

// Each ease is as much as its words say: 5 °C and 10 °C, a fifth, a quarter, half, 5 dB, half an hour; and nothing else moves.
func TestAnEaseIsWhatItsWordsSay(t *testing.T) {
	t.Parallel()
	was := bench{bounds: bounds{margin: 10, touch: 328, fill: 0.3, jar: 0.002, jarShare: 0.9, controller: 400, motor: 500, load: 0.8, stall: 0.02, noise: 85}, room: 293, thickness: 2e-3, within: 3600}
	of := func(b *bench) []float64 {
		return []float64{b.room, b.bounds.touch, b.bounds.fill, b.bounds.controller, b.bounds.motor, b.bounds.jar, b.thickness, b.bounds.noise, b.within, b.bounds.margin, b.bounds.jarShare, b.bounds.load, b.bounds.stall}
	}
	for i, want := range []float64{288, 338, 0.36, 500, 625, 0.0025, 1e-3, 90, 5400} {
		moved := of(&was)
		moved[i] = want
		for k, got := range of(was.eased(eases[i].by)) {
			near(t, eases[i].what, got, moved[k])
		}
		for _, open := range []bool{false, true} {
			b := was
			if open {
				b.bounds.controller, b.bounds.motor, b.bounds.jar, b.within = math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)
			}
			if e := eases[i]; e.open != nil && e.open(&b) != open {
				t.Errorf("%s: open %t", e.what, !open)
			}
		}
	}
}

// A jar of 2 l filled to nine tenths takes six charges of 100 g at 350 kg/m³ (0.286 l each), as many as there are and one at the least.
func TestHowOftenTheJarIsEmptied(t *testing.T) {
	t.Parallel()
	r := row(map[estimate.Param]float64{estimate.GrainBulk: 350})
	b := &bench{rows: [][]float64{r, r, r}, bounds: bounds{jar: 0.002, jarShare: 0.9}}
	for i, c := range []struct {
		mass    float64
		charges int
		jar     float64
		want    int
	}{{0.1, 20, 0.002, 6}, {0.1, 4, 0.002, 4}, {1, 20, 0.002, 1}, {0.1, 20, math.Inf(1), 1}, {0.1, 20, 0.00223, 7}} {
		b.bounds.jar = c.jar
		if got := b.jarEvery(campaign{cell: &cell{mass: c.mass}, charges: c.charges}); got != c.want {
			t.Errorf("case %d: after %d charges, by hand %d", i, got, c.want)
		}
	}
	// How many fifths of the forecast the models have.
	for share, want := range map[float64]int{0: 0, 0.09: 0, 0.11: 1, 0.5: 3, 0.89: 4, 0.91: 5, 1: 5, 1.4: 5} {
		if got := (campaign{cell: &cell{off: []estimate.Factors{{ModelShare: share}}}, k: 3}).modelShare(); got != want {
			t.Errorf("of %g the models have %d fifths", share, got)
		}
	}
	if got := (campaign{cell: &cell{}}).modelShare(); got != 5 {
		t.Errorf("of all the models have %d fifths", got)
	}
	// A cell is added once, rounded and as far as there is scrap.
	b.available = 0.3
	one := b.with(nil, draw{}, 0.1024, []float64{60})
	if len(one) != 1 || one[0].mass != 0.1 || len(b.with(one, draw{}, 0.1, []float64{60})) != 1 || len(b.with(one, draw{}, 0.2, nil)) != 1 || len(b.with(one, draw{}, 0.2, []float64{60})) != 2 {
		t.Errorf("%+v", one)
	}
	if more := b.with(one, draw{}, 5, []float64{60}); more[1].mass != 0.3 {
		t.Errorf("of 300 g %g kg are a charge", more[1].mass)
	}
	if b.available = 0; len(b.with(nil, draw{}, 0.1, []float64{60})) != 0 {
		t.Error("a charge of nothing")
	}
	for k, at := range evenly(60, 4) {
		near(t, "a quarter", at, 15*float64(k+1))
	}
	// Grains twice as large as reckoned are half as large in the models; nothing is known of a time nobody looked at.
	seen := cell{off: []estimate.Factors{{Sizes: []float64{2}}}}
	near(t, "a size of the models", seen.modelled(0, 0, 3), 1.5)
	near(t, "a size of grains", seen.grain(0, 0, 1.5), 3)
	near(t, "a size at another time", seen.modelled(1, 0, 3)+seen.grain(1, 0, 3), 6)
	// What a run warms by itself is multiplied.
	if w := (warmth{chargeOwn: 2, wallOwn: 3, chargeByWall: 4}).times(5, 7); w.chargeOwn != 10 || w.wallOwn != 21 || w.chargeByWall != 4 {
		t.Errorf("%+v", w)
	}
}

// Three charges of 100 s with rests of 50 s are drawn at 0, 40 and 100 s of each, 150 s apart; of charges beyond what a curve may
// have points some are left out.
func TestWhatAChartShows(t *testing.T) {
	t.Parallel()
	one := campaign{cell: &cell{at: []float64{40, 100}}, k: 1, charges: 3, rest: 50}
	x, skip := moments(one)
	if want := []float64{0, 40, 100, 150, 190, 250, 300, 340, 400}; !slices.Equal(x, want) || skip != 1 {
		t.Errorf("%v, every %d", x, skip)
	}
	for charges, want := range map[int]int{200: 1, 201: 2, 400: 2, 401: 3} {
		one.charges = charges
		if x, skip := moments(one); skip != want || len(x) > mostPoints || math.Abs(x[len(x)-1]-one.upTo(float64((charges-1)/skip*skip+1))) > 1e-9 {
			t.Errorf("of %d charges every %d. is shown, at %d moments", charges, skip, len(x))
		}
	}
	// Its temperatures: as followed, over the room; two draws alike.
	r := row(map[estimate.Param]float64{estimate.WallCapacity: 1000, estimate.WallLoss: 1, estimate.LidFactor: 1, estimate.Dust: 0.1})
	heat := []warmth{{chargeOwn: 10, wallOwn: 4}, {chargeOwn: 20, chargeByWall: 0.5, wallOwn: 8, wallByWall: 0.8}}
	v := view{held: []float64{0.05, 0}, passed: []float64{0.05, 0.1}, heat: heat}
	b := &bench{rows: [][]float64{r, r}, room: 293, bounds: usual, wanted: []float64{0.2, 0.2}, available: 0.28}
	b.beliefs[estimate.Softening].Median = 330
	one = campaign{cell: &cell{mass: 0.1, at: []float64{40, 100}, chain: [][]view{{v, v, v}, {v, v, v}}}, k: 1, charges: 3, pause: 1000 * math.Ln2, rest: 1000 * math.Ln2, below: math.Inf(1)}
	var g Grinding
	j := &job{bench: b}
	if err := j.temperatureChart(&g, one); err != nil {
		t.Fatal(err)
	}
	if err := j.yieldChart(&g, one); err != nil {
		t.Fatal(err)
	}
	for i, want := range [][]float64{{293, 303, 313, 293, 303, 315, 293, 303, 315.8}, {293, 297, 301, 297, 297, 304.2, 298.6, 297, 305.48}} {
		for k, got := range g.Charts[0].Curves[i].Mid {
			near(t, "a temperature", got, want[k])
		}
	}
	near(t, "the hottest", g.Charts[0].Facts[0].Value, 315.8)
	for k, want := range []float64{330, 320, 293} {
		near(t, "a line", g.Charts[0].Lines[k].Value, want)
	}
	// Nine tenths of what passed; the last charge lacks the 20 g that there is no scrap for.
	for k, want := range []float64{0, 0.045, 0.09, 0.09, 0.135, 0.18, 0.18, 0.225, 0.25} {
		near(t, "made", g.Charts[1].Curves[0].Mid[k], want)
	}
	near(t, "the need", g.Charts[1].Lines[0].Value, 0.2)
	// Two of the charges do for 175 g; the plan's count is the upper end.
	b.wanted = []float64{0.175, 0.175}
	charges, total, err := j.length(one)
	if err != nil || charges.Low != 2 || charges.Value != 3 || charges.High != 3 {
		t.Errorf("%g to %g charges, %v", charges.Low, charges.High, err)
	}
	near(t, "the shortest", total.Low, one.upTo(2))
	near(t, "the whole", total.Value, one.total())
}
