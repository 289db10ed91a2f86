package estimate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"hopperful/process"
)

// What a fit says to a plan: beliefs and joint draws for a polymer and a sheet.

// Target says what is to be ground, and on what.
type Target struct {
	Polymer string  // of the beliefs asked about
	Screen  string  // name of the sheet, as in [Run]
	Chapter int     // services so far
	Since   float64 // ground since the latest one [kg]
	Levels  []Load  // of the controller from 1 on, whose power scales are drawn; nil: none
}

// learnedShare is how far a range must have narrowed, over the book's, before
// it counts as learned.
const learnedShare = 0.97

// aim finds a target among the fit's variables; those that no run has met have
// numbers beyond the fit's, and stay as free as the book leaves them.
func (f *fit) aim(t Target) aim {
	asking := f.ledger.asking()
	a := aim{links: asking.links(t.Polymer, t.Screen, Load{}, t.Chapter, t.Since)}
	for i, load := range t.Levels {
		load.Level = i + 1
		a.levels = append(a.levels, asking.at(load))
	}
	if last := len(f.runs) - 1; f.step > 0 && t.Chapter == f.runs[last].Chapter && t.Screen == f.runs[last].Screen {
		a.links = append(a.links, asking.stepLink())
	}
	a.terms = asking.terms(t.Screen, t.Chapter)
	return a
}

// aim is a target among a fit's variables.
type aim struct {
	links  []link
	levels [][]link // of the power scale at each level
	terms  []int    // variables of the models' error
}

// Beliefs returns what is believed after the records: priors for the target,
// narrowed and moved as far as the records go. The power scale is that of all
// levels together; [Fitted.ScaleAt] says it of one.
func (f *Fitted) Beliefs(priors Beliefs, t Target) Beliefs {
	if f.spread == nil {
		return priors
	}
	links := f.fit.aim(t).links
	var of [paramCount][]link
	for _, l := range links {
		of[l.param] = append(of[l.param], l)
	}
	for p := range priors {
		f.believe(&priors[p], of[p])
	}
	return priors
}

// believe narrows the belief of the parameter that links are to.
func (f *Fitted) believe(b *Belief, links []link) {
	if b.known() {
		return
	}
	z, factor := 0.0, 1.0
	for _, l := range links {
		switch {
		case l.variable >= len(f.fit.v): // no run has met it
		case l.factor:
			factor *= math.Exp(l.c * f.fit.v[l.variable])
		default:
			z += l.c * f.fit.v[l.variable]
		}
	}
	slope := b.slope(z)
	c := map[int]float64{} // of the active variables, on the normal scale
	own, prior := 0.0, 0.0 // variance that no record touches, and that before any record
	for _, l := range links {
		by := l.c
		if !l.factor {
			by *= slope
		}
		prior += by * by
		if at, ok := f.fit.place[l.variable]; ok {
			c[at] += by
			continue
		}
		own += by * by
	}
	sd := math.Sqrt(f.spread.along(c) + own)
	if len(c) == 0 || sd > learnedShare*math.Sqrt(prior) && math.Abs(z) < 1-learnedShare {
		return
	}
	away := tail * sd / slope
	b.Median, b.Low, b.High = b.at(z)*factor, b.at(z-away)*factor, b.at(z+away)*factor
	b.Records = f.tellers(c)
	b.Runs = len(b.Records)
}

// tellers are the records that speak of a sum of active variables.
func (f *Fitted) tellers(c map[int]float64) []int64 {
	var ids []int64
	for i := range f.fit.runs {
		told := 0.0
		for k := range f.fit.readings[i] {
			x := 0.0
			for _, p := range f.fit.pulls[i] {
				if c[p.at] != 0 {
					x += p.column[k]
				}
			}
			x /= f.fit.spreads[i][k]
			told += x * x
		}
		if told > leastInformation || f.stallSpeaks(i, c) {
			ids = append(ids, f.fit.runs[i].Record)
		}
	}
	slices.Sort(ids)
	return ids
}

// stallSpeaks reports whether a run's stall, or lack of one, is about c.
func (f *Fitted) stallSpeaks(i int, c map[int]float64) bool {
	if f.fit.runs[i].StallOdds == nil {
		return false
	}
	for _, l := range f.fit.links[i] {
		if at, ok := f.fit.place[l.variable]; ok && l.param == StallShift && c[at] != 0 {
			return true
		}
	}
	return false
}

// Draws returns n joint draws of all parameters for a target, one a row, as
// [Hypercube] does from beliefs alone; behind them in a row stand [Terms]
// coefficients of the models' error, for [Fitted.Discrepancy], and the power scales
// at the target's levels. They are stratified where the posterior
// is independent: on its principal, whitened scale, and taken as seldom as they are
// likely by what runs came out as grains. With no records the draws
// are those of the priors.
func (f *Fitted) Draws(priors Beliefs, t Target, n int, rng *rand.Rand) ([][]float64, error) {
	for _, b := range priors.List() {
		if err := b.Check(); err != nil {
			return nil, err
		}
	}
	if n < 1 {
		return nil, fmt.Errorf("a plan needs at least one draw, not %d", n)
	}
	if len(t.Levels) > mostLevels {
		return nil, &process.RangeError{Name: "run.level", Value: float64(len(t.Levels)), Lo: 0, Hi: mostLevels, Source: byJudgement}
	}
	to := f.fit.aim(t)
	column := f.columns(&to)
	scores := stratified(n, len(column), rng)
	rows, weights := make([][]float64, n), make([]float64, n)
	bender, evidence := f.fit.bender(), f.fit.telling()
	usual := f.fit.setup.Usual
	if !f.fit.untried() {
		usual = nil
	}
	one := func(w *worker, i int) (err error) {
		v := f.draw(column, scores[i])
		if bender != nil {
			bender.bend(w, v)
		}
		full := row(nil, &priors, to.links, v)
		for _, term := range to.terms {
			full = append(full, v[term])
		}
		rows[i] = levelled(full, &priors[PowerScale], to.levels, v)
		switch {
		case usual != nil:
			weights[i], err = w.usualAt(f.fit, usual, rows[i])
		case len(evidence) > 0:
			weights[i], err = w.grainsAt(f.fit, evidence, v)
		}
		return err
	}
	workers := []*worker{nil} // nothing to grind
	switch {
	case usual != nil:
		var err error
		if _, workers, err = workshop(usual.Largest, drawTolerance); err != nil {
			return nil, err
		}
	case bender != nil || len(evidence) > 0:
		f.fit.drawing.Lock() // its workers serve one at a time
		defer f.fit.drawing.Unlock()
		workers = f.fit.rough
	}
	if err := each(workers, n, one); err != nil || usual == nil && len(evidence) == 0 {
		return rows, err
	}
	return resampled(rows, weights), nil
}

// columns gives each variable of a draw a column of independent scores: the
// target's own parameters come first, then what else moves.
func (f *Fitted) columns(to *aim) map[int]int {
	column := map[int]int{}
	for _, l := range to.links {
		if !l.factor {
			column[l.variable] = int(l.param)
		}
	}
	add := func(variable int) {
		if _, ok := column[variable]; !ok {
			column[variable] = len(column)
		}
	}
	for _, l := range to.links {
		add(l.variable)
	}
	for _, v := range f.fit.active {
		add(v)
	}
	for _, l := range slices.Concat(to.levels...) {
		add(l.variable)
	}
	for _, term := range to.terms {
		add(term)
	}
	return column
}

// draw turns one draw of independent scores into one of the variables, those
// that no run has met among them.
func (f *Fitted) draw(column map[int]int, u []float64) []float64 {
	last := 0
	for number := range column {
		last = max(last, number)
	}
	v := make([]float64, max(len(f.fit.v), last+1))
	for number, c := range column {
		v[number] = u[c]
	}
	if f.spread == nil {
		return v
	}
	for a, number := range f.fit.active {
		sum := f.fit.v[number]
		for b := range a + 1 {
			sum += f.spread.root.At(a, b) * u[column[f.fit.active[b]]]
		}
		v[number] = sum
	}
	return v
}
