package blend

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/process/ageing"
	"hopperful/process/recipe"
	"hopperful/quantity"
)

// report fills the answer with the recipes found.
func (j *blendJob) report(b *Blending, a recipe.Answer) error {
	b.Possible = true
	for _, r := range a.Recipes {
		one, err := j.recipe(r.Uses)
		if err != nil {
			return err
		}
		b.Recipes = append(b.Recipes, one)
	}
	if err := j.held(b, a.Recipes[0]); err != nil {
		return err
	}
	j.say(b)
	if !j.req.Soon {
		if err := j.eased(b, a.Recipes[0]); err != nil {
			return err
		}
	}
	return j.whyNot(b, a.Recipes[0].Uses)
}

// recipe turns masses into portions, with what the blend will be.
func (j *blendJob) recipe(uses []recipe.Use) (Recipe, error) {
	var out Recipe
	uses = slices.Clone(uses)
	slices.SortStableFunc(uses, func(a, b recipe.Use) int {
		switch {
		case a.Mass > b.Mass:
			return -1
		case a.Mass < b.Mass:
			return 1
		}
		return 0
	})
	total := 0.0
	for _, u := range uses {
		total += u.Mass
	}
	running := 0.0
	for _, u := range uses {
		l := j.lots[u.Lot]
		mass := math.Min(u.Mass, l.Mass) // rounding never takes more than there is
		running += mass
		p := Portion{Lot: l.ID, Name: l.Name, Class: l.Class, Colour: l.Colour, RGB: l.RGB,
			Mass: figure.Exact("portion", "blend.portion_mass", quantity.Mass, mass, figure.Reckoned), Share: mass / total, Running: running, Left: l.Mass - mass}
		p.All = p.Left < j.req.Step
		if u.Price < 0 {
			p.Why = fact.Say("blend.more_is_better")
		}
		out.Portions = append(out.Portions, p)
	}
	out.Mass = figure.Exact("blend", "class.blend", quantity.Mass, running, figure.Reckoned)
	if total == 0 {
		return out, nil
	}
	return out, j.describe(&out, uses, total)
}

// describe adds what the blend will be: age, flow, dust, colour, cost.
func (j *blendJob) describe(out *Recipe, uses []recipe.Use, total float64) error {
	age := figure.Exact("mean_passes", "blend.mean_passes", quantity.Number, 0, figure.Reckoned)
	fines, days, price := 0.0, 0.0, 0.0
	var flows, shares []float64
	flowKnown, finesKnown := j.limitsFlow(), true
	for _, u := range uses {
		l, s := j.lots[u.Lot], u.Mass/total
		age.Value, age.Low, age.High = age.Value+s*l.mean.Value, age.Low+s*l.mean.Low, age.High+s*l.mean.High
		if flowKnown = flowKnown && l.flow != nil; flowKnown {
			flows, shares = append(flows, l.flow.Value), append(shares, s)
		}
		if finesKnown = finesKnown && l.fines != nil; finesKnown {
			fines += s * *l.fines
		}
		days, price = days+s*l.days, price+u.Mass*l.price
	}
	out.Figures = append(out.Figures, age.From("blend.mean_by_mass"))
	add := func(key, name string, kind quantity.Kind, v float64, how string) {
		out.Figures = append(out.Figures, figure.Exact(key, name, kind, v, figure.Reckoned).From(how))
	}
	if flowKnown {
		flow, err := ageing.BlendFlow(flows, shares)
		if err != nil {
			return err
		}
		add("melt_flow", "blend.melt_flow", quantity.MeltFlow, flow, "blend.logs_by_mass")
		last := len(out.Figures) - 1
		out.Figures[last] = out.Figures[last].Cite("Nielsen1977", "logarithmic rule")
	}
	if finesKnown {
		add("fines", "blend.dust", quantity.Share, fines, "blend.by_mass")
	}
	j.bring(out, uses, total)
	switch j.req.Order {
	case Cheapest:
		add("price", "blend.material", quantity.Money, price, "blend.paid")
		out.Figures[len(out.Figures)-1].Currency = j.state.Shop.Currency
	case OldFirst:
		if days >= 1 { // what came in today has no time on the shelf worth a figure
			add("stored", "blend.stored", quantity.Duration, days*86400, "blend.stored_how")
		}
	}
	return j.tinted(out, uses, total)
}

// tinted adds the colour both ways, where that of every lot is known, with how
// far it may be off.
func (j *blendJob) tinted(out *Recipe, uses []recipe.Use, total float64) error {
	d, known, err := j.drawn(uses, total)
	if err != nil || !known {
		return err
	}
	mixed, unmixed := d.Ends()
	a, err := traceability.ShadeOf(mixed)
	if err != nil {
		return err
	}
	b, err := traceability.ShadeOf(unmixed)
	if err != nil {
		return err
	}
	out.Mixed, out.Unmixed = &a, &b
	doubt, err := d.Doubt()
	if err != nil {
		return err
	}
	out.Figures = append(out.Figures, doubt)
	if j.wanted == nil {
		return nil
	}
	well, side, err := d.From(traceability.LabOf(*j.wanted))
	out.Figures = append(out.Figures, well, side)
	return err
}

// drawn is what the blend may look like.
func (j *blendJob) drawn(uses []recipe.Use, total float64) (traceability.Drawn, bool, error) {
	var portions []traceability.Portion
	for _, u := range uses {
		portions = append(portions, traceability.Portion{Lot: j.lots[u.Lot].Lot, Share: u.Mass / total})
	}
	j.shelf.busy.Lock()
	defer j.shelf.busy.Unlock()
	return j.shelf.colours.Drawn(portions)
}

// held lists the limits as the best recipe keeps them.
func (j *blendJob) held(b *Blending, r recipe.Recipe) error {
	for i, row := range j.rows {
		reading := r.Limits[i]
		value, limit, side := reading.Value, row.Hi, figure.Below
		if math.IsInf(row.Hi, 1) || !math.IsInf(row.Lo, -1) && value-row.Lo < row.Hi-value {
			limit, side = row.Lo, figure.Over
		}
		if row.logs {
			value, limit = math.Exp(value), math.Exp(limit)
		}
		f := figure.Exact(row.key, row.name, row.kind, value, figure.Reckoned).From("blend.by_mass").
			Held(figure.Limit{Name: row.name, Value: limit, Side: side, Holds: 1})
		f.About = row.about
		b.Limits = append(b.Limits, answer.Limit{Key: row.key, Bound: answer.Bound{Figure: f, Binds: reading.Binds()}})
	}
	if j.wanted == nil {
		return nil
	}
	reading := r.Curves[0]
	f, err := j.colourHeld(r)
	if err != nil {
		return err
	}
	f.Value = reading.Value // as the search has it
	f.Low, f.High = min(f.Low, f.Value), max(f.High, f.Value)
	b.Limits = append(b.Limits, answer.Limit{Key: "colour", Bound: answer.Bound{Figure: f, Binds: reading.Binds()}})
	return nil
}

// colourHeld is how far the best recipe is from the colour wanted, melted well,
// with its range and the share of the draws that keep the limit.
func (j *blendJob) colourHeld(r recipe.Recipe) (figure.Figure, error) {
	lab := traceability.LabOf(*j.wanted)
	d, _, err := j.drawn(r.Uses, r.Mass) // a lot of no known colour is left aside
	if err != nil {
		return figure.Figure{}, err
	}
	f, _, err := d.From(lab)
	if err != nil {
		return f, err
	}
	holds, err := d.Within(lab, j.within)
	f.Key, f.Name = "colour", "blend.colour_difference"
	return f.Held(figure.Limit{Name: "blend.colour_difference", Value: j.within, Side: figure.Below, Holds: holds}), err
}
