package web

import (
	"math"
	"strconv"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/campaign"
	"hopperful/quantity"
	"hopperful/shop"
)

// chargeSheet writes down one run of a mill on one charge. The first group is
// what a person with gloves can answer at the machine; it begins as the last
// charge was, since the next one is nearly always alike.
func chargeSheet(d *desk) sheet {
	mills := d.state.ActiveMills()
	last, ask := d.lastCharge(mills), asking("ground")
	return sheet{
		Kind: "ground", Title: "form.record_a_charge", Submit: "form.record_this_charge", Place: "stock", Timed: true, Clock: d.runClock(last),
		Intro: "form.one_filling_of_the_mill",
		Groups: []group{
			{Fields: []field{
				ask("mill").among(millOptions(mills)).first(last.mill),
				ask("from").among(d.lotOptions("form.choose_a_lot", shop.Scrap, shop.Regrind)).first(last.from),
				ask("level").helped(levelHelp(d.say, mills)).first(last.level),
				ask("charge_kg").first(last.charge),
				ask("run_s"), ask("product_kg"),
			}},
			{Title: "form.where_it_went", Fields: []field{
				ask("into").among(d.lotOptions("form.a_new_lot_of_regrind", shop.Regrind)).first(last.into),
				ask("left_kg"), ask("swept_kg"),
			}},
			{Title: "form.what_you_measured", Folded: true, Intro: "form.every_reading_makes_the_next", Fields: all(ask,
				"charge_before_k", "charge_after_k", "wall_before_k", "wall_after_k", "room_k", "rest_before_s", "energy_j", "hole_m", "stalled", "emptied")},
		},
		After: func(st *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Ground).Into) },
	}
}

// begun is what a new sheet of a charge begins with.
type begun struct {
	mill, from, level, charge, into string
	run                             float64 // s; 0 when nothing was ground yet
}

// planned is the next charge of the campaign that goes on at the mill, which goes
// before the last charge; false where none does or the address asks for another lot.
func (d *desk) planned(b begun) (begun, bool) {
	c, ok := d.state.Running(b.mill)
	if !ok {
		return b, false
	}
	g := campaign.Filled(d.state, c, nil)
	if b.from != "" && b.from != string(g.From) {
		return b, false
	}
	b.from, b.into, b.run = string(g.From), string(g.Into), c.Now.Run
	b.charge = inGrams(d.say, g.Charge)
	if g.Level != nil {
		b.level = strconv.Itoa(*g.Level)
	}
	return b, true
}

// lastCharge is the last charge of the mill the address names, or of any. Where
// the address names a lot, that one counts; its product goes on into the same
// lot only if the scrap is the same.
func (d *desk) lastCharge(mills []shop.MillState) begun {
	b := begun{mill: d.query("mill"), from: d.query("from")}
	if b.from == "" {
		b.from = d.query("lot")
	}
	if b.mill == "" && len(mills) == 1 {
		b.mill = mills[0].Name
	}
	if next, ok := d.planned(b); ok {
		return next
	}
	g := d.lastGround(b.mill)
	if g == nil {
		return b
	}
	b.mill, b.run = g.Mill, g.Run
	if g.Level != nil {
		b.level = strconv.Itoa(*g.Level)
	}
	if b.from == "" {
		b.from = string(g.From)
	}
	from, ok := d.state.Lot(shop.LotID(b.from))
	if ok && from.Mass > 0 {
		b.charge = inGrams(d.say, min(g.Charge, from.Mass))
	}
	if into, ok := d.state.Lot(g.Into); ok && into.Mass > 0 && b.from == string(g.From) {
		b.into = string(g.Into)
	}
	return b
}

// lastGround is the last run of a mill still in use, nil when there is none; ""
// is any mill.
func (d *desk) lastGround(mill string) *shop.Ground {
	for _, r := range d.state.Records.LatestOf(&shop.Ground{}) {
		if g, ok := r.Body.(*shop.Ground); ok && (mill == "" || g.Mill == mill) {
			if m, known := d.state.Mill(g.Mill); known && !m.Retired {
				return g
			}
		}
	}
	return nil
}

// runClock times a run: towards the time a plan names in the address, or as
// long as the last run was.
func (d *desk) runClock(last begun) *stopwatch {
	c := &stopwatch{Fills: "run_s", Since: "rest_before_s", Then: "product_kg"}
	if t, err := quantity.Duration.ParseOr(d.query("target"), "s"); err == nil && t > 0 {
		c.Target, c.Shown = t, d.say.Line("form.the_plan_says", fact.Read("t", quantity.Duration, t))
	} else if last.run > 0 {
		c.Target, c.Shown = last.run, d.say.Line("form.the_last_one_took", fact.Read("run", quantity.Duration, last.run))
	}
	return c
}

// inGrams is a mass as a field in grams begins with it, to the tenth.
func inGrams(p *say.Printer, kg float64) string {
	return p.Typed(quantity.Mass, math.Round(kg*1e4)/1e4, "g")
}

func millOptions(mills []shop.MillState) []option {
	opts := []option{{"", "form.choose_a_mill"}}
	for _, m := range mills {
		opts = append(opts, option{m.Name, m.Name})
	}
	return opts
}

func levelHelp(p *say.Printer, mills []shop.MillState) string {
	most := 0
	for _, m := range mills {
		if m.Controller != nil {
			most = max(most, m.Controller.Levels)
		}
	}
	if most == 0 {
		return "form.only_for_a_mill_with"
	}
	return p.Line("form.1_to_the_highest_is", fact.Name("most", strconv.Itoa(most)))
}
