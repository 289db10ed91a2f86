package campaign

import (
	"math"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan"
	"hopperful/quantity"
	"hopperful/shop"
)

// What changed, what to watch for, and what was done so far.

func recordNumber(id shop.RecordID) string { return strconv.FormatInt(int64(id), 10) }

// aMove is the share by which a figure has to differ to have moved; less is
// noise or a scale's rounding. That of the plan.
const aMove = 0.05

// moved is what the plan made anew says otherwise than was last said, and why;
// empty before the first charge, and where there is no such plan.
func (t *told) moved() fact.Saying {
	if t.a == nil || !t.a.Possible || t.c.Done() == 0 {
		return fact.Saying{}
	}
	changes := changed(t.c.Now, t.a.Cycle)
	made, _ := t.c.Made()
	switch why, ok := t.because(); {
	case len(changes) == 0:
		return fact.Say("campaign.as_before")
	case ok:
		return fact.Say("campaign.changed_because", fact.Parts("why", why), fact.Parts("changes", changes...))
	}
	return fact.Say("campaign.changed", fact.About("rest", quantity.Mass, t.c.Wanted-made), fact.Parts("changes", changes...))
}

// leastSurprise is how far a reading must lie from its forecast to be named as what
// moved the plan, in half widths of its range: half a standard deviation. Judgement.
const leastSurprise = 0.4

// because is the reading of the latest charge that lies furthest from its forecast.
func (t *told) because() (fact.Saying, bool) {
	if t.a.Last == nil {
		return fact.Saying{}, false
	}
	var found plan.Readback
	most := leastSurprise
	for _, r := range t.a.Last.Read {
		if t.state.Doubted(shop.RecordID(t.a.Last.Record), r.Actual.Key+"_kg") {
			continue // nothing follows from what is asked about
		}
		half := (r.Forecast.High - r.Forecast.Low) / 2
		if z := math.Abs(r.Actual.Value-r.Forecast.Value) / half; half > 0 && z > most {
			found, most = r, z
		}
	}
	return surprise(found), most > leastSurprise
}

// changed is what differs between the cycle as it was last said and as planned anew.
func changed(was, now shop.Cycle) (all []fact.Saying) {
	moved := func(was, now float64, more, less func(by float64) fact.Saying) {
		switch {
		case math.Abs(now-was) <= aMove*math.Max(was, now):
		case now > was:
			all = append(all, more(now-was))
		default:
			all = append(all, less(was-now))
		}
	}
	mass := func(by float64) fact.Fact { return fact.Set("by", quantity.Mass, by) }
	time := func(by float64) fact.Fact { return fact.Set("by", quantity.Duration, whole(by)) }
	count := func(by float64) fact.Fact { return fact.Count("n", int(math.Round(by))) }
	if was.Level != nil && now.Level != nil && *was.Level != *now.Level {
		all = append(all, fact.Say("campaign.level_now", fact.Count("now", *now.Level), fact.Count("was", *was.Level)))
	}
	moved(was.Charge, now.Charge, func(by float64) fact.Saying { return fact.Say("campaign.charge_more", mass(by)) },
		func(by float64) fact.Saying { return fact.Say("campaign.charge_less", mass(by)) })
	moved(was.Run, now.Run, func(by float64) fact.Saying { return fact.Say("campaign.run_longer", time(by)) },
		func(by float64) fact.Saying { return fact.Say("campaign.run_shorter", time(by)) })
	moved(was.Rest, now.Rest, func(by float64) fact.Saying { return fact.Say("campaign.rest_longer", time(by)) },
		func(by float64) fact.Saying { return fact.Say("campaign.rest_shorter", time(by)) })
	moved(float64(was.Charges), float64(now.Charges), func(by float64) fact.Saying { return fact.Say("campaign.charges_more", count(by)) },
		func(by float64) fact.Saying { return fact.Say("campaign.charges_fewer", count(by)) })
	return all
}

// surprise is a reading against its forecast.
func surprise(r plan.Readback) fact.Saying {
	gap := r.Actual.Value - r.Forecast.Value
	mass, warmth := fact.Set("by", quantity.Mass, math.Abs(gap)), fact.Set("by", quantity.TemperatureDifference, math.Abs(gap))
	up := gap > 0
	switch r.Actual.Key {
	case "product":
		if up {
			return fact.Say("campaign.product_more", mass)
		}
		return fact.Say("campaign.product_less", mass)
	case "left":
		if up {
			return fact.Say("campaign.left_more", mass)
		}
		return fact.Say("campaign.left_less", mass)
	case "charge_after":
		if up {
			return fact.Say("campaign.charge_warmer", warmth)
		}
		return fact.Say("campaign.charge_cooler", warmth)
	case "energy":
		if up {
			return fact.Say("campaign.energy_more", fact.Set("by", quantity.Energy, gap))
		}
		return fact.Say("campaign.energy_less", fact.Set("by", quantity.Energy, -gap))
	}
	if up {
		return fact.Say("campaign.wall_warmer", warmth)
	}
	return fact.Say("campaign.wall_cooler", warmth)
}

// worries are what happened and needs a look, and what to watch for at the mill.
func (t *told) worries() {
	if !t.c.Open() {
		return
	}
	if t.c.Noise {
		t.doc.Spoilers = append(t.doc.Spoilers, answer.Found(fact.Say("campaign.noise_heard"), fact.Say("campaign.noise_look")))
	}
	if t.c.Stalled {
		t.doc.Spoilers = append(t.doc.Spoilers, answer.Found(fact.Say("campaign.stalled"), fact.Say("campaign.stalled_do")))
	}
	if t.c.Skipped && t.c.Done() == 0 {
		t.doc.Spoilers = append(t.doc.Spoilers, answer.Found(fact.Say("campaign.sheet_skipped")))
	}
	if t.c.Unweighed > 0 {
		t.doc.Spoilers = append(t.doc.Spoilers, answer.Found(fact.Say("campaign.unweighed", fact.Count("n", t.c.Unweighed)), fact.Say("campaign.weigh_them")))
	}
	watch := []answer.Finding{answer.Found(fact.Say("campaign.watch_slow")), answer.Found(fact.Say("campaign.watch_noise")), answer.Found(fact.Say("campaign.watch_smell"))}
	if wall := t.cycle().Wall; wall != nil {
		watch = append(watch, answer.Found(fact.Say("campaign.watch_wall", fact.Set("limit", quantity.Temperature, *wall))))
	}
	t.doc.Cautions = append(watch, answer.Found(fact.Say("campaign.watch_hands")), answer.Found(fact.Say("campaign.no_safety_device")))
}

// forecast is the latest charge against what was foretold of it.
func (t *told) forecast() {
	if t.a == nil || t.a.Last == nil || len(t.a.Last.Read) == 0 {
		return
	}
	table := answer.Table{Key: "campaign_forecast", Leads: true, Columns: []answer.Column{{Key: "reading"}, {Key: "foretold", Numbers: true}, {Key: "actual", Numbers: true}, {Key: "inside"}}}
	for _, r := range t.a.Last.Read {
		f := r.Forecast
		verdict := fact.Word("inside", "campaign.inside")
		if !r.Inside {
			verdict = fact.Word("inside", "campaign.outside")
		}
		table.Rows = append(table.Rows, []fact.Fact{reading(r.Actual.Key), fact.Parts("foretold", fact.Say("campaign.between", fact.About("low", f.Kind, f.Low), fact.About("high", f.Kind, f.High))),
			fact.Measured("actual", f.Kind, r.Actual.Value), verdict})
	}
	t.doc.Tables = append(t.doc.Tables, table)
}

// reading is what was read, by its key.
func reading(key string) fact.Fact {
	switch key {
	case "product":
		return fact.Word("reading", "campaign.read_product")
	case "left":
		return fact.Word("reading", "campaign.read_left")
	case "charge_after":
		return fact.Word("reading", "campaign.read_charge")
	case "wall_before":
		return fact.Word("reading", "campaign.read_wall_before")
	case "energy":
		return fact.Word("reading", "campaign.read_energy")
	}
	return fact.Word("reading", "campaign.read_wall")
}

// charges is what was done so far, a row each.
func (t *told) charges() {
	if len(t.c.Runs) == 0 || t.state == nil {
		return
	}
	table := answer.Table{Key: "campaign_charges", Leads: true, Columns: []answer.Column{{Key: "charge_number", Numbers: true}, {Key: "went_in", Numbers: true},
		{Key: "came_out", Numbers: true}, {Key: "ran", Numbers: true}, {Key: "at_level", Numbers: true}, {Key: "of_record", Numbers: true}}}
	for i, id := range t.c.Runs {
		r, ok := t.state.Record(id)
		if !ok {
			continue
		}
		g := r.Body.(*shop.Ground)
		out, level := fact.Word("came_out", "campaign.not_weighed"), fact.Name("at_level", "")
		if g.Product != nil {
			out = fact.Measured("came_out", quantity.Mass, *g.Product)
		}
		if g.Level != nil {
			level = fact.Count("at_level", *g.Level)
		}
		table.Rows = append(table.Rows, []fact.Fact{fact.Count("charge_number", i+1), fact.Measured("went_in", quantity.Mass, g.Charge), out,
			fact.Set("ran", quantity.Duration, g.Run), level, fact.Count("of_record", int(id))})
	}
	t.doc.Tables = append(t.doc.Tables, table)
}
