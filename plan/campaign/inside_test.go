package campaign

// A campaign's moments, its cycle and what is filled in, each bound at both sides.

import (
	"errors"
	"math"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A plan of the rest begins at the latest record, for less than six hours; after that at the full hour.
func TestWhenTheRestBegins(t *testing.T) {
	t.Parallel()
	late := shoptest.Noon.Add(-6 * time.Hour)
	c := shop.Campaign{ID: 2, Latest: late}
	for now, want := range map[time.Time]time.Time{
		shoptest.Noon.Add(-1): late,
		shoptest.Noon:         shoptest.Noon,
		shoptest.Noon.Add(40*time.Minute + 3*time.Second):    shoptest.Noon,
		shoptest.Noon.Add(time.Hour + 59*time.Minute + 59e9): shoptest.Noon.Add(time.Hour),
	} {
		if got := moment(c, now); !got.Equal(want) {
			t.Errorf("at %v it begins at %v, wanted %v", now, got, want)
		}
	}
	// Waits and runs are told by the second, from the clock.
	at := shoptest.Noon
	c = shop.Campaign{Started: at.Add(-100 * time.Second), Now: shop.Cycle{Run: 130}}
	if left := Runs(c, at); left != 30 {
		t.Errorf("%g s of the run are left", left)
	}
	if rest := Rests(c, shop.Cycle{Rest: 300}, at); rest != 0 {
		t.Errorf("a mill that never stopped rests %g s", rest)
	}
	c.Stopped = at.Add(-200 * time.Second)
	if rest := Rests(c, shop.Cycle{Rest: 300}, at); rest != 100 {
		t.Errorf("%g s of the rest are left", rest)
	}
	if rest := Rests(c, shop.Cycle{Rest: 150}, at); rest != 0 {
		t.Errorf("%g s of a rest that is over are left", rest)
	}
	for s, want := range map[float64]float64{0: 0, 12.4: 12, 12.5: 13} {
		if whole(s) != want {
			t.Errorf("%g s are told as %g", s, whole(s))
		}
	}
}

// What ran is filled in by the clock, a second at the least, else as planned; no more than the scrap there is; into the
// granulate it went into before, as long as that is of this plastic.
func TestWhatIsFilledIn(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 5), shoptest.Scrap("PETG", "black", 0.05),
		&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, &shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "PETG", Mass: 1})
	level, rested := 7, 33.0
	c := shop.Campaign{CampaignBegun: shop.CampaignBegun{Mill: "Rattle", Polymer: "PLA"}, Into: "R1", Now: shop.Cycle{Charge: 0.09, Run: 100, Level: &level}, Rested: &rested, Stalled: true}
	b := Filled(s, c, nil)
	if b.Mill != "Rattle" || b.From != "S1" || b.Into != "R1" || b.Charge != 0.09 || b.Run != 100 || *b.Level != 7 || !b.Stalled || *b.RestBefore != 33 {
		t.Errorf("%+v", b)
	}
	for ran, want := range map[time.Duration]float64{61400 * time.Millisecond: 61, 61600 * time.Millisecond: 62, 200 * time.Millisecond: 1, -time.Second: 100, 0: 100} {
		c.Started, c.Stopped = shoptest.Noon, shoptest.Noon.Add(ran)
		if b = Filled(s, c, nil); b.Run != want {
			t.Errorf("a run of %v is filled in as %g s", ran, b.Run)
		}
	}
	c.Started = time.Time{}
	if b = Filled(s, c, nil); b.Run != 100 {
		t.Errorf("a run that nobody started is filled in as %g s", b.Run)
	}
	for into, want := range map[shop.LotID]shop.LotID{"R1": "R1", "R2": "", "R9": "", "": ""} {
		c.Into = into
		if b = Filled(s, c, nil); b.Into != want {
			t.Errorf("into %q it is filled in into %q", into, b.Into)
		}
	}
	for charge, want := range map[float64]float64{4.99: 4.99, 5.01: 5} {
		c.Now.Charge = charge
		if b = Filled(s, c, nil); b.Charge != want {
			t.Errorf("%g kg of 5 kg are filled in as %g kg", charge, b.Charge)
		}
	}
	// The lot: as planned, where any of it is left; else the first scrap of this plastic that would do.
	c.Lots = []shop.LotID{"S2", "R1", "S1"}
	for from, want := range map[shop.LotID]shop.LotID{"S2": "S2", "S9": "S1", "": "S1"} {
		if got := lotOf(s, c, &Ahead{From: from}); got != want {
			t.Errorf("planned from %q it comes from %q, wanted %q", from, got, want)
		}
	}
	if c.Lots = []shop.LotID{"S2", "R1"}; lotOf(s, c, nil) != "" {
		t.Errorf("no lot would do, and it comes from %q", lotOf(s, c, nil))
	}
}

func planned(charge, charges, product float64) plan.Grinding {
	exact := func(v float64) figure.Figure { return figure.Exact("k", "n", quantity.Number, v, figure.Reckoned) }
	return plan.Grinding{Mill: "Rattle", Polymer: "PLA", Product: exact(product),
		Setting: plan.Setting{Charge: exact(charge), Charges: exact(charges), Run: exact(100), Rest: exact(300), StopAt: exact(0.25)}}
}

// A cycle expects the product of a charge, no more than went in; a wall's bound and the charges a trial foretells go with it.
func TestTheCycleOfAPlan(t *testing.T) {
	t.Parallel()
	g := planned(0.1, 4, 0.3)
	c := cycleOf(g)
	if c.Charge != 0.1 || c.Run != 100 || c.Rest != 300 || c.Charges != 4 || c.Level != nil || c.Wall != nil || math.Abs(*c.Expect-0.075) > 1e-12 {
		t.Errorf("%+v", c)
	}
	if c = cycleOf(planned(0.1, 4, 0.9)); *c.Expect != 0.1 {
		t.Errorf("of 100 g %g kg are expected", *c.Expect)
	}
	if cycleOf(planned(0.1, 4, 0)).Expect != nil || cycleOf(planned(0.1, 0, 0.3)).Expect != nil {
		t.Error("of nothing something is expected")
	}
	level := figure.Exact("level", "n", quantity.Count, 12, figure.Reckoned)
	g.Setting.Level = &level
	held := func(key string, v float64) answer.Limit {
		return answer.Limit{Key: key, Bound: answer.Bound{Figure: figure.Exact("k", "n", quantity.Temperature, 300, figure.Reckoned).Held(figure.Limit{Name: "n", Value: v, Side: figure.Below})}}
	}
	g.Limits = []answer.Limit{held("charge_temperature", 320), held("wall_temperature", 328)}
	more := figure.Exact("charges_ahead", "n", quantity.Count, 6.4, figure.Reckoned)
	g.Trial = &plan.Trial{Ahead: &more}
	if c = cycleOf(g); *c.Level != 12 || *c.Wall != 328 || c.Charges != 6 {
		t.Errorf("%+v: level %d, wall %g", c, *c.Level, *c.Wall)
	}
	more.Value = 2
	if c = cycleOf(g); c.Charges != 4 {
		t.Errorf("%d charges", c.Charges)
	}
	// Begun for prints of two names, each told once.
	need := func(name string) shop.Need { return shop.Need{Name: name} }
	b, err := Begin(planned(0.1, 1, 0.08), plan.Request{Need: need("hook"), Also: []shop.Need{need(""), need("lid"), need("hook")}, Colour: "black"}, "key")
	if err != nil || len(b.Needs) != 2 || b.Needs[0] != "hook" || b.Needs[1] != "lid" || b.Wanted != 0.25 || b.Colour != "black" || b.Key != "key" {
		t.Errorf("%+v, %v", b, err)
	}
	stopped := planned(0.1, 1, 0.08)
	stopped.Setting.StopAt.Value = 0
	for _, g := range []plan.Grinding{planned(0, 1, 1), planned(0.1, 0.5, 1), stopped} {
		if _, err := Begin(g, plan.Request{}, ""); err == nil {
			t.Errorf("begun with %+v", g.Setting)
		}
	}
	var refused *shop.Error
	g = planned(0, 0, 0)
	g.OnHand = []plan.Take{{}}
	if _, err := Begin(g, plan.Request{}, ""); !errors.As(err, &refused) || refused.What.Code != "campaign.on_hand" {
		t.Errorf("%v", err)
	}
	g.Blocked = &answer.Block{}
	if _, err := Begin(g, plan.Request{}, ""); !errors.As(err, &refused) || refused.What.Code != "campaign.nothing_to_begin" {
		t.Errorf("%v", err)
	}
}

// What moved differs by more than a twentieth of the larger, and says by how much; a level by any step.
func TestWhatIsChanged(t *testing.T) {
	t.Parallel()
	twelve, eleven := 12, 11
	was := shop.Cycle{Charge: 0.1, Run: 100, Rest: 400, Charges: 20, Level: &twelve}
	for i, c := range []struct {
		now   shop.Cycle
		codes []string
		by    []float64
	}{
		{shop.Cycle{Charge: 0.105, Run: 105, Rest: 420, Charges: 21, Level: &twelve}, nil, nil},
		{shop.Cycle{Charge: 0.0951, Run: 95.1, Rest: 381, Charges: 19}, nil, nil},
		{shop.Cycle{Charge: 0.106, Run: 106, Rest: 422, Charges: 22, Level: &eleven}, []string{"campaign.level_now", "campaign.charge_more", "campaign.run_longer", "campaign.rest_longer", "campaign.charges_more"}, []float64{11, 0.006, 6, 22, 2}},
		{shop.Cycle{Charge: 0.0949, Run: 94.4, Rest: 379, Charges: 18, Level: &twelve}, []string{"campaign.charge_less", "campaign.run_shorter", "campaign.rest_shorter", "campaign.charges_fewer"}, []float64{0.0051, 6, 21, 2}},
	} {
		all := changed(was, c.now)
		if len(all) != len(c.codes) {
			t.Errorf("case %d: %+v", i, all)
			continue
		}
		for k, one := range all {
			if one.Code != c.codes[k] || math.Abs(one.Facts[0].Value-c.by[k]) > 1e-9 {
				t.Errorf("case %d: %s by %g, wanted %s by %g", i, one.Code, one.Facts[0].Value, c.codes[k], c.by[k])
			}
		}
	}
}

// The reading furthest from its forecast, in half widths of it, is named from four tenths on, with how far it is off.
func TestWhichReadingSurprised(t *testing.T) {
	t.Parallel()
	read := func(key string, low, high, actual float64) plan.Readback {
		return plan.Readback{Forecast: figure.Figure{Key: key, Value: (low + high) / 2, Low: low, High: high}, Actual: figure.Exact(key, "", quantity.Number, actual, figure.Measured)}
	}
	for i, c := range []struct {
		read []plan.Readback
		code string
		by   float64
	}{
		{[]plan.Readback{read("left", 10, 20, 17.01)}, "campaign.left_more", 2.01},
		{[]plan.Readback{read("left", 10, 20, 12.99)}, "campaign.left_less", 2.01},
		{[]plan.Readback{read("left", 10, 20, 16.99)}, "", 0},
		{[]plan.Readback{read("left", 10, 20, 18), read("charge_after", 300, 302, 299), read("energy", 100, 200, 170)}, "campaign.charge_cooler", 2},
		{[]plan.Readback{read("charge_after", 300, 302, 304)}, "campaign.charge_warmer", 3},
		{[]plan.Readback{read("energy", 100, 200, 171), read("left", 15, 15, 18)}, "campaign.energy_more", 21}, // a forecast without a width tells nothing
		{[]plan.Readback{read("energy", 100, 200, 120)}, "campaign.energy_less", 30},
		{[]plan.Readback{read("product", 10, 20, 20)}, "campaign.product_more", 5},
		{[]plan.Readback{read("wall_after", 10, 20, 20)}, "campaign.wall_warmer", 5},
		{nil, "", 0},
	} {
		told := &told{state: shoptest.Bin(t), a: &Ahead{Last: &plan.Compared{Read: c.read}}}
		why, ok := told.because()
		if ok != (c.code != "") || ok && (why.Code != c.code || math.Abs(why.Facts[0].Value-c.by) > 1e-9) {
			t.Errorf("case %d: %t %s %+v", i, ok, why.Code, why.Facts)
		}
	}
}

// Which charge it is, of how many: two were recorded, and three are planned yet.
func TestWhichChargeItIs(t *testing.T) {
	t.Parallel()
	value := func(f fact.Fact) float64 { return f.Value }
	one := &told{c: shop.Campaign{Runs: []shop.RecordID{7, 9}, Stage: shop.ReadyStage, Now: shop.Cycle{Charge: 0.1, Run: 90, Charges: 9}}, next: shop.Cycle{Charge: 0.2, Run: 80, Charges: 3}}
	if value(one.k()) != 3 || value(one.n()) != 5 || value(one.charge()) != 0.2 || value(one.run()) != 80 {
		t.Errorf("charge %g of %g, %g kg for %g s", value(one.k()), value(one.n()), value(one.charge()), value(one.run()))
	}
	one.c.Stage, one.next.Charges = shop.RunStage, 0
	if value(one.n()) != 3 || value(one.charge()) != 0.1 || value(one.run()) != 90 {
		t.Errorf("while it runs %g kg for %g s, of %g", value(one.charge()), value(one.run()), value(one.n()))
	}
	// Nothing is planned: nothing is left to tell. As begun, three runs of 80 s and two rests of 60 s.
	if f := one.still(); f.Value != 0 {
		t.Errorf("%g s are left of no plan", f.Value)
	}
	one.a, one.next = &Ahead{Possible: true, Begun: true}, shop.Cycle{Run: 80, Rest: 60, Charges: 3}
	if f := one.still(); f.Value != 360 {
		t.Errorf("%g s are left", f.Value)
	}
	one.a = &Ahead{Possible: true}
	one.a.Grinding.Setting.Total = figure.Exact("total", "n", quantity.Duration, 99, figure.Reckoned)
	if f := one.still(); f.Value != 99 {
		t.Errorf("%g s are left as planned anew", f.Value)
	}
	if c := (&Ahead{}).next(one.c); c.Charge != 0.1 {
		t.Errorf("without a plan the next is %+v", c)
	}
	if c := (&Ahead{Possible: true, Cycle: shop.Cycle{Charge: 0.3}}).next(one.c); c.Charge != 0.3 {
		t.Errorf("with a plan the next is %+v", c)
	}
}
