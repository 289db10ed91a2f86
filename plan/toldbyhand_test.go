package plan

// What a plan tells of a campaign, reckoned by hand from one with round numbers.

import (
	"math"
	"slices"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// round is a job with three draws that are alike, and a campaign of three charges of 100 g at 100 s with pauses
// in which the wall loses half of its excess; 280 g of scrap are there for 200 g of granulate.
func round(t *testing.T) (*job, campaign) {
	t.Helper()
	pla, err := polymer.Books().Find("PLA")
	if err != nil {
		t.Fatal(err)
	}
	r := row(map[estimate.Param]float64{estimate.SolidDensity: 1000, estimate.ScrapPacking: 0.2, estimate.GrainBulk: 400, estimate.WallCapacity: 1000, estimate.WallLoss: 1,
		estimate.LidFactor: 1, estimate.Dust: 0.1, estimate.IdleShare: 0.5, estimate.Softening: 340, estimate.Noise: 95})
	mill := shop.Mill{Name: "Round", Chamber: shoptest.P(0.002), Jar: shoptest.P(0.0006), ContinuousPower: shoptest.P(300), Controller: &shop.Control{Levels: 20, Continuous: shoptest.P(500)}}
	s := shoptest.Bin(t, &shop.MillSet{Mill: mill})
	b := &bench{mill: mill, rows: [][]float64{r, slices.Clone(r), slices.Clone(r)}, room: 293, bounds: usual, wanted: []float64{0.2, 0.2, 0.2}, available: 0.28, handling: 60, within: 5000,
		largest: 0.02, thickness: 0.002, practice: practice{levels: 20, most: math.Inf(1), mass: math.Inf(1)}}
	b.bounds.jar, b.bounds.motor, b.bounds.controller = 0.0006, 300, 500
	b.beliefs[estimate.Softening].Median = 340
	if b.grid, err = breakage.NewGrid(0.02); err != nil {
		t.Fatal(err)
	}
	v := view{held: []float64{0.06, 0.02}, passed: []float64{0.04, 0.08}, energy: []float64{6000, 12000}, passing: make([]float64, b.grid.Classes()),
		heat: []warmth{{chargeOwn: 10, wallOwn: 4}, {chargeOwn: 20, chargeByWall: 0.5, wallOwn: 8, wallByWall: 0.8}}}
	v.passing[5] = 0.08
	off := estimate.Factors{Energy: []float64{1.1, 1.1, 1.1}, Sizes: []float64{1.25, 1.25, 1.25}, ModelShare: 0.6}
	c := &cell{mass: 0.1, at: []float64{40, 100}, fines: []float64{0.2, 0.2, 0.2}, off: []estimate.Factors{off, off}}
	for range b.rows {
		c.chain = append(c.chain, []view{v, v, v})
	}
	c.d = draw{Load: estimate.Load{Watts: 300, Spread: 1, Level: 12, Share: 0.6}, how: "plan.draw_metered"}
	c.limits = cellLimits{fill: 1, controller: 1, stall: 0.01, borne: 0.02}
	one := campaign{cell: c, k: 1, charges: 3, pause: 1000 * math.Ln2, rest: 1000 * math.Ln2, below: math.Inf(1)}
	one.shares = b.keep(one)
	j := &job{state: s, bench: b, polymer: pla, mill: shop.MillState{Mill: mill}, known: &lesson{log: &logbook{}, fitted: &estimate.Fitted{}}, req: Request{Now: shoptest.Noon, Draws: choiceDraws, Seed: answer.Seed}}
	j.want = demand{make: b.wanted, want: []float64{0.25, 0.25, 0.25}, onHand: 0.05, figure: figure.Exact("need", "plan.wanted", quantity.Mass, 0.25, figure.Reckoned)}
	lots := []*shop.Lot{{ID: "S1", Name: "small", Mass: 0.15}, {ID: "S2", Name: "large", Mass: 0.13}, {ID: "S3", Mass: 9}}
	j.lots.grind = []scrapLot{{Lot: lots[0]}, {Lot: lots[1], prepare: fact.Say("plan.break_up")}, {Lot: lots[2]}}
	return j, one
}

// 300 W, half of it idling: 150 W for 300 s and 36 kJ into the charges, a tenth more than reckoned, are 89.1 kJ. Out come
// 0.9·0.24 kg less the 20 g of scrap that are missing, 196 g; 20 g stay, and 64 g of 280 are dust.
func TestAPlanIsToldByHand(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	g, err := j.report(Grinding{}, one, nil)
	if err != nil {
		t.Fatal(err)
	}
	figures := map[string]figure.Figure{}
	for _, f := range append([]figure.Figure{g.Product, g.Balance.In, g.Balance.Left, g.Balance.Lost, g.Setting.Charge, g.Setting.Charges, g.Setting.Run, g.Setting.Rest, g.Setting.Power,
		*g.Setting.Level, g.Setting.JarEvery, g.Setting.Total, g.Setting.StopAt}, g.Figures...) {
		figures[f.Key] = f
	}
	borne := 0.0
	for _, f := range figures["usable"].Inputs {
		if f.Key == "dust_borne" {
			borne = f.Value
		}
	}
	total := 300 + 2000*math.Ln2
	for key, want := range map[string]float64{
		"product": 0.196, "in": 0.28, "left": 0.02, "lost": 0.064, "charge": 0.1, "charges": 3, "run": 100, "rest": 1000 * math.Ln2, "power": 300, "level": 12,
		"jar_every": 2, // 0.9·0.6 l over 0.25 l
		"total":     total, "stop_at": 0.2, "missing": 0.2, "fines": 0.2,
		"energy": 89100, "specific_energy": 89100 / 0.216, "energy_cost": 89100 * 0.3 / 3.6e6,
		"usable":        0.196 * (1 - (0.2-borne)/(1-borne)),
		"chamber":       0.002,
		"charge_volume": 0.0005,                     // 100 g of 200 kg/m³
		"jar_volume":    0.0002,                     // 80 g of 400 kg/m³
		"noise_dose":    95 + 10*math.Log10(1.0/96), // five minutes of eight hours
		"d50":           1.25 * j.bench.sizeAt(one.chain[0][0].passing, 0.5),
		"d90":           1.25 * j.bench.sizeAt(one.chain[0][0].passing, 0.9),
	} {
		if f, there := figures[key]; there || key != "chamber" {
			near(t, key, f.Value, want)
			near(t, key+" at the least", f.Low, want)
			near(t, key+" at the most", f.High, want)
		}
	}
	if !(borne > 0 && borne < 0.2) || g.Product.About != "3" || g.Product.How != "plan.product_how_part" || g.Setting.Wait != nil || g.Setting.Below != nil {
		t.Errorf("borne %g, %s of %s fifths", borne, g.Product.How, g.Product.About)
	}
	near(t, "the need of the product", g.Product.Limit.Value, 0.2)
	near(t, "how often it is met", g.Product.Limit.Holds, 0)
	if want := j.req.Now.Add(time.Duration(total * 1e9)); g.Setting.Finish.Sub(want).Abs() > time.Millisecond || !slices.Equal(g.Setting.Replan, []int{1, 2}) {
		t.Errorf("done at %s after %v, by hand %s", g.Setting.Finish, g.Setting.Replan, want)
	}
	// The hottest charge of 20, 22 and 22.8 K over the room, the wall of 8, 11.2 and 12.48; the motor rests 693 of 793 s;
	// half a litre of pieces and 50 ml of what stayed are 0.275 of two litres.
	limits := map[string]answer.Limit{}
	for _, l := range g.Limits {
		limits[l.Key] = l
	}
	for key, want := range map[string][3]float64{
		"charge_temperature": {315.8, 330, 1}, "wall_temperature": {305.48, 328.15, 1}, "fill": {0.275, 1.0 / 3, 1}, "controller": {300, 400, 1},
		"motor": {330 * math.Sqrt(100/(100+1000*math.Ln2)), 240, 1}, "jar": {0.25 / 0.6, 0.9, 1}, "noise": {95 - 10*math.Log10(96) - 15, 85, 1}, "time": {total, 5000, 1},
	} {
		l := limits[key]
		near(t, key, l.Figure.Value, want[0])
		near(t, key+": the limit", l.Figure.Limit.Value, want[1])
		near(t, key+": held", l.Holds(), want[2])
	}
	near(t, "stall: held", limits["stall"].Holds(), 0.99)
	near(t, "stall: the limit", limits["stall"].Figure.Limit.Value, 0.02)
	if len(g.Limits) != 9 || len(g.Charts) != 3 {
		t.Errorf("%d limits, %d charts", len(g.Limits), len(g.Charts))
	}
	// The first two lots in their order, the second to be broken up first.
	if len(g.Take) != 2 || g.Take[0].Lot != "S1" || g.Take[1].Lot != "S2" || g.Take[0].Why.Code != "plan.oldest_first" || g.Take[1].Why.Code != "plan.prepare_first" {
		t.Errorf("%+v", g.Take)
	}
	near(t, "of the first", g.Take[0].Mass.Value, 0.15)
	near(t, "of the second", g.Take[1].Mass.Value, 0.13)
	if some := j.toPrepare(&g); len(some) != 1 || some[0].ID != "S2" {
		t.Errorf("%d lots to prepare", len(some))
	}
	// Without a limit on record none is told, and a charge late by a second is late.
	j, one = round(t)
	j.bench.bounds.jar, j.bench.bounds.motor, j.bench.bounds.controller, j.bench.within = math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)
	if g, err = j.report(Grinding{}, one, nil); err != nil || len(g.Limits) != 5 {
		t.Errorf("%d limits, %v", len(g.Limits), err)
	}
	for within, holds := range map[float64]float64{total + 1: 1, total - 1: 0} {
		j.bench.within = within
		l, _, _ := j.timeLimit(&g, one)
		near(t, "in time", l.Holds(), holds)
	}
}

// Where fewer charges are likely to do, a plan says so; after a stop it waits for the wall, to ten seconds.
func TestWhatAPlanSays(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	for _, c := range []struct {
		wanted []float64
		code   string
	}{{[]float64{0.2, 0.2, 0.14}, "plan.grind"}, {[]float64{0.2, 0.14, 0.14}, "plan.grind_or_fewer"}} {
		j.bench.wanted = c.wanted
		g, err := j.report(Grinding{}, one, nil)
		if err != nil || g.Says.Code != c.code {
			t.Errorf("%v: %s, %v", c.wanted, g.Says.Code, err)
		}
	}
	j, one = round(t)
	// 40 K at the stop, 20 K after the rest: to 12 K it takes 1000·ln(20/12) = 510.8 s more, so with the pause
	// of 693.1 s 1204, and ten seconds less one for each that it has stood.
	j.bench.still = &still{wall: []float64{40, 40, 40}, inside: make([]float64, 3)}
	one.below = 12
	var s Setting
	if err := j.rest(&s, one, "x"); err != nil || s.Wait == nil || s.Below == nil {
		t.Fatal(err)
	}
	near(t, "the wait", s.Wait.Value, 1210)
	near(t, "the wall by then", s.Below.Value, 305)
	j.bench.still = nil
	if err := j.rest(&s, one, "x"); err != nil {
		t.Fatal(err)
	}
	g, err := j.report(Grinding{}, one, nil)
	if err != nil || g.Setting.Wait != nil {
		t.Errorf("a cold mill waits: %v", err)
	}
	codes := func() (all []string) {
		for _, a := range j.steps(&g, one) {
			all = append(all, a.Do.Code)
		}
		return all
	}
	has := func(code string, want bool) {
		t.Helper()
		if got := codes(); slices.Contains(got, code) != want {
			t.Errorf("%s %t: %v", code, !want, got)
		}
	}
	has("plan.start_when_cool", true)
	has("plan.stop_and_rest", true)
	has("plan.record_each", true)
	has("plan.prepare_lot", true)
	has("plan.try_strange", true)
	has("plan.empty_when", false)
	j.bench.practice.mass = 0.19
	has("plan.empty_when", true)
	j.bench.practice.mass = 0.21
	has("plan.empty_when", false)
	j.known.log.runs = []estimate.Run{{Polymer: "PLA"}}
	for away, isNew := range map[float64]bool{0.249: false, 0.251: true} {
		one.away = away
		has("plan.try_new", isNew)
	}
	has("plan.set_level", true)
	one.cell.d.Level, one.charges, g.Setting.Replan = 0, 1, nil
	has("plan.set_level", false)
	has("plan.stop_and_rest", false)
	has("plan.record_it", true)
	// Three charges that were read are enough, where a cool one lengthens no rest.
	for read, asks := range map[int]bool{2: true, 3: false} {
		j.bench.practice.read.charge = read
		if got := j.probe(one); got.Empty() == asks {
			t.Errorf("of %d readings: %q", read, got.Code)
		}
	}
}

// What could spoil a plan: limits held by fewer than nine in ten, an unknown draw or rating, a product that may be a fifth less.
func TestWhatCouldSpoilAPlan(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	g, err := j.report(Grinding{}, one, nil)
	if err != nil {
		t.Fatal(err)
	}
	j.lots.grind[1].prepare = fact.Saying{}
	j.bench.mill.RatedPower = shoptest.P(700)
	weights := func() map[string]float64 {
		all := map[string]float64{}
		last := math.Inf(1)
		for _, f := range j.spoilers(&g) {
			if f.Weight > last {
				t.Errorf("%s is told too late", f.Code)
			}
			all[f.Code], last = f.Weight, f.Weight
		}
		return all
	}
	is := func(code string, weight float64) {
		t.Helper()
		got, there := weights()[code]
		if there != (weight > 0) || math.Abs(got-weight) > 1e-12 {
			t.Errorf("%s weighs %g, by hand %g", code, got, weight)
		}
	}
	if all := weights(); len(all) != 0 {
		t.Errorf("%v", all)
	}
	held := func(holds float64) { g.Limits[0].Figure.Limit.Holds = holds }
	held(0.899)
	is("plan.limit_fails", 0.101)
	held(0.9)
	is("plan.limit_fails", 0)
	held(1)
	g.Product.Value, g.Product.Low = 1, 0.801
	is("plan.uncertain", 0)
	g.Product.Low = 0.799
	is("plan.uncertain", 0.2)
	j.bench.mill.ContinuousPower = nil
	is("plan.rating_unknown", 0.15)
	j.bench.mill.RatedPower = nil
	is("plan.draw_unknown", 0.4)
	j.bench.mill.Controller.Watts = []shop.LevelWatts{{Level: 3, Watts: 100}}
	is("plan.draw_unknown", 0)
	j.bench.mill.Controller = nil
	is("plan.draw_unknown", 0.4)
	j.lots.grind[1].prepare = fact.Say("plan.break_up")
	is("plan.too_large", 0.5)
	is("plan.rating_unknown", 0) // three are told
	g.Take = g.Take[:1]
	is("plan.too_large", 0) // of what is ground
	g.Limits[0].Figure.Warnings, g.Limits[0].Figure.Limit.Holds = []string{asWarmAsBefore}, 0.5
	is("plan.limit_fails_by_forecast", 0.5)
	g.Trial = &Trial{}
	is("plan.limit_fails", 0.5)
	for key, want := range map[string]string{"charge_temperature": "plan.look_into_charge", "wall_temperature": "plan.feel_the_pot", "fill": "plan.do_not_press", "jar": "plan.look_at_jar",
		"stall": "plan.start_empty", "noise": "plan.protect_ears", "motor": "plan.watch_plug"} {
		if got := remedyFor(key).Code; got != want {
			t.Errorf("of %s: %s", key, got)
		}
	}
}

// A mill near its rating is warned of from seven tenths on; who never ran one hears everything, and what a mill lacks leads.
func TestCautionsOfAMill(t *testing.T) {
	t.Parallel()
	j, _ := round(t)
	of := func(load, rating float64) map[string]float64 {
		all := map[string]float64{}
		for _, f := range j.cautions(load, rating, nil) {
			all[f.Code] = f.Weight
		}
		return all
	}
	for load, told := range map[float64]bool{349: false, 351: true} {
		if w, there := of(load, 500)["plan.near_rating"]; there != told || w != 0 {
			t.Errorf("%g of 500 W told: %t", load, there)
		}
	}
	if _, there := of(351, 0)["plan.near_rating"]; there {
		t.Error("near an unknown rating")
	}
	for _, code := range []string{"plan.mind_earth", "plan.mind_lid", "plan.mind_ears", "plan.mind_dust", "plan.mind_no_safety_device", "plan.nobody_said_whether"} {
		if of(0, 0)[code] != 1 {
			t.Errorf("%s does not lead", code)
		}
	}
	j.mill.Runs = []shop.RecordID{7}
	j.mill.Earth, j.mill.LidSwitch, j.mill.ResidualCurrent = shop.Yes, shop.Yes, shop.Yes
	all := of(0, 0)
	if _, there := all["plan.mind_earth"]; there || !j.lacks().Empty() {
		t.Errorf("%v", all)
	}
	if _, there := all["plan.nobody_said_whether"]; there {
		t.Errorf("%v", all)
	}
	j.mill.LidSwitch = shop.No
	if of(0, 0)["plan.no_lid_switch"] != 1 || j.lacks().Code != "plan.lacks" {
		t.Errorf("%v", of(0, 0))
	}
}

// The weakest of the limits is named with its share; a stall twice as likely as is borne counts as 45 of 100.
func TestTheWeakestLimit(t *testing.T) {
	t.Parallel()
	full := held{charge: 1, wall: 1, fill: 1, motor: 1, jar: 1, noise: 1}
	well := cellLimits{fill: 1, controller: 1, stall: 0.02, borne: 0.02}
	for i, c := range []struct {
		change func(*held, *cellLimits)
		limit  string
		share  float64
	}{
		{func(*held, *cellLimits) {}, "", 1},
		{func(h *held, _ *cellLimits) { h.charge = 0.5 }, "charge_temperature", 0.5},
		{func(h *held, _ *cellLimits) { h.wall = 0.5 }, "wall_temperature", 0.5},
		{func(h *held, c *cellLimits) { h.fill, c.fill = 0.4, 0.6 }, "fill", 0.4},
		{func(h *held, c *cellLimits) { h.fill, c.fill = 0.6, 0.4 }, "fill", 0.4},
		{func(h *held, _ *cellLimits) { h.motor, h.jar = 0.5, 0.5 }, "motor", 0.5},
		{func(h *held, _ *cellLimits) { h.motor, h.jar = 0.5, 0.4 }, "jar", 0.4},
		{func(h *held, _ *cellLimits) { h.noise = 0.5 }, "noise", 0.5},
		{func(_ *held, c *cellLimits) { c.controller = 0.5 }, "controller", 0.5},
		{func(_ *held, c *cellLimits) { c.stall = 0.04 }, "stall", 0.45},
		{func(h *held, _ *cellLimits) { h.need, h.cool = 0, 0 }, "", 1},
	} {
		h, l := full, well
		c.change(&h, &l)
		limit, share := (&bench{}).weakest(campaign{shares: h}, l)
		if limit != c.limit || math.Abs(share-c.share) > 1e-12 {
			t.Errorf("case %d: %q holds in %g", i, limit, share)
		}
	}
}

// Which reading frees which limit, and that three of a kind are enough.
func TestWhichReadingFreesALimit(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	for limit, want := range map[string]string{"charge_temperature": "charge", "wall_temperature": "wall", "fill": "product", "product": "product", "total": "product", "stall": "stall",
		"motor": "draw", "controller": "draw", "noise": "noise", "jar": "jar"} {
		if got := j.frees(limit, one).Code; got != "plan.frees_"+want {
			t.Errorf("%s is freed by %s", limit, got)
		}
	}
	if f, _ := j.frees("charge_temperature", one).Fact("below"); f.Value != 330 {
		t.Errorf("read below %g K", f.Value)
	}
	for limit, read := range map[string]func(int) readings{
		"charge_temperature": func(n int) readings { return readings{9, 9, 9, 9, n, 9} },
		"wall_temperature":   func(n int) readings { return readings{9, 9, 9, n, 9, 9} },
		"motor":              func(n int) readings { return readings{9, 9, 9, 9, 9, n} },
		"controller":         func(n int) readings { return readings{9, 9, 9, 9, 9, n} },
		"fill":               func(n int) readings { return readings{9, 9, n, 9, 9, 9} },
		"product":            func(n int) readings { return readings{9, n, 9, 9, 9, 9} },
	} {
		for n, want := range map[int]bool{0: true, 2: true, 3: false} {
			if j.bench.practice.read = read(n); j.unread(limit) != want {
				t.Errorf("%s with %d readings unread: %t", limit, n, !want)
			}
		}
	}
	if !j.unread("noise") || j.unread("jar") {
		t.Error("noise is to be read, a jar is not")
	}
	j.mill.Noise = shoptest.P(90)
	if j.unread("noise") {
		t.Error("noise was read")
	}
	for limit, want := range map[string][]string{"": {"masses", "wall", "charge"}, "charge_temperature": {"charge", "wall", "masses"}, "wall_temperature": {"wall", "masses", "charge"}} {
		for i, s := range j.toRead(limit) {
			if s.Code != "plan.read_"+want[i] {
				t.Errorf("of %q %d. is read %s", limit, i, s.Code)
			}
		}
	}
}

// A charge is told apart from the nearest from a tenth of its logarithm on (10.5 %), a run from fifteen hundredths (16.2 %),
// a level from the next one on.
func TestWhatIsNewInAPlan(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	for i, c := range []struct {
		charge, time float64
		level        int
		want         []string
	}{
		{0.1, 100, 12, nil}, {0.1, 100, 11, []string{"level"}}, {0.1, 100, 0, nil},
		{0.1 / 1.1, 100, 12, nil}, {0.1 / 1.11, 100, 12, []string{"charge"}}, {0.111, 100, 12, []string{"charge"}},
		{0.1, 100 / 1.16, 12, nil}, {0.1, 100 / 1.17, 12, []string{"run"}}, {0.1, 117, 12, []string{"run"}}, {0.2, 200, 13, []string{"level", "charge", "run"}},
	} {
		j.bench.practice.deeds = []deed{done(c.charge, c.time, c.level)}
		var got []string
		for _, s := range j.near(one) {
			got = append(got, s.Code[len("plan.near_"):])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("case %d: %v is new, by hand %v", i, got, c.want)
		}
	}
	if j.bench.practice.deeds = nil; j.near(one) != nil {
		t.Error("nobody ran it")
	}
	if got := charges([]int{1, 12}); got.Name != "after" || len(got.Parts) != 2 {
		t.Errorf("%+v", got)
	}
}
