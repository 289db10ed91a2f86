package blend

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
)

// Document is the recipe, or why there is none, as every answer is laid out.
func (b Blending) Document() answer.Document {
	d := answer.Document{Head: answer.Found(b.Says), Steps: b.Steps, Spoilers: b.Spoilers, Cautions: b.Cautions, Limits: answer.Bounds(b.Limits)}
	if b.Blocked != nil {
		d.Head.Remedies = append(d.Head.Remedies, b.Blocked.Nearest)
	}
	for i, r := range b.Recipes {
		if i == 0 {
			d.Figures = r.Figures
			d.Tables = append(d.Tables, r.table("recipe", true))
			continue
		}
		d.Tables = append(d.Tables, r.table("other_recipe", false))
	}
	if n := b.Nearest; n != nil {
		d.Figures = n.Figures
		if len(n.Breaks) > 0 {
			d.Head.Remedies = append(d.Head.Remedies, fact.Say("blend.nearest_breaks", n.Parts(), fact.Parts("breaks", n.Breaks...)))
		}
		d.Tables = append(d.Tables, n.table("nearest_blend", true))
	}
	if t, some := answer.Left("why_not", b.WhyNot); some {
		t.Leads = true
		d.Tables = append(d.Tables, t)
	}
	if t, some := answer.Left("left_aside", b.Aside); some {
		d.Tables = append(d.Tables, t)
	}
	if eases := b.eases(); len(eases) > 0 {
		d.Reasons = append(d.Reasons, answer.Section{Key: "eases", Notes: eases})
	}
	d.Reasons = append(d.Reasons, answer.Section{Key: "blend_notes", Notes: b.Notes, Figures: []figure.Figure{b.Need}})
	return d
}

// eases is what moving a limit gives, where no limit says it.
func (b Blending) eases() (all []fact.Saying) {
	said := map[string]bool{}
	for _, l := range b.Limits {
		said[l.Key] = !l.Relax.Empty()
	}
	for _, e := range b.Eases {
		if !said[e.Limit] {
			all = append(all, e.Says)
		}
	}
	return all
}

// table is what to weigh of each lot.
func (r Recipe) table(key string, leads bool) answer.Table {
	t := answer.Table{Key: key, Leads: leads, Columns: []answer.Column{{Key: "lot"}, {Key: "weigh", Numbers: true}, {Key: "share_of_blend", Numbers: true}, {Key: "on_scale", Numbers: true}, {Key: "lot_left", Numbers: true}}}
	for _, p := range r.Portions {
		left := fact.Measured("", quantity.Mass, p.Left)
		if p.All {
			left = fact.Word("", "blend.used_up")
		}
		t.Rows = append(t.Rows, []fact.Fact{p.lot(), fact.Set("", quantity.Mass, p.Mass.Value), fact.About("", quantity.Share, p.Share), fact.Set("", quantity.Mass, p.Running), left})
	}
	if r.Mixed != nil {
		t.Notes = append(t.Notes, fact.Say("blend.looks", fact.Name("mixed", r.Mixed.RGB), fact.Name("unmixed", r.Unmixed.RGB)))
	}
	return t
}
