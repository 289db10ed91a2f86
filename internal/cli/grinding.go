package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan"
	"hopperful/quantity"
)

// printGrinding shows a plan in the order of a page: the answer, what to do, what
// could spoil it, the few figures to act on, cautions; then everything else.
func printGrinding(env *Env, g plan.Grinding) {
	plain(env.Out, "%s", g.Answer)
	if g.Trial != nil {
		plain(env.Out, "%s", g.Trial.Why)
		if g.Trial.Ahead != nil {
			plain(env.Out, "As far as is known it would take %s such charges.", g.Trial.Ahead.Shown())
		}
	}
	if g.Moved != nil {
		plain(env.Out, "%s", g.Moved.Say)
	}
	if g.Blocked != nil {
		heading(env, "What stands in the way: %s", g.Blocked.Limit)
		if g.Trial == nil {
			plain(env.Out, "  %s", g.Blocked.Why)
		}
		plain(env.Out, "  %s", g.Blocked.Nearest)
	}
	printSteps(env, g)
	if len(g.Spoilers) > 0 {
		heading(env, "What could spoil it")
		for _, s := range g.Spoilers {
			plain(env.Out, "  %s %s", sentence(s.What), sentence(s.Remedy))
		}
	}
	if rows := actedOn(g); len(rows) > 0 {
		heading(env, "The plan, for %s of %s on %s", g.NeedName, g.Polymer, g.Mill)
		printFigures(env, rows)
	}
	if len(g.Cautions) > 0 {
		heading(env, "Before you start")
		for _, c := range g.Cautions {
			plain(env.Out, "  %s: %s", c.Where, c.Text)
		}
	}
	printMaterial(env, g)
	printLimits(env, g.Limits)
	printAfter(env, g)
	if rows := settingFigures(g)[len(actedOn(g)):]; len(rows) > 0 {
		heading(env, "More figures")
		printFigures(env, rows)
	}
	if g.Setting.Charges.Value > 0 {
		plain(env.Out, "\nStarted now, done by about %s. %d draws, seed %d.", g.Setting.Finish.Format("2 Jan 15:04"), g.Draws, g.Seed)
	}
}

// actedOn are the figures a person acts on, the first of [settingFigures].
func actedOn(g plan.Grinding) []figure.Figure {
	all := settingFigures(g)
	for i, f := range all {
		if f.Key == g.Product.Key {
			return all[:i+1]
		}
	}
	return all
}

// settingFigures are the figures of the plan that are there, in reading order.
func settingFigures(g plan.Grinding) []figure.Figure {
	s := g.Setting
	if s.Charges.Value == 0 { // nothing is ground: the rest would be a column of zeros
		return []figure.Figure{g.Need}
	}
	all := []figure.Figure{g.Need, s.Charge, s.Charges}
	if s.Level != nil {
		all = append(all, *s.Level)
	}
	all = append(all, s.Run)
	if s.Charges.Value > 1 {
		all = append(all, s.Rest, s.JarEvery)
	}
	all = append(all, s.StopAt, s.Total, g.Product, s.Rest, s.JarEvery, s.Power, g.Balance.In, g.Balance.Left, g.Balance.Lost)
	all = append(all, g.Figures...)
	var there []figure.Figure
	seen := map[string]bool{}
	for _, f := range all {
		if f.Key != "" && !seen[f.Key] {
			seen[f.Key] = true
			there = append(there, f)
		}
	}
	return there
}

func printMaterial(env *Env, g plan.Grinding) {
	printTakes(env, "Ready, used first", g.OnHand)
	printTakes(env, "Grind", g.Take)
	if len(g.Aside) > 0 {
		heading(env, "Leave alone, or prepare first")
		t := newGrid(env, "lot", "what", "why", "remedy")
		for _, x := range g.Aside {
			t.row(string(x.Lot), x.Name, x.Why, x.Remedy)
		}
		t.print()
	}
}

func printTakes(env *Env, title string, takes []plan.Take) {
	if len(takes) == 0 {
		return
	}
	heading(env, "%s", title)
	t := newGrid(env, "lot", "what", ">mass", "why")
	for _, x := range takes {
		t.row(string(x.Lot), x.Name, withRange(x.Mass), x.Why)
	}
	t.print()
}

func printLimits(env *Env, limits []answer.Limit) {
	if len(limits) == 0 {
		return
	}
	heading(env, "Limits")
	t := newGrid(env, "limit", ">expected", ">bound", ">holds", "")
	for _, l := range limits {
		note := l.Relax
		if l.Binds {
			note = "decides the plan. " + note
		}
		t.row(l.Name, withRange(l.Figure), l.Figure.ShownLimit(), quantity.Share.Show(l.Holds)+", "+string(answer.Held(l.Holds)), note)
	}
	t.print()
}

func printSteps(env *Env, g plan.Grinding) {
	if len(g.Steps) == 0 {
		return
	}
	heading(env, "What to do")
	for i, s := range g.Steps {
		text := fmt.Sprintf("  %d. %s", i+1, s.Do)
		if s.Time != "" {
			text += " (" + s.Time + ")"
		}
		plain(env.Out, "%s", text)
	}
}

// printAfter is what comes after the grinding, and what a terminal cannot show.
func printAfter(env *Env, g plan.Grinding) {
	if len(g.Told) > 0 {
		heading(env, "Still to do before the print")
		for _, n := range g.Told {
			plain(env.Out, "  %s", sentence(n))
		}
	}
	if len(g.Charts) > 0 {
		heading(env, "In pictures, on the plan's page")
		for _, c := range g.Charts {
			plain(env.Out, "  %s: %s", c.Title, c.Summary)
		}
	}
}

// printWhy unfolds one figure of the plan, or all of them.
func printWhy(c *cobra.Command, env *Env, g plan.Grinding, key string) error {
	figures := settingFigures(g)
	for _, l := range g.Limits {
		figures = append(figures, l.Figure)
	}
	var keys []string
	found := false
	for _, f := range figures {
		if f.Key == "" {
			continue
		}
		keys = append(keys, f.Key)
		if key == "all" || f.Key == key {
			explainFigure(env, f, 0)
			found = true
		}
	}
	if !found {
		return usagef(c, "The plan has no figure %q; it has %s.", key, joined(keys))
	}
	return nil
}
