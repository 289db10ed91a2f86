package estimate

import (
	"fmt"
	"maps"
	"math"
	"slices"
)

// What a fit may move. Every variable is standard normal before the first
// record, so "no further than the book's range" is the same number for all.

// byPolymer are the parameters a polymer brings along; byScreen those of the
// sheet at the outlet. All others are the mill's, and what one polymer teaches
// about them helps every other.
var (
	byPolymer = map[Param]bool{Toughness: true, SpecificHeat: true, SolidDensity: true, Softening: true, GrainBulk: true}
	byScreen  = map[Param]bool{Hole: true, OpenShare: true}
)

// How far parts and wear are thought to move a mill's rates, as standard
// deviations of their logarithm. Judgement.
const (
	screenSpread  = 0.2   // discharge, from one sheet to another of the same hole
	chapterSpread = 0.25  // break rate, from one blade to the next
	slopeSpread   = 0.015 // break rate, steady loss or gain a kilogram ground
	walkSpread    = 0.02  // break rate, wandering in a kilogram ground
)

// The random walk of the break rate is told at knots, straight in between.
const (
	leastKnot = 2.5 // kg from one to the next
	mostKnots = 8   // in a chapter
)

// toError stands where a link is to no parameter but to the models' error of a
// kind, whose logarithm it moves by c v over that kind's scale.
func toError(k errorKind) Param { return Param(-1 - int(k)) }

// errs is the kind of the models' error that a link is to.
func (l link) errs() (errorKind, bool) { return errorKind(-1 - int(l.param)), l.param < 0 }

// link says that a variable moves a parameter of a run: its normal score by
// c v, or itself by a factor exp(c v).
type link struct {
	variable int
	param    Param
	factor   bool
	c        float64
	slope    bool // to the models' error along the setting, which is told by runs unlike each other alone
}

// book numbers the variables of a fit by name and knows how far its chapters
// reach.
type ledger struct {
	numbers map[string]int
	names   []string
	reach   []float64 // kg ground in each chapter
	screen  string    // the first run's, as is its chapter; "" without a run
	chapter int
}

// asking is a copy that may learn new names without the fit knowing.
func (l *ledger) asking() *ledger {
	return &ledger{maps.Clone(l.numbers), slices.Clone(l.names), l.reach, l.screen, l.chapter}
}

// isFirst reports whether sheet and blade are those of the first run, or there was
// none.
func (l *ledger) isFirst(screen string, chapter int) bool {
	return len(l.reach) == 0 || screen == l.screen && chapter == l.chapter
}

// number is a variable's place, made when it is new.
func (l *ledger) number(name string) int {
	n, ok := l.numbers[name]
	if !ok {
		n = len(l.names)
		l.numbers[name] = n
		l.names = append(l.names, name)
	}
	return n
}

// newLedger lists the variables of a fit: a mill's first, in the order of
// their parameters.
func newLedger(runs []Run) *ledger {
	l := &ledger{numbers: map[string]int{}}
	if len(runs) > 0 {
		l.screen, l.chapter = runs[0].Screen, runs[0].Chapter
	}
	for i := range runs {
		for len(l.reach) <= runs[i].Chapter {
			l.reach = append(l.reach, 0)
		}
		c := runs[i].Chapter
		l.reach[c] = math.Max(l.reach[c], runs[i].Since)
	}
	return l
}

// of are the links of a run: those of its parameters, and of the models' error
// at its setting.
func (l *ledger) of(r *Run, chamber float64) []link {
	all := l.links(r.Polymer, r.Screen, r.Load, r.Chapter, r.Since)
	x := r.setting().along(chamber)
	for k := range errorKinds {
		for term, c := range k.basis(x, l.isFirst(r.Screen, r.Chapter)) {
			if c != 0 {
				all = append(all, link{variable: l.number(k.coefficient(term, r.Screen, r.Chapter)), param: toError(k), c: c, slope: isSlope(term)})
			}
		}
	}
	return all
}

// variableOf names the variable behind a parameter.
func variableOf(p Param, polymer, screen string) string {
	switch {
	case byPolymer[p]:
		return fmt.Sprintf("%d/polymer/%s", p, polymer)
	case byScreen[p]:
		return fmt.Sprintf("%d/screen/%s", p, screen)
	}
	return fmt.Sprint(int(p))
}

// links says which variables move the parameters of a run at a level of the
// controller, none for what all levels share.
func (l *ledger) links(polymer, screen string, load Load, chapter int, since float64) []link {
	all := make([]link, 0, Params+5)
	for p := range Params {
		all = append(all, link{variable: l.number(variableOf(Param(p), polymer, screen)), param: Param(p), c: 1})
	}
	all[PowerScale].c = sharedPart(load.Level)
	if load.Level > 0 {
		all = append(all, l.own(load.Level))
		if exponent, ok := l.phase(load); ok {
			all = append(all, exponent)
		}
	}
	all = append(all, link{variable: l.number("sheet " + screen), param: Discharge, factor: true, c: screenSpread})
	if chapter > 0 {
		all = append(all, link{variable: l.number(fmt.Sprintf("chapter %d", chapter)), param: BreakRate, factor: true, c: chapterSpread})
	}
	return append(all, l.wear(chapter, since)...)
}

// steady names the variable of the slope of wear.
const steady = "slope"

// wear are the links of the break rate to what has been ground since the
// chapter began: a steady slope, and the walk up to this kilogram.
func (l *ledger) wear(chapter int, since float64) []link {
	all := []link{{variable: l.number(steady), param: BreakRate, factor: true, c: slopeSpread * since}}
	step := l.step(chapter)
	for k := 0; float64(k)*step < math.Min(since, l.span(chapter)); k++ {
		share := math.Min(1, (since-float64(k)*step)/step)
		all = append(all, link{variable: l.number(fmt.Sprintf("walk %d.%d", chapter, k)), param: BreakRate, factor: true, c: walkSpread * math.Sqrt(step) * share})
	}
	return all
}

// span is how much a chapter has ground so far [kg].
func (l *ledger) span(chapter int) float64 {
	if chapter < len(l.reach) {
		return l.reach[chapter]
	}
	return 0
}

// step is the distance between the knots of a chapter's walk [kg].
func (l *ledger) step(chapter int) float64 {
	return math.Max(leastKnot, l.span(chapter)/mostKnots)
}

// memory is what parameters came to last, and of what: the runs that one draw is held
// against share most of them. A nil one forgets.
type memory [paramCount]struct {
	family                          Family
	median, low, high, score, value float64
}

// at is the value of a parameter at a score.
func (m *memory) at(p int, b *Belief, score float64) float64 {
	if m == nil {
		return b.at(score)
	}
	one := &m[p]
	if one.family != b.Family || one.median != b.Median || one.low != b.Low || one.high != b.High || one.score != score {
		one.family, one.median, one.low, one.high, one.score, one.value = b.Family, b.Median, b.Low, b.High, score, b.at(score)
	}
	return one.value
}

// row puts a run's parameters together from the variables: a draw as plans use
// it.
func row(m *memory, priors *Beliefs, links []link, v []float64) []float64 {
	out := make([]float64, Params)
	for _, l := range links {
		if !l.factor && l.param >= 0 {
			out[l.param] += l.c * v[l.variable] // the score
		}
	}
	for p := range out {
		out[p] = m.at(p, &priors[p], out[p])
	}
	for _, l := range links {
		if l.factor {
			out[l.param] *= math.Exp(l.c * v[l.variable])
		}
	}
	return out
}
