package blend

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/traceability"
	"hopperful/process/recipe"
	"hopperful/quantity"
	"hopperful/shop"
)

// asked reports whether somebody wants to know why a lot is not in the recipe.
func (j *blendJob) asked(id shop.LotID) bool { return slices.Contains(j.req.WhyNot, id) }

// passed says of a lot nobody would think of why it is passed over; nothing when it
// is not.
func (j *blendJob) passed(lot *shop.Lot, named bool) fact.Saying {
	switch {
	case lot.Mass <= 0:
		return fact.Say("blend.nothing_left")
	case slices.Contains(j.req.Without, lot.ID):
		return fact.Say("blend.left_out")
	case len(j.req.Lots) > 0 && !named:
		return fact.Say("blend.not_among")
	case !traceability.Granulate(lot.Class) && !named:
		return fact.Say("blend.no_granulate", answer.Class("class", lot.Class))
	}
	return fact.Saying{}
}

// whyNot answers for each lot asked about: why it is aside, or what putting it
// in would cost.
func (j *blendJob) whyNot(b *Blending, best []recipe.Use) error {
	for _, id := range j.req.WhyNot {
		if i := slices.IndexFunc(j.aside, func(a answer.Aside) bool { return a.Lot == id }); i >= 0 {
			b.WhyNot = append(b.WhyNot, j.aside[i])
			continue
		}
		i := slices.IndexFunc(j.lots, func(l blendLot) bool { return l.ID == id })
		a := answer.Aside{Lot: id, Name: j.state.Lots.At(id).Name}
		switch {
		case slices.ContainsFunc(best, func(u recipe.Use) bool { return u.Lot == i }):
			a.Why = fact.Say("blend.in_recipe")
		case j.lots[i].Mass < j.req.Least:
			a.Why = fact.Say("blend.not_worth", fact.Measured("mass", quantity.Mass, j.lots[i].Mass))
			a.Remedy = fact.Say("blend.allow_smaller")
		default:
			change, err := recipe.WhyNot(j.ctx, j.problem, j.oneSoon(), i, 0)
			if err != nil {
				return err
			}
			a.Why, a.Remedy = j.worth(change)
		}
		b.WhyNot = append(b.WhyNot, a)
	}
	return nil
}

// worth says what putting a lot in would do.
func (j *blendJob) worth(c recipe.Change) (why, remedy fact.Saying) {
	least := fact.Set("least", quantity.Mass, j.req.Least)
	switch names := j.conflict(c.After.Conflict); {
	case len(c.After.Recipes) == 0 && len(names) > 0:
		return fact.Say("blend.with_it_none_keeps", least.As("least"), fact.Parts("names", names...)), fact.Say("blend.relax_that")
	case len(c.After.Recipes) == 0:
		return fact.Say("blend.with_it_none_found", least.As("least")), remedy
	case c.Cost <= 0:
		return fact.Say("blend.with_it_as_good", least.As("least")), remedy
	}
	switch j.req.Order {
	case Cheapest:
		return fact.Say("blend.with_it_dearer", least.As("least"), fact.Figure("more", j.money(c.Cost))), remedy
	case NearestColour:
		return fact.Say("blend.with_it_farther", least.As("least"), fact.About("by", quantity.Number, c.Cost)), remedy
	}
	return fact.Say("blend.with_it_younger", least.As("least"), fact.About("by", quantity.Duration, math.Max(1, c.Cost/j.mass*86400))), remedy
}
