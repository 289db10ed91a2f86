package campaign_test

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan"
	"hopperful/plan/campaign"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// ground is a run of the test's mill, 90 g at level 12 for 100 s unless changed.
func ground(product float64, change func(*shop.Ground)) *shop.Ground {
	level := 12
	b := &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.09, Product: shoptest.P(product), Left: shoptest.P(0.085 - product), Run: 100, Level: &level,
		WallBefore: shoptest.P(293.15), WallAfter: shoptest.P(303.15)}
	if change != nil {
		change(b)
	}
	return b
}

// seasoned is a shop whose mill has five runs on record.
func seasoned(t testing.TB, more ...shop.Body) *shop.State {
	t.Helper()
	all := []shop.Body{shoptest.Scrap("PLA", "black", 5)}
	for range 5 {
		all = append(all, ground(0.075, nil))
	}
	return shoptest.Bin(t, append(all, more...)...)
}

func with(t testing.TB, s *shop.State, at time.Time, b shop.Body) *shop.State {
	t.Helper()
	s, err := s.With(shop.Record{At: at, Body: b})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// begin plans that many grams of black PLA and begins the campaign at noon.
func begin(t testing.TB, s *shop.State, grams ...float64) (*shop.State, shop.Campaign) {
	t.Helper()
	need := func(g float64) shop.Need { return shop.Need{Name: "part", Polymer: "PLA", Mass: shoptest.P(g / 1000)} }
	req := plan.Request{Need: need(grams[0]), Lots: []shop.LotID{"S1"}, Now: shoptest.Noon}
	for _, g := range grams[1:] {
		req.Also = append(req.Also, need(g))
	}
	g, err := plan.Grind(s, req)
	if err != nil {
		t.Fatal(err)
	}
	b, err := campaign.Begin(g, req, "")
	if err != nil {
		t.Fatal(err)
	}
	s = with(t, s, shoptest.Noon, b)
	c, ok := s.Running("Rattle")
	if !ok {
		t.Fatal("it does not go on")
	}
	return s, c
}

func of(t testing.TB, s *shop.State, id shop.RecordID, now time.Time) (answer.Document, *campaign.Ahead) {
	t.Helper()
	a, err := campaign.Plan(s, id, now)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := campaign.Of(s, id, now, a)
	if err != nil {
		t.Fatal(err)
	}
	return doc, a
}

func head(d answer.Document) string { return d.Head.Code }

// TestFromBeginToEnough walks through a whole campaign by the clock: each stage has
// its head and its step, and it ends when what was wanted came out.
func TestFromBeginToEnough(t *testing.T) {
	t.Parallel()
	s, c := begin(t, seasoned(t), 250)
	if c.Wanted < 0.25 || c.Now.Charges < 2 {
		t.Fatalf("it wants %g kg in %d charges", c.Wanted, c.Now.Charges)
	}
	now := shoptest.Noon
	step := func(what shop.Mark, wait time.Duration) {
		now = now.Add(wait)
		s = with(t, s, now, &shop.CampaignMarked{Campaign: c.ID, What: what})
	}
	want := func(code, do string) {
		t.Helper()
		doc, err := campaign.Of(s, c.ID, now, nil) // as every device shows it, before the rest is planned
		if err != nil {
			t.Fatal(err)
		}
		if head(doc) != code || len(doc.Steps) == 0 || doc.Steps[0].Do.Code != do {
			t.Fatalf("at %v it says %s, want %s and %s: %+v", now.Sub(shoptest.Noon), head(doc), code, do, doc.Steps)
		}
	}
	want("campaign.sheet", "do.tick_sheet")
	step(shop.SheetSkipped, time.Second)
	want("campaign.ready", "do.start_charge")
	for k := 1; ; k++ {
		if k > 12 {
			t.Fatal("it never is enough")
		}
		step(shop.RunStarted, time.Second)
		want("campaign.running", "do.stop_charge")
		run := time.Duration(c.Now.Run * float64(time.Second))
		now = now.Add(run)
		want("campaign.time_over", "do.stop_charge")
		step(shop.RunStopped, time.Second)
		want("campaign.note", "do.record_charge")
		filled := campaign.Filled(s, must(s.Campaign(c.ID)), nil)
		if math.Abs(filled.Run-run.Seconds()-1) > 0.5 || filled.From != "S1" || filled.Mill != "Rattle" || (k > 1) != (filled.Into != "") {
			t.Fatalf("filled in is %+v", filled)
		}
		filled.Product = shoptest.P(filled.Charge * 0.83)
		s = with(t, s, now, filled)
		one := must(s.Campaign(c.ID))
		if one.Done() != k {
			t.Fatalf("%d charges are counted after %d", one.Done(), k)
		}
		if one.Enough() {
			break
		}
		want("campaign.resting", "do.start_charge")
		now = now.Add(time.Hour)
		want("campaign.ready", "do.start_charge")
	}
	want("campaign.enough", "do.end_campaign")
	step(shop.EndedMark, time.Second)
	doc, err := campaign.Of(s, c.ID, now, nil)
	if err != nil || head(doc) != "campaign.ended" || len(doc.Steps) != 0 {
		t.Errorf("ended, it says %s, %v", head(doc), err)
	}
}

func must(c shop.Campaign, ok bool) shop.Campaign {
	if !ok {
		panic("no such campaign")
	}
	return c
}

// TestBegunAsPlanned: whoever begins a plan is told its charges, not others; what is
// written down beside it, or a mill that stood, has the rest planned anew.
func TestBegunAsPlanned(t *testing.T) {
	t.Parallel()
	s, c := begin(t, seasoned(t), 250)
	s = with(t, s, shoptest.Noon.Add(time.Second), &shop.CampaignMarked{Campaign: c.ID, What: shop.SheetSkipped})
	soon := shoptest.Noon.Add(time.Minute)
	doc, a := of(t, s, c.ID, soon)
	if now := a.Cycle; now.Charge != c.Now.Charge || now.Run != c.Now.Run || now.Rest != c.Now.Rest || now.Charges != c.Now.Charges {
		t.Errorf("begun with %+v, told is %+v", c.Now, now)
	}
	n := float64(c.Now.Charges)
	for _, f := range doc.Figures {
		if f.Key == "still" && f.Value != n*c.Now.Run+(n-1)*c.Now.Rest || f.Key == "charge" && !slices.Equal(f.Records, []int64{int64(c.ID)}) {
			t.Errorf("%s is %g, of %v", f.Key, f.Value, f.Records)
		}
	}
	if _, a = of(t, s, c.ID, soon.Add(7*time.Hour)); a.Begun {
		t.Error("not planned for a mill that has stood for hours")
	}
	s = with(t, s, soon, &shop.Weighed{Lot: "S1", Mass: 3})
	if _, a = of(t, s, c.ID, soon); a.Begun {
		t.Error("not planned anew after a record beside it")
	}
}

// TestTheRestIsWhatIsStillWanted: after a charge the plan is for what is missing, no
// more: with half the output there is more left to grind, in more charges or longer ones.
func TestTheRestIsWhatIsStillWanted(t *testing.T) {
	t.Parallel()
	s, c := begin(t, seasoned(t), 400)
	at := shoptest.Noon.Add(time.Minute)
	full := with(t, s, at, ground(c.Now.Charge*0.83, func(b *shop.Ground) { b.Charge, b.Left = c.Now.Charge, nil }))
	doc, a := of(t, full, c.ID, at)
	if need, rest := a.Grinding.Need.Value, c.Wanted-c.Now.Charge*0.83; math.Abs(need-rest) > 1e-9 {
		t.Errorf("planned for %g kg, %g kg are missing", need, rest)
	}
	if len(doc.Steps) != 1 || doc.Steps[0].Why.Empty() {
		t.Errorf("it does not say what changed: %+v", doc.Steps)
	}
	if a.Last == nil || len(a.Last.Read) == 0 {
		t.Error("no forecast stands against what was read")
	}
	little := with(t, s, at, ground(c.Now.Charge*0.4, func(b *shop.Ground) { b.Charge, b.Left = c.Now.Charge, nil }))
	_, less := of(t, little, c.ID, at)
	if more := less.Grinding.Need.Value - a.Grinding.Need.Value; math.Abs(more-0.43*c.Now.Charge) > 1e-9 {
		t.Errorf("with half the output %g kg more are missing, %g kg less came out", more, 0.43*c.Now.Charge)
	}
	left := func(x shop.Cycle) float64 { return float64(x.Charges) * x.Run }
	if left(less.Cycle) < 1.1*left(a.Cycle) {
		t.Errorf("with half the output %g s of grinding are left, with all of it %g s", left(less.Cycle), left(a.Cycle))
	}
}

// TestWhatChangedAndWhy: the reading that lies furthest from its forecast is named,
// with the sign it has, before what the new plan says otherwise than the last.
func TestWhatChangedAndWhy(t *testing.T) {
	t.Parallel()
	s := seasoned(t)
	s = with(t, s, shoptest.Noon, &shop.CampaignBegun{Mill: "Rattle", Polymer: "PLA", Wanted: 0.4, Cycle: shop.Cycle{Charge: 0.09, Run: 100, Rest: 300, Charges: 6}})
	id := s.Newest().ID
	s = with(t, s, shoptest.Noon.Add(time.Minute), ground(0.075, nil)) // five charges are left
	read := func(key string, kind quantity.Kind, value, low, high, actual float64) plan.Readback {
		return plan.Readback{Forecast: figure.Figure{Key: key, Kind: kind, Value: value, Low: low, High: high}, Actual: figure.Exact(key, "", kind, actual, figure.Measured)}
	}
	wall := func(actual float64) plan.Readback {
		return read("wall_after", quantity.Temperature, 310, 308, 312, actual)
	}
	asForetold := read("product", quantity.Mass, 0.075, 0.07, 0.08, 0.0755)
	same := shop.Cycle{Charge: 0.09, Run: 100, Rest: 300, Charges: 5}
	for _, x := range []struct {
		name    string
		read    []plan.Readback
		change  func(*shop.Cycle)
		code    string
		because string
		changes []string
		by      float64
	}{
		{"nothing", []plan.Readback{asForetold, wall(314)}, func(*shop.Cycle) {}, "campaign.as_before", "", nil, 0},
		{"wall 4 K warmer", []plan.Readback{asForetold, wall(314)}, func(c *shop.Cycle) { c.Rest = 390 }, "campaign.changed_because", "campaign.wall_warmer", []string{"campaign.rest_longer"}, 90},
		{"wall 4 K cooler", []plan.Readback{wall(306), asForetold}, func(c *shop.Cycle) { c.Rest = 240 }, "campaign.changed_because", "campaign.wall_cooler", []string{"campaign.rest_shorter"}, 60},
		{"less came out", []plan.Readback{read("product", quantity.Mass, 0.075, 0.07, 0.08, 0.05)}, func(c *shop.Cycle) { c.Charges = 7 }, "campaign.changed_because", "campaign.product_less", []string{"campaign.charges_more"}, 2},
		{"more came out", []plan.Readback{read("product", quantity.Mass, 0.075, 0.07, 0.08, 0.09)}, func(c *shop.Cycle) { c.Charges, c.Charge = 3, 0.12 }, "campaign.changed_because", "campaign.product_more", []string{"campaign.charge_more", "campaign.charges_fewer"}, 0.03},
		{"all as foretold", []plan.Readback{asForetold}, func(c *shop.Cycle) { c.Run = 70 }, "campaign.changed", "", []string{"campaign.run_shorter"}, 30},
		{"nothing read", nil, func(c *shop.Cycle) { c.Charge = 0.08 }, "campaign.changed", "", []string{"campaign.charge_less"}, 0.01},
	} {
		t.Run(x.name, func(t *testing.T) {
			t.Parallel()
			next := same
			x.change(&next)
			doc, err := campaign.Of(s, id, shoptest.Noon.Add(time.Hour), &campaign.Ahead{Possible: true, Cycle: next, Last: &plan.Compared{Read: x.read}})
			if err != nil {
				t.Fatal(err)
			}
			why := doc.Steps[0].Why
			if why.Code != x.code {
				t.Fatalf("it says %s, want %s", why.Code, x.code)
			}
			if f, ok := why.Fact("why"); ok != (x.because != "") || ok && f.Parts[0].Code != x.because {
				t.Errorf("because of %+v, want %s", f.Parts, x.because)
			}
			f, _ := why.Fact("changes")
			if len(f.Parts) != len(x.changes) {
				t.Fatalf("changes %+v, want %v", f.Parts, x.changes)
			}
			for i, c := range x.changes {
				if f.Parts[i].Code != c {
					t.Errorf("changed %s, want %s", f.Parts[i].Code, c)
				}
			}
			if len(x.changes) > 0 && math.Abs(f.Parts[0].Facts[0].Value-x.by) > 1e-9 {
				t.Errorf("changed by %g, want %g", f.Parts[0].Facts[0].Value, x.by)
			}
		})
	}
}

// TestSeveralPrintsShareOne: the wants add up, and what is on hand counts once.
func TestSeveralPrintsShareOne(t *testing.T) {
	t.Parallel()
	_, one := begin(t, seasoned(t), 200)
	_, other := begin(t, seasoned(t), 150)
	_, both := begin(t, seasoned(t), 200, 150)
	if sum := one.Wanted + other.Wanted; math.Abs(both.Wanted-sum) > 0.02+1e-9 { // each is rounded up to 10 g
		t.Errorf("together they want %g kg, alone %g kg", both.Wanted, sum)
	}
}

// TestSameAnswerEverywhere: a plan of the rest hangs on the records, not on the
// second in which a device asks.
func TestSameAnswerEverywhere(t *testing.T) {
	t.Parallel()
	s, c := begin(t, seasoned(t), 400)
	at := shoptest.Noon.Add(time.Minute)
	s = with(t, s, at, ground(0.07, nil))
	_, a := of(t, s, c.ID, at.Add(time.Second))
	_, b := of(t, s, c.ID, at.Add(time.Hour))
	if a.Cycle.Charge != b.Cycle.Charge || a.Cycle.Rest != b.Cycle.Rest || a.Cycle.Charges != b.Cycle.Charges {
		t.Errorf("%+v and an hour later %+v", a.Cycle, b.Cycle)
	}
}

// TestNewShopOfThreeRoughCharges: little is known and one is a slip; a campaign can
// be begun all the same, and goes on from its own first charge.
func TestNewShopOfThreeRoughCharges(t *testing.T) {
	t.Parallel()
	rough := func(charge float64, product *float64) *shop.Ground {
		return &shop.Ground{Mill: "Rumble", From: "S1", Into: "R1", Charge: charge, Product: product, Run: 120}
	}
	s := shoptest.Bin(t, &shop.MillSet{Mill: shop.Mill{Name: "Rumble", RatedPower: shoptest.P(1500)}},
		&shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Mass: 4}, rough(0.05, shoptest.P(0.04)), rough(0.5, nil), rough(0.06, shoptest.P(0.05)))
	req := plan.Request{Need: shop.Need{Name: "hook", Polymer: "PLA", Mass: shoptest.P(0.3)}, Mill: "Rumble", Lots: []shop.LotID{"S1"}, Now: shoptest.Noon}
	g, err := plan.Grind(s, req)
	if err != nil {
		t.Fatal(err)
	}
	b, err := campaign.Begin(g, req, "")
	if err != nil {
		t.Fatal(err)
	}
	s = with(t, s, shoptest.Noon, b)
	c, _ := s.Running("Rumble")
	s = with(t, s, shoptest.Noon.Add(time.Minute), rough(c.Now.Charge, nil))
	doc, _ := of(t, s, c.ID, shoptest.Noon.Add(time.Minute))
	if len(doc.Steps) == 0 || !slices.ContainsFunc(doc.Spoilers, func(f answer.Finding) bool { return f.Code == "campaign.unweighed" }) {
		t.Errorf("after a charge that was not weighed it says %s %+v", head(doc), doc.Spoilers)
	}
}

// TestNothingToBegin: a plan without a charge is refused with what to do.
func TestNothingToBegin(t *testing.T) {
	t.Parallel()
	var refused *shop.Error
	if _, err := campaign.Begin(plan.Grinding{}, plan.Request{}, ""); !errors.As(err, &refused) || refused.Advice.Empty() {
		t.Errorf("a plan of nothing is begun: %v", err)
	}
	if _, err := campaign.Plan(seasoned(t), 1, shoptest.Noon); !errors.As(err, &refused) || refused.Code != shop.NotFound {
		t.Errorf("a campaign that is not there: %v", err)
	}
}

// TestMarksThatDoNotFit are refused, each with a way on.
func TestMarksThatDoNotFit(t *testing.T) {
	t.Parallel()
	ready := shop.Campaign{Stage: shop.ReadyStage}
	for _, x := range []struct {
		c    shop.Campaign
		what shop.Mark
		fits bool
	}{
		{ready, shop.RunStarted, true}, {ready, shop.RunStopped, false}, {ready, shop.RunStalled, false}, {ready, shop.ResumedMark, false}, {ready, shop.PausedMark, true},
		{shop.Campaign{Stage: shop.RunStage}, shop.RunStarted, false}, {shop.Campaign{Stage: shop.RunStage}, shop.PausedMark, false},
		{shop.Campaign{Stage: shop.RunStage}, shop.RunStalled, true}, {shop.Campaign{Stage: shop.NoteStage}, shop.RunStarted, false},
		{shop.Campaign{Stage: shop.SheetOpen}, shop.RunStarted, false}, {shop.Campaign{Stage: shop.OverStage}, shop.RunStarted, false},
		{shop.Campaign{Stage: shop.ReadyStage, Paused: true}, shop.ResumedMark, true},
	} {
		err := campaign.Fits(x.c, x.what)
		var refused *shop.Error
		if (err == nil) != x.fits || err != nil && (!errors.As(err, &refused) || refused.Advice.Empty()) {
			t.Errorf("%s at %s: %v", x.what, x.c.Stage, err)
		}
	}
}

// TestNow lists what goes on.
func TestNow(t *testing.T) {
	t.Parallel()
	s := seasoned(t)
	if d := campaign.Now(s, shoptest.Noon); head(d) != "campaign.none" {
		t.Errorf("nothing goes on, and it says %s", head(d))
	}
	s, _ = begin(t, s, 250)
	if d := campaign.Now(s, shoptest.Noon); head(d) != "campaign.sheet" {
		t.Errorf("one goes on, and it says %s", head(d))
	}
	s = with(t, s, shoptest.Noon, &shop.MillSet{Mill: shop.Mill{Name: "Second"}})
	s = with(t, s, shoptest.Noon, &shop.CampaignBegun{Mill: "Second", Polymer: "PLA", Wanted: 0.1, Cycle: shop.Cycle{Charge: 0.05, Run: 60, Charges: 2}})
	d := campaign.Now(s, shoptest.Noon)
	if head(d) != "campaign.several" || len(d.Steps) != 2 || d.Steps[0].Do.Code != "do.go_on_campaign" {
		t.Errorf("two go on, and it says %s %+v", head(d), d.Steps)
	}
}
