package blend

import (
	"fmt"
	"math"
	"strings"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/process/recipe"
	"hopperful/quantity"
	"hopperful/shop"
)

// say writes the sentence, the batch sheet and the cautions of a recipe.
func (j *blendJob) say(b *Blending) {
	best := b.Recipes[0]
	parts := make([]string, len(best.Portions))
	for i, p := range best.Portions {
		parts[i] = fmt.Sprintf("%s of %s", quantity.Mass.Plain(p.Mass.Value), p.Lot)
	}
	b.Answer = fmt.Sprintf("Blend %s for %s of %s", answer.List(parts), quantity.Mass.Plain(best.Mass.Value), j.polymer.Name)
	for _, f := range best.Figures {
		if f.Key == "colour_mixed" {
			b.Answer += fmt.Sprintf(", %.2g from the colour wanted (%s)", f.Value, best.Mixed.Name)
		}
	}
	b.Answer += "."
	if !b.Proved {
		j.note("It is the best found; that there is no better one is not proved.")
	}
	j.sheet(b)
	j.spoilers(b)
	j.warn(b)
}

// sheet is what to do, in order, with the running total on the scale.
func (j *blendJob) sheet(b *Blending) {
	do := func(format string, args ...any) {
		b.Steps = append(b.Steps, answer.Step{Do: fmt.Sprintf(format, args...)})
	}
	best := b.Recipes[0]
	do("Put a dry, clean bucket on the scale and set it to zero; dry the lots as their polymer wants before or after, never leave the blend open.")
	for _, p := range best.Portions {
		within := math.Max(j.req.Step, 0.01*p.Mass.Value)
		do("Add %s of %s%s: the scale shows %s, give or take %s.", quantity.Mass.Plain(p.Mass.Value), p.Lot, answer.Named(p.Name),
			quantity.Mass.Plain(p.Running), quantity.Mass.Plain(within))
		b.Steps[len(b.Steps)-1].Lot = p.Lot
	}
	if len(best.Portions) > 1 {
		do("Close the bucket and roll it end over end for two minutes; pour it slowly, for fine and coarse grains part again on the way.")
	}
	do("Write the blend down with the masses the scale showed.")
}

// warn gathers what a person should hear before blending.
func (j *blendJob) warn(b *Blending) {
	add := func(where, format string, args ...any) {
		b.Cautions = append(b.Cautions, answer.Caution{Where: where, Text: fmt.Sprintf(format, args...)})
	}
	lots := make([]*shop.Lot, len(b.Recipes[0].Portions))
	for i, p := range b.Recipes[0].Portions {
		lots[i] = j.state.Lots.At(p.Lot)
	}
	b.Cautions = append(b.Cautions, answer.Uncleared(lots...)...)
	for _, c := range j.polymer.Cautions() {
		add(answer.OfMaterial, "%s", c.Code)
	}
	add("weighing", "Pouring granulate makes dust: no flame or spark near it, wipe it up and do not blow it about.")
}

// nothing is the answer when no lot on hand fits at all.
func (j *blendJob) nothing(b *Blending) {
	b.Proved = true
	b.Blocked = &answer.Block{Limit: "the stock", Why: fmt.Sprintf("No granulate on hand fits a blend of %s.", j.polymer.Name),
		Nearest: "Grind scrap of that polymer, or buy granulate."}
	if len(j.aside) > 0 {
		b.Blocked.Nearest = fmt.Sprintf("%s is left aside: %s. %s", j.aside[0].Lot, j.aside[0].Why, j.aside[0].Remedy)
	}
	b.Answer = b.Blocked.Why
	b.Notes = append(b.Notes, j.notes...)
}

// none is the answer when limits contradict each other, with the nearest blend.
func (j *blendJob) none(b *Blending, a recipe.Answer) error {
	names := j.conflict(a.Conflict)
	have := 0.0
	for _, l := range j.lots {
		have += l.Mass
	}
	b.Blocked = &answer.Block{Limit: answer.List(names), Nearest: "Relax one of them."}
	switch {
	case have < j.mass:
		b.Blocked.Limit = "the stock"
		b.Blocked.Why = fmt.Sprintf("The lots that fit hold %s together; %s is wanted.", quantity.Mass.Show(have), quantity.Mass.Show(j.mass))
		b.Blocked.Nearest = fmt.Sprintf("Grind or buy %s more, or print less.", quantity.Mass.Rough(j.mass-have))
	case len(names) == 0:
		b.Blocked.Limit = "the search"
		b.Blocked.Why = "No blend that keeps every limit was found; that there is none is not proved."
		b.Blocked.Nearest = "Relax a limit, or let the search go on longer."
	case len(names) == 1:
		b.Blocked.Why = fmt.Sprintf("No blend keeps %s.", names[0])
	default:
		b.Blocked.Why = fmt.Sprintf("No blend keeps %s at once.", answer.List(names))
	}
	b.Answer = b.Blocked.Why
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
	if len(near.Breaks) > 0 {
		b.Answer += fmt.Sprintf(" The nearest is %s: %s.", portionsShown(near.Portions), strings.Join(near.Breaks, "; "))
	}
	return nil
}

func portionsShown(all []Portion) string {
	words := make([]string, len(all))
	for i, p := range all {
		words[i] = fmt.Sprintf("%s of %s", quantity.Mass.Show(p.Mass.Value), p.Lot)
	}
	return answer.List(words)
}

// broken says which limits the nearest blend does not keep, and by how much.
func (j *blendJob) broken(out *Recipe, n *recipe.Nearest) {
	if n.Short > j.req.Step/2 {
		out.Breaks = append(out.Breaks, quantity.Mass.Show(n.Short)+" too little")
	}
	if -n.Short > j.req.Step/2 {
		out.Breaks = append(out.Breaks, quantity.Mass.Show(-n.Short)+" too much")
	}
	if used := len(out.Portions); used > j.req.MostLots {
		out.Breaks = append(out.Breaks, fmt.Sprintf("%d lots instead of at most %d", used, j.req.MostLots))
	}
	for i, over := range n.Over {
		row := j.rows[i]
		limit := row.Hi
		if over < 0 {
			limit = row.Lo
		}
		if over == 0 {
			continue
		}
		value := limit + over
		if row.logs {
			value, limit = math.Exp(value), math.Exp(limit)
		}
		side := figure.Below
		if over < 0 {
			side = figure.Over
		}
		out.Breaks = append(out.Breaks, fmt.Sprintf("%s %s instead of %s %s", row.name, row.kind.Rough(value), side, row.kind.Rough(limit)))
	}
	for _, over := range n.Curves {
		if over > 0 {
			out.Breaks = append(out.Breaks, fmt.Sprintf("colour difference %.3g instead of at most %.3g", j.within+over, j.within))
		}
	}
}
