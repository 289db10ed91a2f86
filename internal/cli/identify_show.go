package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"hopperful/figure"
	"hopperful/plan/piece"
	"hopperful/polymer"
)

// mostShown is how many polymers and tests a person can take in.
const mostShown = 6

// printPiece shows the answer, the likeliest, what to try next, and the doubts.
func printPiece(env *Env, p pieceJSON) {
	plain(env.Out, "%s", p.Answer)
	if p.Stop != "" {
		return
	}
	heading(env, "What it may be, from %s", p.Prior)
	g := newGrid(env, "material", "what", ">share")
	for _, m := range p.Materials[:min(mostShown, len(p.Materials))] {
		name := m.Polymer
		if name == polymer.Unknown {
			name = "other"
		}
		g.row(name, m.Words, piece.Percent(m.Share.Value))
	}
	g.print()
	if len(p.Findings) > 0 {
		heading(env, "Found")
		for _, m := range p.Moved {
			plain(env.Out, "  %s. %s: %s → %s", m.Finding, m.Polymer, piece.Percent(m.Before.Value), piece.Percent(m.After.Value))
		}
	}
	if t := p.Next; t != nil {
		heading(env, "Try next: %s", t.Ask)
		plain(env.Out, "  %s", t.How)
		if t.Caution != "" {
			plain(env.Out, "  Mind: %s", t.Caution)
		}
		plain(env.Out, "  If so: %s", t.Say)
		printTests(env, *t, p.Tests)
	}
	if p.Part != nil {
		heading(env, "A liquid between %s, which floats, and %s, which sinks", p.Part.Light, p.Part.Heavy)
		plain(env.Out, "  %s", p.Part.Test.Ask)
		if m := p.Part.Test.Mix(); m != "" {
			plain(env.Out, "  To mix it: %s", m)
		}
	}
	if p.Kept != 0 {
		heading(env, "Written down")
		plain(env.Out, "  Record %d: it is lot %s now.", p.Kept, p.Made)
	}
	if p.WriteDown != "" {
		heading(env, "To keep it with the lot (it becomes a lot of its own): --save, or")
		plain(env.Out, "  %s", p.WriteDown)
	}
	if len(p.Notes) > 0 {
		heading(env, "Mind")
		for _, n := range p.Notes {
			plain(env.Out, "  %s", n)
		}
	}
}

func printTests(env *Env, first piece.Test, others []piece.Test) {
	g := newGrid(env, "test", ">takes", ">chance of yes", ">bits a minute", "yes would mean", "no would mean")
	for _, t := range append([]piece.Test{first}, others[:min(mostShown-1, len(others))]...) {
		say := t.Say
		if i := strings.Index(say, " --solid"); i > 0 {
			say = say[:i]
		}
		g.row(say, t.Time.Shown(), t.Yes.Shown(), t.Rate.Shown(), t.IfYes, t.IfNo)
	}
	g.print()
}

// pieceFigures are the figures of an answer that can be asked for.
func pieceFigures(p piece.Identification) []figure.Figure {
	var all []figure.Figure
	for _, m := range p.Materials {
		all = append(append(all, m.Share), m.Grades...)
	}
	all = append(all, p.Unsure)
	if p.Next != nil {
		all = append(all, p.Next.Rate)
	}
	return all
}

// whyPiece unfolds figures of the answer.
func whyPiece(c *cobra.Command, env *Env, p piece.Identification, key string) error {
	var found []figure.Figure
	for _, f := range pieceFigures(p) {
		if key == "all" || f.Key == key {
			found = append(found, f)
		}
	}
	if len(found) == 0 {
		var keys []string
		for _, f := range pieceFigures(p) {
			keys = append(keys, f.Key)
		}
		return usagef(c, "There is no figure %q; there are %s.", key, joined(keys))
	}
	for _, f := range found {
		explainFigure(env, f, 0)
	}
	return nil
}
