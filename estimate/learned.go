package estimate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// What a fit says to a plan: beliefs and joint draws for a polymer and a sheet.

// Target says what is to be ground, and on what.
type Target struct {
	Polymer string  // of the beliefs asked about
	Screen  string  // name of the sheet, as in [Run]
	Chapter int     // services so far
	Since   float64 // ground since the latest one [kg]
}

// learnedShare is how far a range must have narrowed, over the book's, before
// it counts as learned.
const learnedShare = 0.97

// aim finds the links of a target among the fit's variables; those that no run
// has met have numbers beyond the fit's, and stay as free as the book leaves
// them.
func (f *fit) aim(t Target) (known, news []link) {
	for _, l := range f.ledger.asking().links(t.Polymer, t.Screen, t.Chapter, t.Since) {
		if l.variable < len(f.v) {
			known = append(known, l)
		} else {
			news = append(news, l)
		}
	}
	return known, news
}

// Beliefs returns what is believed after the records: priors for the target,
// narrowed and moved as far as the records go.
func (f *Fitted) Beliefs(priors Beliefs, t Target) Beliefs {
	if f.spread == nil {
		return priors
	}
	known, news := f.fit.aim(t)
	for p := range priors {
		f.believe(&priors[p], Param(p), known, news)
	}
	return priors
}

// believe narrows one belief.
func (f *Fitted) believe(b *Belief, p Param, known, news []link) {
	if b.known() {
		return
	}
	z, score, factor := 0.0, -1, 1.0
	c := map[int]float64{} // of the active variables, on the normal scale
	own := 0.0             // variance that no record touches
	for _, l := range known {
		if l.param == p && !l.factor {
			z, score = f.fit.v[l.variable], l.variable
		}
	}
	add := func(l link, by float64) {
		if at, ok := f.fit.place[l.variable]; ok && l.variable < len(f.fit.v) {
			c[at] += by
			return
		}
		own += by * by
	}
	slope := b.slope(z)
	if score >= 0 {
		add(link{variable: score}, slope)
	} else {
		own += slope * slope
	}
	for _, l := range append(slices.Clone(known), news...) {
		if l.param == p && l.factor {
			if l.variable < len(f.fit.v) {
				factor *= math.Exp(l.c * f.fit.v[l.variable])
			}
			add(l, l.c)
		}
	}
	sd := math.Sqrt(f.spread.along(c) + own)
	if len(c) == 0 || sd > learnedShare*slope && math.Abs(z) < 1-learnedShare {
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
		for k, q := range f.fit.readings[i] {
			x := 0.0
			for _, p := range f.fit.pulls[i] {
				if c[p.at] != 0 {
					x += p.column[k]
				}
			}
			x /= f.fit.spreads[i][k] * f.fit.scale[q.of]
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
// [Hypercube] does from beliefs alone. They are stratified where the posterior
// is independent: on its principal, whitened scale. With no records the draws
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
	known, news := f.fit.aim(t)
	// Columns: the target's own parameters first, then what else moves.
	column := map[int]int{}
	for _, l := range slices.Concat(known, news) {
		if !l.factor {
			column[l.variable] = int(l.param)
		}
	}
	width := Params
	for _, l := range slices.Concat(known, news) {
		if _, ok := column[l.variable]; !ok {
			column[l.variable] = width
			width++
		}
	}
	for _, v := range f.fit.active {
		if _, ok := column[v]; !ok {
			column[v] = width
			width++
		}
	}
	scores := stratified(n, width, rng)
	rows := make([][]float64, n)
	bender := f.fit.bender()
	links := slices.Concat(known, news)
	one := func(w *worker, i int) error {
		v := f.draw(len(links), column, scores[i])
		if bender != nil {
			bender.bend(w, v)
		}
		rows[i] = row(&priors, links, v)
		return nil
	}
	if bender != nil {
		return rows, each(f.fit.rough, n, one)
	}
	for i := range rows {
		if err := one(nil, i); err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// draw turns one draw of independent scores into one of the variables, the
// links' new ones among them.
func (f *Fitted) draw(news int, column map[int]int, u []float64) []float64 {
	v := make([]float64, len(f.fit.v)+news)
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
