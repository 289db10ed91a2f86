package figures

import (
	"fmt"
	"html/template"
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/say"
)

// Mark says in a word and a shape how well something holds. The shape is a
// grain at a hole of the screen: it falls through, just passes, catches on the
// rim, does not go in, or has not been tried.
type Mark struct {
	Word  string
	Shape template.HTML
}

// Shapes are drawn of the verdicts. They differ in form, not in colour.
var Shapes = map[answer.Verdict]template.HTML{
	answer.Fits:     fallsThrough,
	answer.Yes:      fallsThrough,
	answer.Likely:   shape(`<circle class="mk-hole" cx="12" cy="12" r="9.5"/><circle class="mk-grain" cx="12" cy="12" r="7"/>`),
	answer.Open:     shape(`<circle class="mk-hole" cx="12" cy="12" r="9.5"/><circle class="mk-grain" cx="12" cy="12" r="9.5"/>`),
	answer.Unlikely: shape(`<circle class="mk-hole" cx="14" cy="13.5" r="8"/><circle class="mk-grain" cx="7.6" cy="7" r="6"/>`),
	answer.No:       shape(`<circle class="mk-grain" cx="12" cy="9" r="8"/><path class="mk-hole" d="M2 21h6M16 21h6"/>`),
	answer.Unknown:  shape(`<circle class="mk-hole" cx="12" cy="12" r="9.5" stroke-dasharray="3.4 3"/>`),
}

var fallsThrough = shape(`<circle class="mk-hole" cx="12" cy="12" r="9.5"/><circle class="mk-grain" cx="12" cy="12" r="3.6"/>`)

func shape(inner string) template.HTML {
	return template.HTML(`<svg viewBox="0 0 24 24" aria-hidden="true">` + inner + `</svg>`)
}

// MarkOf is the mark of a verdict.
func MarkOf(v answer.Verdict) Mark { return Mark{string(v), Shapes[v]} }

// Marked is the mark of a verdict in the words of p.
func Marked(p *say.Printer, v answer.Verdict) Mark { return Mark{p.Verdict(v), Shapes[v]} }

// inTen says a share as people count: "in 9 of 10 cases".
func inTen(p *say.Printer, holds float64) string {
	if math.IsNaN(holds) {
		return ""
	}
	switch {
	case holds >= 0.995:
		return p.Line("form.in_every_case_drawn")
	case holds > 0.99:
		return p.Line("form.in_99_of_100_cases")
	case holds < 0.005:
		return p.Line("form.in_no_case_drawn")
	}
	return p.Line("form.in_of_100_cases", fact.Name("holds", fmt.Sprintf("%.0f", holds*100)))
}
