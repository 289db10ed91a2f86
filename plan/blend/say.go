package blend

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/recipe"
	"hopperful/quantity"
	"hopperful/shop"
)

// say puts a recipe into findings: the answer, the batch sheet and the cautions.
func (j *blendJob) say(b *Blending) {
	b.Says = b.Recipes[0].Says(j.polymer.Name)
	if !b.Proved {
		j.note(fact.Say("blend.not_proved"))
	}
	j.sheet(b)
	j.spoilers(b)
	j.warn(b)
}

// Says is a recipe in a sentence.
func (r Recipe) Says(polymer string) fact.Saying {
	far := fact.Name("far", "")
	for _, f := range r.Figures {
		if f.Key == "colour_mixed" {
			far = fact.Figure("far", f)
		}
	}
	return fact.Say("blend.answer", r.Parts(), fact.Set("mass", quantity.Mass, r.Mass.Value), fact.Name("polymer", polymer), far)
}

// Parts lists what goes in.
func (r Recipe) Parts() fact.Fact {
	var parts []fact.Saying
	for _, p := range r.Portions {
		parts = append(parts, fact.Say("blend.portion", fact.Set("mass", quantity.Mass, p.Mass.Value), p.lot()))
	}
	return fact.Parts("parts", parts...)
}

// lot is the lot as a fact.
func (p Portion) lot() fact.Fact { return fact.Lot("lot", string(p.Lot), p.Name) }

// sheet is what to do, in order, with the running total on the scale.
func (j *blendJob) sheet(b *Blending) {
	do := func(s fact.Saying) { b.Steps = append(b.Steps, answer.Action{Do: s}) }
	best := b.Recipes[0]
	do(fact.Say("blend.bucket"))
	for _, p := range best.Portions {
		do(fact.Say("blend.add", fact.Set("mass", quantity.Mass, p.Mass.Value), p.lot(), fact.Set("running", quantity.Mass, p.Running),
			fact.Set("within", quantity.Mass, math.Max(j.req.Step, 0.01*p.Mass.Value))))
	}
	if len(best.Portions) > 1 {
		do(fact.Say("blend.roll"))
	}
	do(fact.Say("blend.write_down"))
}

// warn gathers what a person should hear before blending.
func (j *blendJob) warn(b *Blending) {
	lots := make([]*shop.Lot, len(b.Recipes[0].Portions))
	for i, p := range b.Recipes[0].Portions {
		lots[i] = j.state.Lots.At(p.Lot)
	}
	b.Cautions = append(answer.NotCleared(lots...), answer.Found(fact.Say("blend.dust_when_pouring")))
	for _, c := range j.polymer.Cautions() {
		b.Cautions = append(b.Cautions, answer.Found(c.Says()))
	}
}

// nothing is the answer when no lot on hand fits at all.
func (j *blendJob) nothing(b *Blending) {
	b.Proved = true
	b.Says = fact.Say("blend.none_fits", fact.Name("polymer", j.polymer.Name))
	b.Blocked = &answer.Block{Limit: fact.Say("blend.the_stock"), Why: b.Says, Nearest: fact.Say("blend.grind_or_buy")}
	if len(j.aside) > 0 {
		a := j.aside[0]
		b.Blocked.Nearest = fact.Say("blend.is_left_aside", fact.Lot("lot", string(a.Lot), a.Name), fact.Parts("why", a.Why), fact.Parts("remedy", a.Remedy))
	}
	b.Notes = append(b.Notes, j.notes...)
}

// none is the answer when limits contradict each other, with the nearest blend.
func (j *blendJob) none(b *Blending, a recipe.Answer) error {
	names := j.conflict(a.Conflict)
	have := 0.0
	for _, l := range j.lots {
		have += l.Mass
	}
	all := fact.Parts("names", names...)
	switch {
	case have < j.mass:
		b.Blocked = &answer.Block{Limit: fact.Say("blend.the_stock"), Why: fact.Say("blend.too_little", fact.Measured("have", quantity.Mass, have), fact.Measured("wanted", quantity.Mass, j.mass)),
			Nearest: fact.Say("blend.grind_more", fact.About("missing", quantity.Mass, j.mass-have))}
	case len(names) == 0:
		b.Blocked = &answer.Block{Limit: fact.Say("blend.the_search"), Why: fact.Say("blend.none_found"), Nearest: fact.Say("blend.search_longer")}
	case len(names) == 1:
		b.Blocked = &answer.Block{Limit: names[0], Why: fact.Say("blend.none_keeps", all.As("names")), Nearest: fact.Say("blend.relax_it")}
	default:
		b.Blocked = &answer.Block{Limit: fact.Say("blend.all_of", all.As("names")), Why: fact.Say("blend.none_keeps_at_once", all.As("names")), Nearest: fact.Say("blend.relax_one")}
	}
	b.Says = b.Blocked.Why
	if err := j.whyNot(b, nil); err != nil || a.Nearest == nil || len(a.Nearest.Uses) == 0 {
		return err
	}
	near, err := j.recipe(a.Nearest.Uses)
	if err != nil {
		return err
	}
	j.broken(&near, a.Nearest)
	b.Nearest = &near
	j.opened(b, a)
	return nil
}

// broken says which limits the nearest blend does not keep, and by how much.
func (j *blendJob) broken(out *Recipe, n *recipe.Nearest) {
	breaks := func(s fact.Saying) { out.Breaks = append(out.Breaks, s) }
	if n.Short > j.req.Step/2 {
		breaks(fact.Say("blend.short", fact.Measured("by", quantity.Mass, n.Short)))
	}
	if -n.Short > j.req.Step/2 {
		breaks(fact.Say("blend.over", fact.Measured("by", quantity.Mass, -n.Short)))
	}
	if used := len(out.Portions); used > j.req.MostLots {
		breaks(fact.Say("blend.lots_instead", fact.Count("n", used), fact.Count("most", j.req.MostLots)))
	}
	for i, over := range n.Over {
		row := j.rows[i]
		limit, side := row.Hi, figure.Below
		if over < 0 {
			limit, side = row.Lo, figure.Over
		}
		if over == 0 {
			continue
		}
		value := limit + over
		if row.logs {
			value, limit = math.Exp(value), math.Exp(limit)
		}
		is, bound := fact.About("is", row.kind, value), fact.About("limit", row.kind, limit)
		if side == figure.Over {
			breaks(fact.Say("blend.below_least", row.what(), is.As("is"), bound.As("limit")))
		} else {
			breaks(fact.Say("blend.above_most", row.what(), is.As("is"), bound.As("limit")))
		}
	}
	for _, over := range n.Curves {
		if over > 0 {
			breaks(fact.Say("blend.above_most", fact.Word("what", "blend.colour_difference"), fact.About("is", quantity.Number, j.within+over), fact.About("limit", quantity.Number, j.within)))
		}
	}
}
