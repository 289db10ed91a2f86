package plan

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// grave is the weight of a caution that is shown before anyone asks for more: what
// a machine lacks, and all of them to who has never run it.
const grave = 1

// cautions gathers what a person should hear before a plan is run. They are general,
// name no standard as met, and leave the last word to local rules and licensed
// people.
func (j *job) cautions(load, continuous float64) []answer.Finding {
	var all []answer.Finding
	add := func(weight float64, says ...fact.Saying) {
		for _, s := range says {
			f := answer.Found(s)
			f.Weight = weight
			all = append(all, f)
		}
	}
	m := fact.Name("mill", j.mill.Name)
	var unsaid []fact.Saying
	for _, lack := range []struct {
		has  shop.YesNo
		no   fact.Saying
		what fact.Saying
	}{
		{j.mill.Earth, fact.Say("plan.no_earth", m.As("mill")), fact.Say("plan.an_earth")},
		{j.mill.LidSwitch, fact.Say("plan.no_lid_switch", m.As("mill")), fact.Say("plan.a_lid_switch")},
		{j.mill.ResidualCurrent, fact.Say("plan.no_residual_current", m.As("mill")), fact.Say("plan.a_residual_current_device")},
	} {
		switch lack.has {
		case shop.No:
			add(grave, lack.no)
		case shop.Unknown:
			unsaid = append(unsaid, lack.what)
		}
	}
	if len(unsaid) > 0 {
		add(grave, fact.Say("plan.nobody_said_whether", m.As("mill"), fact.Parts("what", unsaid...)))
	}
	if len(j.mill.Runs) == 0 {
		add(grave, fact.Say("plan.mind_earth"), fact.Say("plan.mind_lid"), fact.Say("plan.mind_ears"), fact.Say("plan.mind_dust"), fact.Say("plan.mind_no_safety_device"))
	}
	if continuous > 0 && load > nearRating*continuous {
		add(0, fact.Say("plan.near_rating", fact.About("load", quantity.Power, load), fact.Set("rating", quantity.Power, continuous)))
	}
	lots := make([]*shop.Lot, len(j.lots.grind))
	for i, lot := range j.lots.grind {
		lots[i] = lot.Lot
	}
	all = append(all, answer.NotCleared(lots...)...)
	for _, c := range j.polymer.Cautions() {
		if c.Kind == polymer.Grinding || c.Kind == polymer.Fumes {
			add(0, c.Says())
		}
	}
	return all
}

// lacks says what the owner of a mill says it lacks; nothing where that is nothing.
func (j *job) lacks() fact.Saying {
	var what []fact.Saying
	for _, x := range []struct {
		has  shop.YesNo
		what fact.Saying
	}{{j.mill.Earth, fact.Say("plan.an_earth")}, {j.mill.LidSwitch, fact.Say("plan.a_lid_switch")}, {j.mill.ResidualCurrent, fact.Say("plan.a_residual_current_device")}} {
		if x.has == shop.No {
			what = append(what, x.what)
		}
	}
	if len(what) == 0 {
		return fact.Saying{}
	}
	return fact.Say("plan.lacks", fact.Name("mill", j.mill.Name), fact.Parts("what", what...))
}

// nearRating is the share of a continuous rating from which a caution is due.
const nearRating = 0.7
