package web

import (
	"fmt"
	"html/template"
	"math"
)

// mark says in a word and a shape how well something holds. The shape is a
// grain at a hole of the screen: it falls through, just passes, catches on the
// rim, does not go in, or has not been tried.
type mark struct {
	Word  string
	Shape template.HTML
}

// The marks. The shapes differ in form, not in colour.
var (
	markFits     = mark{"fits", shape(`<circle class="mk-hole" cx="12" cy="12" r="9.5"/><circle class="mk-grain" cx="12" cy="12" r="3.6"/>`)}
	markLikely   = mark{"likely", shape(`<circle class="mk-hole" cx="12" cy="12" r="9.5"/><circle class="mk-grain" cx="12" cy="12" r="7"/>`)}
	markUnlikely = mark{"unlikely", shape(`<circle class="mk-hole" cx="14" cy="13.5" r="8"/><circle class="mk-grain" cx="7.6" cy="7" r="6"/>`)}
	markNo       = mark{"no", shape(`<circle class="mk-grain" cx="12" cy="9" r="8"/><path class="mk-hole" d="M2 21h6M16 21h6"/>`)}
	markUnknown  = mark{"not known yet", shape(`<circle class="mk-hole" cx="12" cy="12" r="9.5" stroke-dasharray="3.4 3"/>`)}
)

func shape(inner string) template.HTML {
	return template.HTML(`<svg viewBox="0 0 24 24" aria-hidden="true">` + inner + `</svg>`)
}

// The shares of draws from which a limit counts as held. The plan itself asks
// for nine in ten; the other two divide the rest by judgement: more often than
// not, and at least one in ten.
const (
	fitsFrom     = 0.9
	likelyFrom   = 0.5
	unlikelyFrom = 0.1
)

// markOf is the mark for the share of draws that keep a limit.
func markOf(holds float64) mark {
	switch {
	case math.IsNaN(holds):
		return markUnknown
	case holds >= fitsFrom:
		return markFits
	case holds >= likelyFrom:
		return markLikely
	case holds >= unlikelyFrom:
		return markUnlikely
	}
	return markNo
}

// inTen says a share as people count: "in 9 of 10 cases".
func inTen(holds float64) string {
	if math.IsNaN(holds) {
		return ""
	}
	switch {
	case holds >= 0.995:
		return "in every case drawn"
	case holds > 0.99:
		return "in 99 of 100 cases"
	case holds < 0.005:
		return "in no case drawn"
	}
	return fmt.Sprintf("in %.0f of 100 cases", holds*100)
}
