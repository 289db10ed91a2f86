package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/source"
)

// whyOf unfolds the figures of that key, or all.
func whyOf(c *cobra.Command, env *Env, figures []figure.Figure, key string) error {
	var keys []string
	found := false
	for _, f := range figures {
		keys = append(keys, f.Key)
		if key == "all" || f.Key == key {
			explainFigure(env, f, 0)
			found = true
		}
	}
	if !found {
		return usagef(c, fact.Say("cli.figure_none", fact.Name("key", key), fact.Name("keys", joined(keys))))
	}
	return nil
}

// explainFigure unfolds a figure: formula, inputs, sources, records, down to
// what was measured, entered or read in a book.
func explainFigure(env *Env, f figure.Figure, depth int) {
	pad := strings.Repeat("    ", depth)
	p := env.speaks()
	f = p.Figure(f)
	line := pad + f.Name + ": " + p.WithRange(f) + ", " + p.Origin(f)
	if f.Limit != nil {
		line += "; " + p.Bound(f) + " (" + f.Limit.Name + ")"
	}
	plain(env.Out, "%s", line)
	detail := func(code, text string) {
		if text != "" {
			plain(env.Out, "%s    %s: %s", pad, strings.ToLower(p.Line(code)), text)
		}
	}
	detail("print.how", f.How)
	detail("why.source", sources(p, f))
	if len(f.Records) > 0 {
		detail("why.records", numbers(p, f.Records))
	}
	for _, w := range f.Warnings {
		detail("why.mind", w)
	}
	for _, in := range f.Inputs {
		explainFigure(env, in, depth+1)
	}
}

// sources names where a figure comes from, with the address of each work and what to
// bear in mind of it.
func sources(p *say.Printer, f figure.Figure) string {
	all := make([]string, len(f.Sources))
	for i, r := range f.Sources {
		all[i] = r.String()
		e, ok := source.Lookup(r.Key)
		if ok && e.Address() != "" {
			all[i] += " <" + e.Address() + ">"
		}
		if mind := e.Mind(); mind != "" {
			all[i] += " (" + p.Line(mind) + ")"
		}
	}
	return strings.Join(all, "; ")
}

// numbers lists record numbers, the last few when there are many.
func numbers(p *say.Printer, ids []int64) string {
	const most = 12
	text := ""
	if len(ids) > most {
		text = p.Line("cli.in_all", fact.Count("n", len(ids))) + " "
		ids = ids[len(ids)-most:]
	}
	return text + strings.Trim(fmt.Sprint(ids), "[]")
}

// joined lists words once each.
func joined(words []string) string {
	var once []string
	for _, w := range words {
		if !slices.Contains(once, w) {
			once = append(once, w)
		}
	}
	return strings.Join(once, ", ")
}
