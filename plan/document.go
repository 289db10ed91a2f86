package plan

import (
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
)

// Document is the plan as every answer is laid out. What the plan itself says is
// still English, and carried through as it is.
func (g Grinding) Document() answer.Document {
	d := answer.Document{Head: answer.Found(fact.Verbatim(g.Answer), g.leads()...), Charts: g.Charts}
	for _, s := range g.Steps {
		do := fact.Verbatim(s.Do)
		if s.Time != "" {
			do = fact.Say("plan.timed", fact.Name("do", strings.TrimSuffix(s.Do, ".")), fact.Name("time", s.Time))
		}
		d.Steps = append(d.Steps, answer.Action{Do: do})
	}
	for _, s := range g.Spoilers {
		d.Spoilers = append(d.Spoilers, answer.Found(fact.Verbatim(s.What), fact.Verbatim(s.Remedy)))
	}
	for _, c := range g.Cautions {
		d.Cautions = append(d.Cautions, answer.Found(fact.Say("plan.caution", fact.Name("where", answer.Capital(c.Where)), fact.Word("text", c.Text))))
	}
	for _, l := range g.Limits {
		f := l.Figure
		f.Name = l.Name
		b := answer.Bound{Figure: f, Binds: l.Binds}
		if l.Relax != "" {
			b.Relax = fact.Verbatim(l.Relax)
		}
		d.Limits = append(d.Limits, b)
	}
	acted, behind := g.shown()
	d.Figures = acted
	d.Tables = g.tables()
	then := answer.Section{Key: "then", Notes: g.Next}
	rest := answer.Section{Key: "plan_behind", Figures: behind, Notes: []fact.Saying{fact.Say("fit.drawn", fact.Count("n", g.Draws), fact.Count("seed", int(g.Seed)))}}
	if g.Setting.Charges.Value > 0 {
		rest.Notes = append(rest.Notes, fact.Say("plan.done_by", fact.Moment("at", g.Setting.Finish)))
	}
	d.Reasons = []answer.Section{then, rest}
	return d
}

// leads is what stands under the answer: how much is enough, why a single charge
// comes first, what changed, what stands in the way.
func (g Grinding) leads() []fact.Saying {
	var all []fact.Saying
	if g.Need.High > 0 {
		all = append(all, fact.Say("plan.enough", fact.About("mass", quantity.Mass, g.Need.High), fact.Name("need", g.NeedName), fact.Name("polymer", g.Polymer)))
	}
	if t := g.Trial; t != nil {
		all = append(all, fact.Verbatim(t.Why))
		if t.Ahead != nil {
			all = append(all, fact.Say("plan.ahead", fact.Figure("charges", *t.Ahead)))
		}
	}
	if g.Moved != nil {
		all = append(all, g.Moved.Says...)
	}
	if b := g.Blocked; b != nil {
		if g.Trial == nil && !strings.Contains(g.Answer, b.Why) {
			all = append(all, fact.Verbatim(b.Why))
		}
		if b.Nearest != "" && !strings.Contains(g.Answer, b.Nearest) {
			all = append(all, fact.Verbatim(b.Nearest))
		}
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
			t.Rows = append(t.Rows, []fact.Fact{fact.Lot("", string(x.Lot), x.Name), fact.Figure("", x.Mass), fact.Name("", x.Why)})
		}
		if len(t.Rows) > 0 {
			all = append(all, t)
		}
	}
	takes("ready", g.OnHand)
	takes("take", g.Take)
	t := answer.Table{Key: "aside", Columns: []answer.Column{{Key: "lot"}, {Key: "why"}, {Key: "remedy"}}}
	for _, x := range g.Aside {
		t.Rows = append(t.Rows, []fact.Fact{fact.Lot("", string(x.Lot), x.Name), fact.Name("", x.Why), fact.Name("", x.Remedy)})
	}
	if len(t.Rows) > 0 {
		all = append(all, t)
	}
	return all
}
