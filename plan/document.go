package plan

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
)

// Document is the plan as every answer is laid out.
func (g Grinding) Document() answer.Document {
	acted, behind := g.shown()
	d := answer.Document{Head: answer.Found(g.Says, g.leads()...), Steps: g.Steps, Spoilers: g.Spoilers, Cautions: g.Cautions,
		Figures: acted, Limits: answer.Bounds(g.Limits), Tables: g.tables(), Charts: g.Charts}
	rest := answer.Section{Key: "plan_behind", Figures: behind, Notes: []fact.Saying{fact.Say("fit.drawn", fact.Count("n", g.Draws), fact.Count("seed", int(g.Seed)))}}
	if g.Setting.Charges.Value > 0 {
		rest.Notes = append(rest.Notes, fact.Say("plan.done_by", fact.Moment("at", g.Setting.Finish)))
	}
	if len(g.Next) > 0 {
		d.Reasons = []answer.Section{{Key: "then", Notes: g.Next}}
	}
	d.Reasons = append(d.Reasons, rest)
	return d
}

// leads is what stands under the answer: how much is enough, why a single charge
// comes first, what changed, what would come nearest.
func (g Grinding) leads() []fact.Saying {
	var all []fact.Saying
	if !g.Lacks.Empty() {
		all = append(all, g.Lacks)
	}
	if g.Need.High > 0 && g.Setting.Charges.Value > 0 {
		all = append(all, fact.Say("plan.enough", fact.About("mass", quantity.Mass, g.Need.High), fact.Name("need", g.NeedName), fact.Name("polymer", g.Polymer)))
	}
	if t := g.Trial; t != nil {
		all = append(all, t.Why)
		if t.Ahead != nil {
			all = append(all, fact.Say("plan.ahead", fact.Figure("charges", *t.Ahead)))
		}
	}
	if g.Moved != nil {
		all = append(all, g.Moved.Says...)
	}
	if b := g.Blocked; b != nil {
		all = append(all, b.Nearest)
	}
	return all
}

// shown are the figures of the plan that are there: those a person acts on, and
// those behind.
func (g Grinding) shown() (acted, behind []figure.Figure) {
	s := g.Setting
	if s.Charges.Value == 0 { // nothing is ground: the rest would be a column of zeros
		return []figure.Figure{g.Need}, nil
	}
	first := []figure.Figure{s.Charge, s.Charges}
	if s.Level != nil {
		first = append(first, *s.Level)
	}
	first = append(first, s.Run, s.StopAt)
	if s.Charges.Value > 1 {
		first = append(first, s.Rest)
	}
	seen := map[string]bool{"": true}
	keep := func(all []figure.Figure) (there []figure.Figure) {
		for _, f := range all {
			if !seen[f.Key] {
				seen[f.Key], there = true, append(there, f)
			}
		}
		return there
	}
	acted = keep(first)
	return acted, keep(append([]figure.Figure{g.Need, s.Total, g.Product, s.Rest, s.JarEvery, s.Power, g.Balance.In, g.Balance.Left, g.Balance.Lost}, g.Figures...))
}

// tables are what is taken and what is left.
func (g Grinding) tables() []answer.Table {
	var all []answer.Table
	takes := func(key string, list []Take) {
		t := answer.Table{Key: key, Columns: []answer.Column{{Key: "lot"}, {Key: "mass", Numbers: true}, {Key: "why"}}}
		for _, x := range list {
			t.Rows = append(t.Rows, []fact.Fact{fact.Lot("", string(x.Lot), x.Name), fact.Figure("", x.Mass), fact.Parts("", x.Why)})
		}
		if len(t.Rows) > 0 {
			all = append(all, t)
		}
	}
	takes("ready", g.OnHand)
	takes("take", g.Take)
	if t, some := answer.Left("aside", g.Aside); some {
		all = append(all, t)
	}
	return all
}
