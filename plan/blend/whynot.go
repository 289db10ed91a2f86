package blend

import (
	"fmt"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/plan/traceability"
	"hopperful/process/recipe"
	"hopperful/quantity"
	"hopperful/shop"
)

// asked reports whether somebody wants to know why a lot is not in the recipe.
func (j *blendJob) asked(id shop.LotID) bool { return slices.Contains(j.req.WhyNot, id) }

// passed says of a lot nobody would think of why it is passed over, "" when it
// is not.
func (j *blendJob) passed(lot *shop.Lot, named bool) string {
	switch {
	case lot.Mass <= 0:
		return "nothing of it is left"
	case slices.Contains(j.req.Without, lot.ID):
		return "it is to be left out"
	case len(j.req.Lots) > 0 && !named:
		return "it is not among the lots to choose from"
	case !traceability.Granulate(lot.Class) && !named:
		return "it is " + string(lot.Class) + ", not granulate"
	}
	return ""
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
			a.Why = "it is in the recipe"
		case j.lots[i].Mass < j.req.Least:
			a.Why = fmt.Sprintf("the %s of it are not worth weighing", quantity.Mass.Show(j.lots[i].Mass))
			a.Remedy = "Allow smaller amounts of a lot."
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
func (j *blendJob) worth(c recipe.Change) (why, remedy string) {
	least := quantity.Mass.Plain(j.req.Least)
	switch names := j.conflict(c.After.Conflict); {
	case len(c.After.Recipes) == 0 && len(names) > 0:
		return fmt.Sprintf("with %s of it no blend keeps %s", least, answer.List(names)), "Relax that."
	case len(c.After.Recipes) == 0:
		return fmt.Sprintf("no blend with %s of it was found", least), ""
	case c.Cost <= 0:
		return fmt.Sprintf("with %s of it the blend would be as good", least), ""
	}
	switch j.req.Order {
	case Cheapest:
		why = fmt.Sprintf("with %s of it the blend would cost %.2g %s more", least, c.Cost, j.state.Shop.Currency)
	case NearestColour:
		why = fmt.Sprintf("with %s of it the blend would be %.2g farther from the colour", least, c.Cost)
	default:
		why = fmt.Sprintf("with %s of it the stock used would be %s younger on average", least, quantity.Duration.Rough(math.Max(1, c.Cost/j.mass*86400)))
	}
	return why, ""
}
