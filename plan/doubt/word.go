package doubt

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
	"charge_kg": fact.Say("doubt.charge"), "product_kg": fact.Say("doubt.product"), "left_kg": fact.Say("doubt.left"), "swept_kg": fact.Say("doubt.swept"),
	"run_s": fact.Say("doubt.run"), "level": fact.Say("doubt.level"), "rest_before_s": fact.Say("doubt.rest"), "wall_before_k": fact.Say("doubt.wall_before"),
	"wall_after_k": fact.Say("doubt.wall_after"), "charge_before_k": fact.Say("doubt.charge_before"), "charge_after_k": fact.Say("doubt.charge_after"),
	"energy_j": fact.Say("doubt.energy"), "mass_kg": fact.Say("doubt.mass"), "in_kg": fact.Say("doubt.into_dryer"), "out_kg": fact.Say("doubt.out_of_dryer"),
	"poured_kg": fact.Say("doubt.poured"), "tapped_kg": fact.Say("doubt.tapped"), "metal_kg": fact.Say("doubt.metal"), "passed_kg": fact.Say("doubt.passed"),
	"dust_kg": fact.Say("doubt.dust"), "lot": fact.Say("doubt.extruded"), "into": fact.Say("doubt.all_heaps"),
}

// named is a field in a person's words.
func named(path string) fact.Saying {
	if name, ok := fields[path]; ok {
		return name
	}
	if i := strings.LastIndex(path, "."); i >= 0 {
		return named(path[i+1:])
	}
	return fact.Verbatim(path)
}

// asks is one question: what is odd, and what would make it so. Each is told the
// field, its value, its bound and the lot. Every code has its case; a test holds it.
func asks(code shop.AskCode, told ...fact.Fact) (what, unless fact.Saying) {
	switch code {
	case shop.ChargeOverChamber:
		return fact.Say("doubt.charge_over_chamber", told...), fact.Say("doubt.if_chamber_larger")
	case shop.ChargeOverUsual:
		return fact.Say("doubt.charge_over_usual", told...), fact.Say("doubt.if_never_so_full")
	case shop.ChargeUnderUsual:
		return fact.Say("doubt.charge_under_usual", told...), fact.Say("doubt.if_a_handful")
	case shop.MoreOutThanIn:
		return fact.Say("doubt.more_out_than_in", told...), fact.Say("doubt.if_more_lay_in")
	case shop.LittleOut:
		return fact.Say("doubt.little_out", told...), fact.Say("doubt.if_blocked")
	case shop.MassMissing:
		return fact.Say("doubt.mass_missing", told...), fact.Say("doubt.if_spilled")
	case shop.LevelOverLast:
		return fact.Say("doubt.level_over_last", told...), fact.Say("doubt.if_more_levels")
	case shop.RunLong:
		return fact.Say("doubt.run_long", told...), fact.Say("doubt.if_ran_on")
	case shop.RunsOverlap:
		return fact.Say("doubt.runs_overlap", told...), fact.Say("doubt.if_rounded")
	case shop.RestTooLong:
		return fact.Say("doubt.rest_too_long", told...), fact.Say("doubt.if_rounded")
	case shop.DayTooShort:
		return fact.Say("doubt.day_too_short", told...), fact.Say("doubt.if_another_day")
	case shop.ColderAfter:
		return fact.Say("doubt.colder_after", told...), fact.Say("doubt.if_another_place")
	case shop.ColderThanRoom:
		return fact.Say("doubt.colder_than_room", told...), fact.Say("doubt.if_room_colder")
	case shop.HotterThanPower:
		return fact.Say("doubt.hotter_than_power", told...), fact.Say("doubt.if_hot_before")
	case shop.EnergyOverPower:
		return fact.Say("doubt.energy_over_power", told...), fact.Say("doubt.if_counted_else")
	case shop.EnergyUnderIdle:
		return fact.Say("doubt.energy_under_idle", told...), fact.Say("doubt.if_switched_late")
	case shop.MoreThanLot:
		return fact.Say("doubt.more_than_lot", told...), fact.Say("doubt.if_more_went_in")
	case shop.MoreThanGround:
		return fact.Say("doubt.more_than_ground", told...), fact.Say("doubt.if_added")
	case shop.HeavierDried:
		return fact.Say("doubt.heavier_dried", told...), fact.Say("doubt.if_other_material")
	case shop.MuchDriedOff:
		return fact.Say("doubt.much_dried_off", told...), fact.Say("doubt.if_dripping")
	case shop.TappedLighter:
		return fact.Say("doubt.tapped_lighter", told...), fact.Say("doubt.if_not_filled_up")
	case shop.JarTooDense:
		return fact.Say("doubt.jar_too_dense", told...), fact.Say("doubt.weigh_jar_again")
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

// said puts a question together.
func said(s *shop.State, r shop.Record, a shop.Ask) Question {
	q := Question{Record: a.Record, Code: a.Code, Field: a.Field, Meant: a.Meant, Kind: a.Kind}
	what, unless := asks(a.Code, fact.Parts("field", named(a.Field)), value("value", a.Kind, a.Value), value("bound", a.Kind, a.Bound), fact.Lot("lot", string(a.Lot), ""))
	if a.Code == shop.LevelOverLast && a.Bound == 0 {
		what = fact.Say("doubt.no_levels", value("value", a.Kind, a.Value))
	}
	q.Finding = answer.Found(what)
	if a.Code == shop.JarTooDense {
		if d, ok := jar(s, r, a); ok {
			q.Finding, unless = answer.Found(d.Saying), d.Remedies[0]
		}
	}
	switch {
	case a.Meant != nil && a.Swap != "":
		q.Remedies = append(q.Remedies, fact.Say("doubt.swapped", fact.Parts("one", named(a.Field)), fact.Parts("other", named(a.Swap))))
	case a.Meant != nil:
		q.Remedies = append(q.Remedies, fact.Say("doubt.was_it", value("meant", a.Kind, *a.Meant)))
	}
	q.Remedies = append(q.Remedies, unless)
	return q
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
