package sheets

import (
	"math"
	"strconv"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/plan/campaign"
	"hopperful/quantity"
	"hopperful/shop"
)

// Charge writes down one run of a mill on one charge. The first group is
// what a person with gloves can answer at the machine; it begins as the last
// charge was, since the next one is nearly always alike.
func Charge(d *desk.Desk) forms.Sheet {
	mills := d.State.ActiveMills()
	last, ask := lastCharge(d, mills), forms.Of("ground")
	return forms.Sheet{
		Kind: "ground", Title: "form.record_a_charge", Submit: "form.record_this_charge", Place: "stock", Timed: true, Clock: runClock(d, last),
		Intro: "form.charge_intro",
		Groups: []forms.Group{
			{Fields: []forms.Field{
				ask("mill").Among(millOptions(mills)).Begins(last.mill),
				ask("from").Among(d.LotOptions("form.choose_a_lot", shop.Scrap, shop.Regrind)).Begins(last.from),
				ask("level").Helped(levelHelp(d.Say, mills)).Begins(last.level),
				ask("charge_kg").Begins(last.charge),
				ask("run_s"), ask("product_kg"),
			}},
			{Title: "form.where_it_went", Fields: []forms.Field{
				ask("into").Among(d.LotOptions("form.a_new_lot_of_regrind", shop.Regrind)).Begins(last.into),
				ask("left_kg"), ask("swept_kg"),
			}},
			{Title: "form.what_you_measured", Folded: true, Intro: "form.charge_measured_intro", Fields: forms.All(ask,
				"charge_before_k", "charge_after_k", "wall_before_k", "wall_after_k", "room_k", "rest_before_s", "energy_j", "hole_m", "stalled", "emptied")},
		},
		After: func(st *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Ground).Into) },
	}
}

// begun is what a new sheet of a charge begins with.
type begun struct {
	mill, from, level, charge, into string
	run                             float64 // s; 0 when nothing was ground yet
}

// planned is the next charge of the campaign that goes on at the mill, which goes
// before the last charge; false where none does or the address asks for another lot.
func planned(d *desk.Desk, b begun) (begun, bool) {
	c, ok := d.State.Running(b.mill)
	if !ok {
		return b, false
	}
	g := campaign.Filled(d.State, c, nil)
	if b.from != "" && b.from != string(g.From) {
		return b, false
	}
	b.from, b.into, b.run = string(g.From), string(g.Into), c.Now.Run
	b.charge = inGrams(d.Say, g.Charge)
	if g.Level != nil {
		b.level = strconv.Itoa(*g.Level)
	}
	return b, true
}

// lastCharge is the last charge of the mill the address names, or of any. Where
// the address names a lot, that one counts; its product goes on into the same
// lot only if the scrap is the same.
func lastCharge(d *desk.Desk, mills []shop.MillState) begun {
	b := begun{mill: d.Query("mill"), from: d.Query("from")}
	if b.from == "" {
		b.from = d.Query("lot")
	}
	if b.mill == "" && len(mills) == 1 {
		b.mill = mills[0].Name
	}
	if next, ok := planned(d, b); ok {
		return next
	}
	g := LastGround(d, b.mill)
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
	from, ok := d.State.Lot(shop.LotID(b.from))
	if ok && from.Mass > 0 {
		b.charge = inGrams(d.Say, min(g.Charge, from.Mass))
	}
	if into, ok := d.State.Lot(g.Into); ok && into.Mass > 0 && b.from == string(g.From) {
		b.into = string(g.Into)
	}
	return b
}

// LastGround is the last run of a mill still in use, nil when there is none; ""
// is any mill.
func LastGround(d *desk.Desk, mill string) *shop.Ground {
	for _, r := range d.State.Records.LatestOf(&shop.Ground{}) {
		if g, ok := r.Body.(*shop.Ground); ok && (mill == "" || g.Mill == mill) {
			if m, known := d.State.Mill(g.Mill); known && !m.Retired {
				return g
			}
		}
	}
	return nil
}

// runClock times a run: towards the time a plan names in the address, or as
// long as the last run was.
func runClock(d *desk.Desk, last begun) *forms.Stopwatch {
	c := &forms.Stopwatch{Fills: "run_s", Since: "rest_before_s", Then: "product_kg"}
	if t, err := quantity.Duration.ParseOr(d.Query("target"), "s"); err == nil && t > 0 {
		c.Target, c.Shown = t, d.Say.Line("form.the_plan_says", fact.Read("t", quantity.Duration, t))
	} else if last.run > 0 {
		c.Target, c.Shown = last.run, d.Say.Line("form.the_last_one_took", fact.Read("run", quantity.Duration, last.run))
	}
	return c
}

// inGrams is a mass as a field in grams begins with it, to the tenth.
func inGrams(p *say.Printer, kg float64) string {
	return p.Typed(quantity.Mass, math.Round(kg*1e4)/1e4, "g")
}

func millOptions(mills []shop.MillState) []forms.Option {
	opts := []forms.Option{{Value: "", Say: "form.choose_a_mill"}}
	for _, m := range mills {
		opts = append(opts, forms.Option{Value: m.Name, Say: m.Name})
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
		return "form.levels_help"
	}
	return p.Line("form.level_help", fact.Name("most", strconv.Itoa(most)))
}
