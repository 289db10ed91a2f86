package cli

import (
	"fmt"
	"slices"
	"strings"

	"hopperful/figure"
)

// withRange is a figure on one line: "1.2 kg (1.1–1.4 kg)".
func withRange(f figure.Figure) string {
	if r := f.ShownRange(); r != "" {
		return fmt.Sprintf("%s (%s)", f.Shown(), r)
	}
	return f.Shown()
}

// printFigures is the table every set of figures is shown in.
func printFigures(env *Env, figures []figure.Figure) {
	g := newGrid(env, "what", ">value", ">8 of 10 times", "from")
	for _, f := range env.speaks().Figures(figures) {
		g.row(f.Name, f.Shown(), f.ShownRange(), f.Origin())
	}
	g.print()
}

// explainFigure unfolds a figure: formula, inputs, sources, records, down to
// what was measured, entered or read in a book.
func explainFigure(env *Env, f figure.Figure, depth int) {
	pad := strings.Repeat("    ", depth)
	f = env.speaks().Figure(f)
	line := pad + f.Name + ": " + withRange(f) + ", " + f.Origin()
	if f.Limit != nil {
		line += "; " + f.ShownLimit() + " (" + f.Limit.Name + ")"
	}
	plain(env.Out, "%s", line)
	detail := func(format string, args ...any) { plain(env.Out, "%s    "+format, append([]any{pad}, args...)...) }
	if f.How != "" {
		detail("how: %s", f.How)
	}
	if s := f.Source(); s != "" {
		detail("source: %s", s)
	}
	if len(f.Records) > 0 {
		detail("records: %s", numbers(f.Records))
	}
	for _, w := range f.Warnings {
		detail("mind: %s", w)
	}
	for _, in := range f.Inputs {
		explainFigure(env, in, depth+1)
	}
}

// numbers lists record numbers, the last few when there are many.
func numbers(ids []int64) string {
	const most = 12
	text := ""
	if len(ids) > most {
		text = fmt.Sprintf("%d in all, last ", len(ids))
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
