package cli

import (
	"fmt"
	"strings"

	"hopperful/answer"
	"hopperful/plan/blend"
	"hopperful/quantity"
)

// printBlending shows a blend: the answer, the table to weigh by, what it will
// be, what binds, other recipes, what was left aside.
func printBlending(env *Env, b blendJSON) {
	plain(env.Out, "%s", b.Answer)
	if b.Kept != 0 {
		plain(env.Out, "Record %d: lot %s.", b.Kept, b.Made)
	}
	if b.Blocked != nil {
		heading(env, "What stands in the way: %s", b.Blocked.Limit)
		plain(env.Out, "  %s", b.Blocked.Why)
		plain(env.Out, "  %s", b.Blocked.Nearest)
		if b.Nearest != nil {
			heading(env, "The nearest there is")
			printRecipe(env, *b.Nearest)
		}
	} else {
		heading(env, "Weigh out for %s, %s", orWord(b.NeedName, "this print"), b.Order)
		printRecipe(env, b.Recipes[0])
		printBlendLimits(env, b.Limits)
		for _, r := range b.Recipes[1:] {
			heading(env, "Or")
			printRecipe(env, r)
		}
	}
	printBlendAside(env, "Why not", b.WhyNot)
	printBlendAside(env, "Left aside", b.Aside)
	if len(b.Steps) > 0 {
		heading(env, "What to do")
		for i, s := range b.Steps {
			plain(env.Out, "  %d. %s", i+1, s.Do)
		}
	}
	printFindings(env, env.speaks(), "print.spoilers", b.Spoilers, len(b.Spoilers))
	printCautions(env, b.Cautions)
	for i, n := range b.Notes {
		if i == 0 {
			heading(env, "Notes")
		}
		plain(env.Out, "  %s", n)
	}
}

// printRecipe is the table of one recipe and the line of what it will be.
func printRecipe(env *Env, r blend.Recipe) {
	g := newGrid(env, "lot", "what", ">weigh", ">share", ">on the scale", ">left")
	for _, p := range r.Portions {
		left := mass(p.Left)
		if p.All {
			left = "used up"
		}
		what := strings.TrimSpace(string(p.Class) + " " + p.Colour)
		if p.Name != "" {
			what += ": " + p.Name
		}
		g.row(string(p.Lot), what, mass(p.Mass.Value), quantity.Share.Rough(p.Share), mass(p.Running), left)
	}
	g.print()
	var words []string
	for _, f := range r.Figures {
		words = append(words, env.speaks().Word(f.Name)+" "+withRange(f))
	}
	if r.Mixed != nil {
		words = append(words, "colour "+r.Mixed.Name+" ("+r.Mixed.RGB+") melted well, "+r.Unmixed.Name+" ("+r.Unmixed.RGB+") side by side")
	}
	if len(words) > 0 {
		plain(env.Out, "  %s", sentence(strings.Join(words, "; ")))
	}
}

// printBlendLimits are the limits that were asked for, and what relaxing those
// that bind would give.
func printBlendLimits(env *Env, limits []answer.Limit) {
	if len(limits) == 0 {
		return
	}
	heading(env, "Limits")
	g := newGrid(env, "what", ">value", ">bound", "")
	for _, l := range limits {
		note := ""
		if l.Binds {
			note = strings.TrimSpace("binds. " + l.Relax)
		}
		g.row(l.Name, l.Figure.Shown(), l.Figure.ShownLimit(), note)
	}
	g.print()
}

// printBlendAside are lots left alone, and why.
func printBlendAside(env *Env, title string, aside []answer.Aside) {
	if len(aside) == 0 {
		return
	}
	heading(env, "%s", title)
	for _, a := range aside {
		plain(env.Out, "  %s", strings.TrimSpace(fmt.Sprintf("%s: %s. %s", a.Lot, a.Why, a.Remedy)))
	}
}
