package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/plan/sieving"
	"hopperful/quantity"
)

// siftedJSON is an analysis as scripts read it, with the screen in words.
func siftedJSON(p *say.Printer, s sieving.Analysis) any {
	s.Figures = p.Figures(s.Figures)
	out := struct {
		sieving.Analysis
		Screen *say.Document `json:"screen,omitempty"`
	}{Analysis: s}
	if s.Screen != nil {
		screen := p.Document(s.Screen.Document)
		out.Screen = &screen
	}
	return out
}

// printSieving shows an analysis in the order of a page: the answer, what could
// spoil it, the table, the numbers, what the screen has to do with it.
func printSieving(c *cobra.Command, env *Env, p *say.Printer, s sieving.Analysis) {
	plain(env.Out, "%s", s.Answer)
	if s.Screen != nil && s.Screen.Word == sieving.LookNow {
		plain(env.Out, "%s", p.Say(s.Screen.Head.Saying))
	}
	if len(s.Spoilers) > 0 {
		heading(env, "What could spoil it")
		for _, x := range s.Spoilers {
			plain(env.Out, "  %s %s", sentence(x.What), sentence(x.Remedy))
		}
	}
	heading(env, "On the sieves")
	t := newGrid(env, "sieve", ">kept back", ">share", ">passes", ">8 of 10 times")
	for _, r := range s.Rows {
		passes, between := "", ""
		if r.Passing != nil {
			passes, between = r.Passing.Shown(), r.Passing.ShownRange()
		}
		t.row(r.Sieve, r.Retained.Shown(), r.Share.Shown(), passes, between)
	}
	t.print()
	heading(env, "In numbers")
	printFigures(env, append(append([]figure.Figure{}, s.Masses...), s.Figures...))
	printFits(env, s)
	heading(env, "In pictures, on its page")
	for _, c := range s.Charts {
		plain(env.Out, "  %s: %s", c.Title, c.Summary)
	}
	if s.Screen != nil {
		printScreen(c, env, p, *s.Screen)
	}
	if len(s.Notes) > 0 {
		heading(env, "Notes")
		for _, n := range s.Notes {
			plain(env.Out, "  %s", sentence(n))
		}
	}
}

func printFits(env *Env, s sieving.Analysis) {
	if len(s.Fits) == 0 {
		return
	}
	heading(env, "Laws")
	t := newGrid(env, "law", "fitted by", ">size", ">8 of 10 times", ">shape", ">8 of 10 times", ">misses by", "")
	for _, f := range s.Fits {
		best := ""
		if f.Best {
			best = "nearest"
		}
		t.row(f.Law, f.Method, f.Scale.Shown(), f.Scale.ShownRange(), f.Shape.Shown(), f.Shape.ShownRange(), quantity.Share.Rough(f.Miss.Value), best)
	}
	t.print()
	if s.Verdict != nil {
		for _, say := range s.Verdict.Says {
			plain(env.Out, "  %s", say)
		}
	}
}

// whySieving unfolds one figure of an analysis, or all.
func whySieving(c *cobra.Command, env *Env, s sieving.Analysis, key string) error {
	all := append(append([]figure.Figure{}, s.Masses...), s.Figures...)
	for _, f := range s.Fits {
		if f.Method == "least squares" {
			all = append(all, f.Scale, f.Shape)
		}
	}
	if s.Screen != nil {
		for _, part := range s.Screen.Reasons {
			all = append(all, part.Figures...)
		}
	}
	var keys []string
	found := false
	for _, f := range all {
		if key == "all" || f.Key == key {
			explainFigure(env, f, 0)
			found = true
		}
		keys = append(keys, f.Key)
	}
	if !found {
		return usagef(c, "This analysis has no figure %q; it has: %s.", key, strings.TrimSpace(joined(keys)))
	}
	return nil
}
