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
// people. Of the lots it is about those that are taken.
func (j *job) cautions(load, continuous float64, takes []Take) []answer.Finding {
	var all []answer.Finding
	add := func(weight float64, says ...fact.Saying) {
		for _, s := range says {
			f := answer.Found(s)
			f.Weight = weight
			all = append(all, f)
		}
	}
	var unsaid []fact.Saying
	for _, g := range j.guards() {
		switch g.has {
		case shop.No:
			add(grave, g.lacking)
		case shop.Unknown:
			unsaid = append(unsaid, g.what)
		}
	}
	if len(unsaid) > 0 {
		add(grave, fact.Say("plan.nobody_said_whether", fact.Name("mill", j.mill.Name), fact.Parts("what", unsaid...)))
	}
	if len(j.mill.Runs) == 0 {
		add(grave, fact.Say("plan.mind_earth"), fact.Say("plan.mind_lid"), fact.Say("plan.mind_ears"), fact.Say("plan.mind_dust"), fact.Say("plan.mind_no_safety_device"))
	}
	if continuous > 0 && load > nearRating*continuous {
		add(0, fact.Say("plan.near_rating", fact.About("load", quantity.Power, load), fact.Set("rating", quantity.Power, continuous)))
	}
	var lots []*shop.Lot
	for _, lot := range j.taken(takes) {
		lots = append(lots, lot.Lot)
	}
	all = append(all, answer.NotCleared(lots...)...)
	for _, c := range j.polymer.Cautions() {
		if c.Kind == polymer.Grinding || c.Kind == polymer.Fumes {
			add(0, c.Says())
		}
	}
	return all
}

// guard is something that keeps a mill from hurting who runs it.
type guard struct {
	has     shop.YesNo // as the mill's owner says
	what    fact.Saying
	lacking fact.Saying // what to do without it
}

// guards are those that are asked of a mill.
func (j *job) guards() []guard {
	m := fact.Name("mill", j.mill.Name)
	return []guard{
		{j.mill.Earth, fact.Say("plan.an_earth"), fact.Say("plan.no_earth", m.As("mill"))},
		{j.mill.LidSwitch, fact.Say("plan.a_lid_switch"), fact.Say("plan.no_lid_switch", m.As("mill"))},
		{j.mill.ResidualCurrent, fact.Say("plan.a_residual_current_device"), fact.Say("plan.no_residual_current", m.As("mill"))},
	}
}

// lacks says what the owner of a mill says it lacks; nothing where that is nothing.
func (j *job) lacks() fact.Saying {
	var what []fact.Saying
	for _, g := range j.guards() {
		if g.has == shop.No {
			what = append(what, g.what)
		}
	}
	if len(what) == 0 {
		return fact.Saying{}
	}
	return fact.Say("plan.lacks", fact.Name("mill", j.mill.Name), fact.Parts("what", what...))
}

// nearRating is the share of a continuous rating from which a caution is due.
const nearRating = 0.7
