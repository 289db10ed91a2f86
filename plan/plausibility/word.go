package plausibility

import (
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// fields are the answers of a record by the name a person knows them under.
var fields = map[string]fact.Saying{
	"charge_kg": fact.Say("plausibility.charge"), "product_kg": fact.Say("plausibility.product"), "left_kg": fact.Say("plausibility.left"), "swept_kg": fact.Say("plausibility.swept"),
	"run_s": fact.Say("plausibility.run"), "level": fact.Say("plausibility.level"), "rest_before_s": fact.Say("plausibility.rest"), "wall_before_k": fact.Say("plausibility.wall_before"),
	"wall_after_k": fact.Say("plausibility.wall_after"), "charge_before_k": fact.Say("plausibility.charge_before"), "charge_after_k": fact.Say("plausibility.charge_after"),
	"energy_j": fact.Say("plausibility.energy"), "mass_kg": fact.Say("plausibility.mass"), "in_kg": fact.Say("plausibility.into_dryer"), "out_kg": fact.Say("plausibility.out_of_dryer"),
	"poured_kg": fact.Say("plausibility.poured"), "tapped_kg": fact.Say("plausibility.tapped"), "metal_kg": fact.Say("plausibility.metal"), "passed_kg": fact.Say("plausibility.passed"),
	"dust_kg": fact.Say("plausibility.dust"), "lot": fact.Say("plausibility.extruded"), "into": fact.Say("plausibility.all_heaps"),
}

// Named is a field in a person's words.
func Named(path string) fact.Saying {
	if name, ok := fields[path]; ok {
		return name
	}
	if i := strings.LastIndex(path, "."); i >= 0 {
		return Named(path[i+1:])
	}
	return fact.Verbatim(path)
}

// asks is one question: what is odd, and what would make it so. Each is told the
// field, its value, its bound and the lot. Every code has its case; a test holds it.
func asks(code shop.AskCode, told ...fact.Fact) (what, unless fact.Saying) {
	switch code {
	case shop.ChargeOverChamber:
		return fact.Say("plausibility.charge_over_chamber", told...), fact.Say("plausibility.if_chamber_larger")
	case shop.ChargeOverUsual:
		return fact.Say("plausibility.charge_over_usual", told...), fact.Say("plausibility.if_never_so_full")
	case shop.ChargeUnderUsual:
		return fact.Say("plausibility.charge_under_usual", told...), fact.Say("plausibility.if_a_handful")
	case shop.MoreOutThanIn:
		return fact.Say("plausibility.more_out_than_in", told...), fact.Say("plausibility.if_more_lay_in", told...)
	case shop.LittleOut:
		return fact.Say("plausibility.little_out", told...), fact.Say("plausibility.if_blocked")
	case shop.MassMissing:
		return fact.Say("plausibility.mass_missing", told...), fact.Say("plausibility.if_spilled")
	case shop.LevelOverLast:
		return fact.Say("plausibility.level_over_last", told...), fact.Say("plausibility.if_more_levels")
	case shop.RunLong:
		return fact.Say("plausibility.run_long", told...), fact.Say("plausibility.if_ran_on")
	case shop.RunsOverlap:
		return fact.Say("plausibility.runs_overlap", told...), fact.Say("plausibility.if_rounded")
	case shop.RestTooLong:
		return fact.Say("plausibility.rest_too_long", told...), fact.Say("plausibility.if_rounded")
	case shop.DayTooShort:
		return fact.Say("plausibility.day_too_short", told...), fact.Say("plausibility.if_another_day")
	case shop.ColderAfter:
		return fact.Say("plausibility.colder_after", told...), fact.Say("plausibility.if_another_place")
	case shop.ColderThanRoom:
		return fact.Say("plausibility.colder_than_room", told...), fact.Say("plausibility.if_room_colder")
	case shop.HotterThanPower:
		return fact.Say("plausibility.hotter_than_power", told...), fact.Say("plausibility.if_hot_before")
	case shop.EnergyOverPower:
		return fact.Say("plausibility.energy_over_power", told...), fact.Say("plausibility.if_counted_else")
	case shop.EnergyUnderIdle:
		return fact.Say("plausibility.energy_under_idle", told...), fact.Say("plausibility.if_switched_late")
	case shop.MoreThanLot:
		return fact.Say("plausibility.more_than_lot", told...), fact.Say("plausibility.if_more_went_in")
	case shop.MoreThanGround:
		return fact.Say("plausibility.more_than_ground", told...), fact.Say("plausibility.if_added")
	case shop.HeavierDried:
		return fact.Say("plausibility.heavier_dried", told...), fact.Say("plausibility.if_other_material")
	case shop.MuchDriedOff:
		return fact.Say("plausibility.much_dried_off", told...), fact.Say("plausibility.if_dripping")
	case shop.TappedLighter:
		return fact.Say("plausibility.tapped_lighter", told...), fact.Say("plausibility.if_not_filled_up")
	case shop.JarTooDense:
		return fact.Say("plausibility.jar_too_dense", told...), fact.Say("plausibility.weigh_jar_again")
	}
	return fact.Saying{}, fact.Saying{}
}

// value is a number of a question as a fact.
func value(name string, kind quantity.Kind, x float64) fact.Fact {
	if kind == quantity.Count {
		return fact.Count(name, int(x))
	}
	return fact.Set(name, kind, x)
}

// Shown is what was likely meant; only where the question has it.
func (q Question) Shown() fact.Fact { return value("meant", q.Kind, *q.Meant) }

// ShownOr is what was meant if the slip is in the other field; only where the question has one.
func (q Question) ShownOr() fact.Fact { return value("meant", q.Kind, q.Or.Meant) }

// ShownSwap is what was meant for the field it was swapped with.
func (q Question) ShownSwap() fact.Fact { return value("meant", q.Kind, q.Value) }

// said puts a question together.
func said(s *shop.State, r shop.Record, a shop.Ask) Question {
	q := Question{Record: a.Record, Code: a.Code, Field: a.Field, Meant: a.Meant, Swap: a.Swap, Value: a.Value, Or: a.Or, Kind: a.Kind}
	what, unless := asks(a.Code, fact.Parts("field", Named(a.Field)), value("value", a.Kind, a.Value), value("bound", a.Kind, a.Bound), value("over", a.Kind, a.Over), fact.Lot("lot", string(a.Lot), ""))
	if a.Code == shop.LevelOverLast && a.Bound == 0 {
		what, unless = fact.Say("plausibility.no_levels", value("value", a.Kind, a.Value)), fact.Say("plausibility.describe_levels")
	}
	if a.Or != nil {
		what = either(a, what)
	}
	q.Finding = answer.Found(what)
	if a.Code == shop.JarTooDense {
		if d, ok := jar(s, r, a); ok {
			q.Finding, unless = answer.Found(d.Saying), d.Remedies[0]
		}
	}
	switch {
	case a.Meant != nil && a.Swap != "":
		q.Remedies = append(q.Remedies, fact.Say("plausibility.swapped", fact.Parts("one", Named(a.Field)), fact.Parts("other", Named(a.Swap))))
	case a.Meant != nil && a.Or != nil:
		q.Remedies = append(q.Remedies, fact.Say("plausibility.was_either", fact.Parts("one", Named(a.Field)), value("meant", a.Kind, *a.Meant),
			fact.Parts("other", Named(a.Or.Field)), value("meant_other", a.Kind, a.Or.Meant)))
	case a.Meant != nil:
		q.Remedies = append(q.Remedies, fact.Say("plausibility.was_it", value("meant", a.Kind, *a.Meant)))
	}
	q.Remedies = append(q.Remedies, unless)
	return q
}

// either is what is odd about two masses of which each can be the slip.
func either(a shop.Ask, what fact.Saying) fact.Saying {
	if a.Code != shop.MoreOutThanIn {
		return what
	}
	return fact.Say("plausibility.more_out_either", fact.Parts("field", Named(a.Field)), value("value", a.Kind, a.Value),
		fact.Parts("other", Named(a.Or.Field)), value("other_value", a.Kind, a.Or.Value), value("over", a.Kind, a.Over))
}

// jar tells the share of the solid's density that a jar's contents come to;
// false where the plastic or the jar is not known.
func jar(s *shop.State, r shop.Record, a shop.Ask) (answer.Finding, bool) {
	volume := 0.0
	switch b := r.Body.(type) {
	case *shop.JarWeighed:
		volume = b.Jar
	case *shop.Ground:
		if m, ok := s.MillAt(r.ID); ok && m.Jar != nil {
			volume = *m.Jar
		}
	}
	lot, known := s.Lot(a.Lot)
	table, err := s.Table()
	if !known || err != nil || volume == 0 {
		return answer.Finding{}, false
	}
	p, err := table.Find(lot.Polymer)
	if err != nil {
		return answer.Finding{}, false
	}
	solid, err := p.Value(polymer.Density)
	if err != nil {
		return answer.Finding{}, false
	}
	return TooDense(p.Name, a.Value, volume, solid.Value)
}
