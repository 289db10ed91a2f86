package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/figure"
	"hopperful/plan/lineage"
	"hopperful/quantity"
	"hopperful/shop"
)

func colourCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "colour LOT",
		Short: "What a lot looks like, melted well and side by side, and how sure that is",
		Long: `Says a lot's colour in words, as a code and as L*a*b*: as it was taken with record
coloured, else mixed from the lots it was made of, once melted well and once side
by side. A print lies between the two.

The colours of prints and melted chips teach how strongly each lot tints; what was
learned, and from how many, stands with it. A lot of which a part has no colour
yet names the lots to take it of.`,
		Example: `  hopperful colour R1
  hopperful colour P12
  hopperful colour R4 --json`,
	}
	return aboutLot(env, c, lineage.ColourOf, func(_ *cobra.Command, found lineage.LotColour) error {
		printColour(env, found)
		return nil
	})
}

// printColour shows both ends, what was seen, and what stands behind it.
func printColour(env *Env, c lineage.LotColour) {
	plain(env.Out, "%s", c.Answer)
	if c.Mixed == nil {
		heading(env, "What to do")
		for _, id := range c.Missing {
			plain(env.Out, "  hopperful record coloured %s --photo '#rrggbb'", id)
		}
		printColourNotes(env, c)
		return
	}
	heading(env, "How it looks")
	g := newGrid(env, "", "name", "code", ">L*", ">a*", ">b*", "")
	shade := func(what string, s *lineage.Shade, more string) {
		if s != nil {
			g.row(what, s.Name, s.RGB+inexact(*s), coordinate(s.Lab[0]), coordinate(s.Lab[1]), coordinate(s.Lab[2]), more)
		}
	}
	shade("melted well", c.Mixed, "")
	shade("side by side", c.Unmixed, "")
	if c.Seen != nil {
		shade("taken", &c.Seen.Shade, fmt.Sprintf("%s, record %d", howTaken(c.Seen), c.Seen.Record))
	}
	shade("forecast by its parents", c.Forecast, "")
	g.print()
	for _, f := range []*figure.Figure{c.Apart, c.Doubt, c.Off} {
		if f != nil {
			plain(env.Out, "  %s: %s", f.Name, withRange(*f))
		}
	}
	printColourParts(env, c)
	for _, d := range env.speaks().Findings(c.Doubts) {
		plain(env.Out, "\nIs that right? %s %s", d.Say, d.Remedies[0].Say)
	}
	printColourNotes(env, c)
}

func printColourNotes(env *Env, c lineage.LotColour) {
	if len(c.Notes) == 0 {
		return
	}
	heading(env, "Notes")
	for _, n := range c.Notes {
		plain(env.Out, "  %s", n)
	}
}

// printColourParts lists the lots whose colours stand behind it.
func printColourParts(env *Env, c lineage.LotColour) {
	heading(env, "What stands behind it")
	g := newGrid(env, "lot", "what", ">share", "name", "code", "colour", ">tints", "learned from")
	for _, p := range c.Parts {
		from := "nothing yet"
		if n := p.Scatter.Runs; n > 0 {
			from = fmt.Sprintf("%d melted mix", n)
			if n > 1 {
				from += "es"
			}
		}
		g.row(string(p.Lot), p.Name, quantity.Share.Rough(p.Share), p.Shade.Name, p.Shade.RGB, string(p.Basis), withRange(p.Scatter), from)
	}
	g.print()
}

// coordinate is a part of L*a*b*.
func coordinate(v float64) string {
	return strings.ReplaceAll(fmt.Sprintf("%.1f", v), "-0.0", "0.0")
}

// inexact marks a colour that no screen shows.
func inexact(s lineage.Shade) string {
	if s.Exact {
		return ""
	}
	return " (nearest)"
}

// howTaken says how a colour was taken, and of what.
func howTaken(s *lineage.SeenColour) string {
	how := map[shop.ColourWay]string{shop.CardPhoto: "photo beside a white card", shop.Instrument: "instrument", shop.ByEye: "by eye"}[s.How]
	if s.Melted {
		return how + ", melted"
	}
	return how
}
