package plan_test

// Every pair of rooms is asked the same about random small shops: unknown parts,
// rough records, slips of the pen.

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan"
	"hopperful/plan/blend"
	"hopperful/plan/books"
	"hopperful/plan/campaign"
	"hopperful/plan/consumption"
	"hopperful/plan/fit"
	"hopperful/plan/label"
	"hopperful/plan/sieving"
	"hopperful/plan/traceability"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// fewDraws are enough where equal answers are wanted, not good ones.
const fewDraws = 30

// roughly is a mass as people write it down: to 5 g, and now and then ten times it.
func roughly(rt *rapid.T, kg float64) float64 {
	kg = math.Max(0.005, math.Round(kg*200)/200)
	if rapid.IntRange(0, 11).Draw(rt, "slip") == 0 {
		kg *= 10
	}
	return kg
}

// maybe is a value that may not be known.
func maybe(rt *rapid.T, name string, lo, hi float64) *float64 {
	if !rapid.Bool().Draw(rt, name+" known") {
		return nil
	}
	return shoptest.P(rapid.Float64Range(lo, hi).Draw(rt, name))
}

// anyShop is a small shop of a handful of records.
func anyShop(rt *rapid.T, t testing.TB) *shop.State {
	mill := shoptest.Mill()
	if rapid.Bool().Draw(rt, "bare mill") {
		mill = shop.Mill{Name: "Rattle", RatedPower: shoptest.P(2200), Chamber: maybe(rt, "chamber", 5e-4, 3e-3), Screen: shop.Screen{Hole: maybe(rt, "hole", 1.5e-3, 4e-3)}}
	}
	s := shoptest.Bin(t, &shop.MillSet{Mill: mill})
	at := shoptest.Noon.Add(-90 * time.Minute)
	add := func(body shop.Body) {
		at = at.Add(time.Minute)
		if next, err := s.With(shop.Record{At: at, Body: body}); err == nil {
			s = next
		}
	}
	plastics := []string{"PLA", "PETG", "PA6", "PVC", ""}
	for range rapid.IntRange(1, 3).Draw(rt, "bins") {
		add(&shop.TakenIn{Class: rapid.SampledFrom([]shop.Class{shop.Scrap, shop.Scrap, shop.Virgin, shop.Regrind}).Draw(rt, "class"),
			Polymer: rapid.SampledFrom(plastics).Draw(rt, "plastic"), Sure: maybe(rt, "sure", 0.5, 1), Colour: rapid.SampledFrom([]string{"", "black"}).Draw(rt, "colour"),
			Halogen: rapid.SampledFrom([]shop.YesNo{shop.No, shop.No, shop.Unknown, shop.Yes}).Draw(rt, "chlorine"), Mass: roughly(rt, rapid.Float64Range(0.3, 3).Draw(rt, "mass")),
			Pieces: shop.Pieces{Largest: maybe(rt, "largest", 0.01, 0.06), Wall: maybe(rt, "wall", 8e-4, 4e-3)}})
	}
	if rapid.Bool().Draw(rt, "dryer") {
		add(&shop.DryerSet{Dryer: shop.Dryer{Name: "Warm", Way: rapid.SampledFrom(fit.DryWays()).Draw(rt, "way")}})
	}
	if rapid.Bool().Draw(rt, "printer") {
		add(&shop.PrinterSet{Printer: shop.Printer{Name: "Screw", Nozzle: maybe(rt, "nozzle", 4e-4, 2e-3)}})
	}
	for range rapid.IntRange(0, 7).Draw(rt, "steps") {
		add(anyBody(rt, s))
	}
	return s
}

// anyBody is something that happened to a lot of the shop.
func anyBody(rt *rapid.T, s *shop.State) shop.Body {
	l := s.Lots.At(rapid.SampledFrom(s.Order).Draw(rt, "lot"))
	mass := l.Mass * rapid.Float64Range(0.05, 0.6).Draw(rt, "part")
	switch rapid.IntRange(0, 9).Draw(rt, "what") {
	case 0:
		return &shop.Sieved{Lot: l.ID, Charge: 0.1, Series: shop.OwnSet, Holes: shop.RoundHoles, Pan: rapid.Float64Range(0, 0.02).Draw(rt, "pan"),
			Sieves: []shop.OnSieve{{Opening: 0.002, Mass: 0.03}, {Opening: 0.001, Mass: 0.04}, {Opening: 0.0005, Mass: 0.015}}}
	case 1:
		return &shop.Dried{Lot: l.ID, Way: rapid.SampledFrom(fit.DryWays()).Draw(rt, "dried in"), Temperature: 328.15, Time: 4 * 3600}
	case 2:
		return &shop.Weighed{Lot: l.ID, Mass: roughly(rt, l.Mass)}
	case 3:
		return &shop.PassedMagnet{Lot: l.ID, Metal: 1e-5}
	case 4:
		return &shop.Dedusted{Lot: l.ID, Dust: mass / 20}
	case 5:
		return &shop.Printed{From: l.ID, Print: "part", Mass: mass, Purged: maybe(rt, "purged", 0.005, 0.03)}
	}
	charge := math.Min(math.Max(roughly(rt, 0.05+0.1*rapid.Float64().Draw(rt, "charge")), 0.02), math.Max(l.Mass, 0.02))
	g := &shop.Ground{Mill: "Rattle", From: l.ID, Charge: charge, Run: rapid.Float64Range(45, 180).Draw(rt, "run"),
		WallAfter: maybe(rt, "wall after", 295, 315), ChargeAfter: maybe(rt, "charge after", 298, 325), Stalled: rapid.IntRange(0, 9).Draw(rt, "stall") == 0}
	if rapid.IntRange(0, 4).Draw(rt, "weighed") > 0 {
		g.Product = shoptest.P(roughly(rt, charge*rapid.Float64Range(0.6, 1).Draw(rt, "yield")))
	}
	if m, ok := s.Mill("Rattle"); ok && m.Controller != nil {
		level := rapid.IntRange(8, 16).Draw(rt, "level")
		g.Level = &level
	}
	return g
}

// anyShops is how many shops are asked: each takes half a second of a processor.
const anyShops = 24

// TestRoomsAgreeAboutAnyShop asks the rooms of random shops the same questions. The
// shops are the same each time, so that what fails once fails again.
func TestRoomsAgreeAboutAnyShop(t *testing.T) {
	t.Parallel()
	shops := rapid.Custom(func(rt *rapid.T) asked {
		return asked{anyShop(rt, t), shop.Need{Name: "vase", From: "typed", Polymer: rapid.SampledFrom([]string{"PLA", "PETG", "PA6"}).Draw(rt, "wanted"),
			Mass: shoptest.P(rapid.Float64Range(0.02, 0.5).Draw(rt, "need"))}}
	})
	for n := range anyShops {
		t.Run(fmt.Sprint("shop ", n), func(t *testing.T) {
			one := shops.Example(n)
			a := &asking{T: t, s: one.shop, need: one.need, judged: map[shop.LotID]fit.Fitness{}}
			a.plan = a.grind()
			for _, id := range a.s.Order {
				a.judged[id] = a.judge(id)
			}
			for _, id := range a.s.Order {
				a.holds(id)
				a.barred(id)
				a.dries(id)
				a.sieves(id)
				a.fits(id)
			}
			a.wants()
			a.grinds()
			a.foretold()
		})
	}
}

// asked is a random shop and what it is asked for.
type asked struct {
	shop *shop.State
	need shop.Need
}

// asking asks the rooms of one shop.
type asking struct {
	*testing.T
	s      *shop.State
	need   shop.Need
	plan   plan.Grinding
	judged map[shop.LotID]fit.Fitness
}

func (a *asking) judge(id shop.LotID) fit.Fitness {
	f, err := fit.Judge(a.s, fit.Request{Lot: id, Need: a.need, Now: shoptest.Noon, Draws: fewDraws})
	if err != nil {
		a.Fatalf("fit %s: %v", id, err)
	}
	return f
}

func (a *asking) grind() plan.Grinding {
	g, err := plan.Grind(a.s, a.request())
	if err != nil {
		a.Fatalf("plan: %v", err)
	}
	return g
}

func (a *asking) request() plan.Request {
	return plan.Request{Need: a.need, Now: shoptest.Noon, Draws: fewDraws}
}

// holds asks what is left of a lot: the stock, its family, its sticker, its account.
func (a *asking) holds(id shop.LotID) {
	l := a.s.Lots.At(id)
	t, err := traceability.Trace(a.s, id)
	if err != nil {
		a.Fatal(err)
	}
	if math.Abs(t.OnHand-l.Mass) > 1e-9 {
		a.Errorf("%s: the stock holds %g kg, its family %g", id, l.Mass, t.OnHand)
	}
	shown := quantity.OnScale(l.Mass)
	st, err := label.Of(a.s, id, shoptest.Noon)
	if err != nil {
		a.Fatal(err)
	}
	for _, line := range st.Lines {
		if f, ok := line.Fact("mass"); ok && (f.Style != fact.Scale || quantity.OnScale(f.Value) != shown) {
			a.Errorf("%s: the stock shows %s, the sticker %+v", id, shown, f)
		}
	}
	account, err := books.OfLot(a.s, id)
	if err != nil {
		a.Fatal(err)
	}
	if f, ok := account.Head.Fact("left"); !ok || math.Abs(f.Value-l.Mass) > 1e-9 {
		a.Errorf("%s: the stock holds %g kg, its account %+v", id, l.Mass, f)
	}
}

// barred asks whether a lot may be melted at all, dried, blended or ground.
func (a *asking) barred(id shop.LotID) {
	l := a.s.Lots.At(id)
	rule := l.Bar()
	f := a.judged[id]
	if !f.Mixed && (f.Refused != nil) != (rule != nil) || f.Refused != nil && !f.Mixed && f.Refused.Code != rule.Code {
		a.Errorf("%s: the rule says %v, fitness %v", id, rule, f.Refused)
	}
	d, err := fit.Dry(a.s, fit.DryRequest{Lot: id, Now: shoptest.Noon, Draws: fewDraws})
	if err != nil || d.Barred != (rule != nil) {
		a.Errorf("%s: the rule says %v, drying %v, %v", id, rule, d.Barred, err)
	}
	st, err := label.Of(a.s, id, shoptest.Noon)
	if err != nil {
		a.Fatal(err)
	}
	if told := slices.ContainsFunc(st.Lines, func(x fact.Saying) bool { return x.Code == "label.barred" }); told != (rule != nil) {
		a.Errorf("%s: the rule says %v, the sticker %v", id, rule, told)
	}
	if rule == nil || l.Mass <= 0 {
		return
	}
	if b, err := blend.Find(a.s, blend.Request{Need: a.need, Lots: []shop.LotID{id}, AnyColour: true, Soon: true, Now: shoptest.Noon}); err == nil && b.Possible {
		a.Errorf("%s: the rule says %v, a blend takes it", id, rule)
	}
	g := a.plan
	for _, x := range slices.Concat(g.Take, g.OnHand) {
		if x.Lot == id {
			a.Errorf("%s: the rule says %v, the plan takes it", id, rule)
		}
	}
}

// dries asks how to dry a lot: the drying, the check of the lot, the sticker.
func (a *asking) dries(id shop.LotID) {
	d, err := fit.Dry(a.s, fit.DryRequest{Lot: id, Now: shoptest.Noon})
	if err != nil {
		a.Fatal(err)
	}
	for _, x := range a.judged[id].Items {
		if x.Key != "dry" || x.Change == nil || x.Change.Kind != fit.Treat {
			continue
		}
		if got, want := without(x.Change.Do), without(d.Instruction()); got != want {
			a.Errorf("%s: the check says %s, the drying %s", id, got, want)
		}
	}
	st, err := label.Of(a.s, id, shoptest.Noon)
	if err != nil {
		a.Fatal(err)
	}
	dried, was := a.s.DriedLast(id)
	for _, line := range st.Lines {
		if f, ok := line.Fact("when"); ok && line.Code == "label.dry_until" && was {
			if r, _ := a.s.Record(dried.ID); !f.Time.Equal(r.At.Add(time.Duration((r.Body.(*shop.Dried).Time + d.Open.Low) * float64(time.Second)))) {
				a.Errorf("%s: dry until %v on its sticker, open for %v by the drying", id, f.Time, d.Open)
			}
		}
	}
	a.water(id)
}

// water asks how dry a lot's plastic gets: by the drying of the plastic, and by the
// lot's place in a blend.
func (a *asking) water(id shop.LotID) {
	if a.s.Lots.At(id).Polymer == "" {
		return
	}
	d, err := fit.Dry(a.s, fit.DryRequest{Polymer: a.s.Lots.At(id).Polymer, Now: shoptest.Noon})
	if err != nil {
		a.Fatal(err)
	}
	b, err := fit.NewBrings(a.s, shoptest.Noon)
	if err != nil {
		a.Fatal(err)
	}
	w, err := b.Water(a.s.Lots.At(id))
	if err != nil {
		a.Fatal(err)
	}
	if w == nil || d.Barred || !d.Needed {
		return
	}
	if math.Abs(w.Rest-d.Rest.Value) > 0.05*d.Rest.Value || math.Abs(w.Wants-d.Limit.Value) > 0.05*d.Limit.Value {
		a.Errorf("%s: a blend reckons with %g of water left by its dryer and %g wanted, the drying (%s) with %g and %g", id, w.Rest, w.Wants, d.Way, d.Rest.Value, d.Limit.Value)
	}
}

// sieves asks what a lot's newest sieving says: by the record, by the lot, in the check.
func (a *asking) sieves(id shop.LotID) {
	all := a.s.Sievings(id)
	if len(all) == 0 {
		return
	}
	stack, err := sieving.NewestStack(a.s, id)
	if err != nil {
		a.Fatal(err)
	}
	one, err := sieving.Of(a.s, stack, sieving.Options{})
	if err != nil {
		return // a stack that says nothing says it twice
	}
	other, err := sieving.OfRecord(a.s, all[0].ID, sieving.Options{})
	if err != nil {
		a.Fatal(err)
	}
	if len(one.Sizes) != len(other.Sizes) {
		a.Fatalf("%s: %d sizes by the lot, %d by the record", id, len(one.Sizes), len(other.Sizes))
	}
	for i := range one.Sizes {
		if one.Sizes[i].Shown() != other.Sizes[i].Shown() {
			a.Errorf("%s: %s is %s by the lot, %s by the record", id, one.Sizes[i].Key, one.Sizes[i].Shown(), other.Sizes[i].Shown())
		}
	}
	left, err := traceability.DustLeft(a.s.Lots.At(id), all[0])
	if err != nil {
		a.Fatal(err)
	}
	for _, x := range a.judged[id].Items {
		if f, ok := x.Says.Fact("fines"); ok && left > 1e-3 && math.Abs(f.Value-left) > 0.2*left {
			a.Errorf("%s: %g of dust by its sieving, %g in the check", id, left, f.Value)
		}
	}
}

// fits asks whether a lot serves the print: a blend of it alone keeps no limit that
// the check says is surely broken, and both want the same plastic of it.
func (a *asking) fits(id shop.LotID) {
	f := a.judged[id]
	if f.Refused == nil && len(f.Items) == 0 {
		a.Fatalf("%s: nothing is asked of it", id)
	}
	worst := answer.Yes
	for _, x := range f.Items {
		if x.Verdict.Rank() > worst.Rank() {
			worst = x.Verdict
		}
	}
	if f.Refused == nil && f.Verdict != worst {
		a.Errorf("%s: %s, its worst item is %s", id, f.Verdict, worst)
	}
	b, err := blend.Find(a.s, blend.Request{Need: a.need, Lots: []shop.LotID{id}, AnyColour: true, Soon: true, Now: shoptest.Noon})
	if err != nil || !b.Possible {
		return
	}
	if f.Refused != nil {
		a.Errorf("%s: it must not be melted, and a blend is made of it", id)
	}
	for _, x := range f.Items {
		if (x.Key == "polymer" || x.Key == "enough") && x.Verdict == answer.No {
			a.Errorf("%s: %s says no in the check, a blend is made of it", id, x.Key)
		}
	}
}

// wants asks how much granulate the print wants.
func (a *asking) wants() {
	table, err := a.s.Table()
	if err != nil {
		a.Fatal(err)
	}
	p, err := table.Find(a.need.Polymer)
	if err != nil {
		a.Fatal(err)
	}
	w, err := consumption.Want(a.s, p, a.need)
	if err != nil {
		a.Fatal(err)
	}
	want := w.Figure.Shown() + " " + w.Figure.ShownRange()
	if g := a.plan; g.Need.Shown()+" "+g.Need.ShownRange() != want {
		a.Errorf("it wants %s, the plan says %s %s", want, g.Need.Shown(), g.Need.ShownRange())
	}
	if b, err := blend.Find(a.s, blend.Request{Need: a.need, AnyColour: true, Soon: true, Now: shoptest.Noon}); err == nil && len(b.Need.Inputs) > 0 {
		if got := b.Need.Inputs[0]; got.Shown()+" "+got.ShownRange() != want {
			a.Errorf("it wants %s, a blend says %s %s", want, got.Shown(), got.ShownRange())
		}
	}
	for _, id := range a.s.Order {
		for _, x := range a.judged[id].Items {
			if got, ok := x.Says.Fact("want"); ok && got.Figure != nil && got.Figure.Shown()+" "+got.Figure.ShownRange() != want {
				a.Errorf("it wants %s, the check of %s says %s %s", want, id, got.Figure.Shown(), got.Figure.ShownRange())
			}
		}
	}
}

// grinds asks for the plan of the print, and begins it: the campaign wants, grinds
// and keeps what the plan says.
func (a *asking) grinds() {
	req, g := a.request(), a.plan
	doc := g.Document()
	for _, l := range g.Limits {
		if !slices.ContainsFunc(doc.Limits, func(b answer.Bound) bool {
			return b.Figure.Key == l.Figure.Key && b.Figure.Limit.Value == l.Figure.Limit.Value
		}) {
			a.Errorf("the plan keeps %s, its answer does not say so", l.Key)
		}
	}
	begun, err := campaign.Begin(g, req, "k")
	if err != nil {
		return // there is nothing to grind
	}
	s, err := a.s.With(shop.Record{At: shoptest.Noon, Body: begun})
	if err != nil {
		a.Fatal(err)
	}
	c, err := campaign.Plan(s, s.Newest().ID, shoptest.Noon)
	if err != nil {
		a.Fatal(err)
	}
	if c.Possible && (c.Cycle.Charge != g.Setting.Charge.Value || c.Cycle.Run != g.Setting.Run.Value) {
		a.Errorf("the plan: %v for %v, the campaign: %g for %g", g.Setting.Charge, g.Setting.Run, c.Cycle.Charge, c.Cycle.Run)
	}
}

// foretold asks what was foretold of the mill's latest runs: at the run, and on the
// page of what the mill has taught.
func (a *asking) foretold() {
	l, err := plan.Learn(a.s, "Rattle")
	if err != nil {
		a.Fatal(err)
	}
	for _, there := range l.Forecasts {
		here, err := plan.Compare(a.s, shop.RecordID(there.Record))
		if err != nil {
			a.Fatal(err)
		}
		if got, want := fmt.Sprint(here), fmt.Sprint(there); got != want {
			a.Errorf("run %d: at the run %s, at the mill %s", there.Record, got, want)
		}
	}
}

// TestAMistakeAtTheMillEndsNoPlan grinds plastic of which the books know next to
// nothing, and must not be ground: the next plan of another goes on.
func TestAMistakeAtTheMillEndsNoPlan(t *testing.T) {
	t.Parallel()
	scrap := shoptest.Scrap("PLA", "black", 2)
	scrap.Lot = "S1"
	s := shoptest.Bin(t, scrap, &shop.TakenIn{Lot: "S2", Class: shop.Scrap, Polymer: "PVC", Mass: 1},
		&shop.Ground{Mill: "Rattle", From: "S2", Charge: 0.05, Product: shoptest.P(0.045), Run: 90})
	grind(t, s, bracket(0.2, "PLA"))
	l, err := plan.Learn(s, "Rattle")
	if err != nil || len(l.Unread) != 1 || l.Unread[0].Why.Code != "learn.unread_polymer" {
		t.Errorf("%v, unread %+v", err, l.Unread)
	}
	if c, err := plan.Compare(s, s.Newest().ID); err != nil || len(c.Read) != 0 {
		t.Errorf("%v, %+v", err, c)
	}
}
