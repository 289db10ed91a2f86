package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/process/breakage"
)

// The search looks at the levels, charge masses and run times that practice
// allows with few draws, keeps the campaigns of the least cost that hold every
// limit, and settles the best of them with all draws.
const (
	choiceDraws = 200  // that settle a campaign, whatever a request draws
	fewDraws    = 48   // in the first look
	mostLevels  = 7    // of the controller
	mostMasses  = 6    // of a charge
	mostTimes   = 9    // of a run
	keepBest    = 4    // campaigns settled with all draws, of as many charge masses
	keepSecond  = 2    // and others of these masses: how long a wall takes to cool is told badly by few draws
	longRest    = 3600 // s; a campaign that needs longer rests is not proposed
	restStep    = 10   // s; rests are looked for to this
)

// look builds the cells of the first look: every level with every mass that
// practice allows, each run once with the first draws.
func (b *bench) look() ([]*cell, error) {
	p := &b.practice
	mass, time := p.spans()
	at := wholeTimes(between(time, p.run(func(d deed) float64 { return d.time }), mostTimes))
	masses := between(mass, p.run(func(d deed) float64 { return d.charge }), mostMasses)
	levels := p.allowedLevels(b.levels)
	if b.lying() > worthEmptying*p.usualCharge() { // who finds something in the mill fills less onto it before he throws it out
		for _, share := range fillLess {
			masses = append(masses, share*mass[0])
		}
	}
	if d := p.before; d != nil { // the charge before can be repeated as it was
		at, masses = wholeTimes(append(at, d.time)), append(masses, d.charge)
		slices.SortStableFunc(levels, func(x, y draw) int { return cmp.Compare(abs(x.Level-d.level), abs(y.Level-d.level)) })
	}
	var cells []*cell
	for _, d := range levels[:min(len(levels), mostLevels)] {
		for _, m := range masses {
			if p.bears(m, d.Level) {
				cells = b.with(cells, d, m, p.soon(m, at))
			}
		}
	}
	return cells, b.glance(cells)
}

// fillLess are the shares of the smallest charge that may be filled onto what lies in the
// mill. Judgement.
var fillLess = []float64{0.8, 0.6, 0.45}

// wholeTimes brings run times to what a stopwatch is read to.
func wholeTimes(all []float64) []float64 {
	for i, t := range all {
		if all[i] = 5 * math.Round(t/5); t < 30 {
			all[i] = math.Max(1, math.Round(t))
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// with adds the cell of a level and a mass, rounded to what a person weighs and
// bounded by the scrap there is, unless it is there already.
func (b *bench) with(cells []*cell, d draw, mass float64, at []float64) []*cell {
	mass = math.Min(b.roundMass(mass), b.available)
	if mass <= 0 || len(at) == 0 || among(cells, d, mass) {
		return cells
	}
	return append(cells, &cell{d: d, mass: mass, at: at})
}

func among(cells []*cell, d draw, mass float64) bool {
	return slices.ContainsFunc(cells, func(c *cell) bool { return c.d.Level == d.Level && c.mass == mass })
}

// glance runs every cell once with the first draws.
func (b *bench) glance(cells []*cell) error {
	n := min(fewDraws, len(b.rows))
	for _, c := range cells {
		c.chain = make([][]view, n)
		c.fines = make([]float64, n)
	}
	err := b.each(n, func(m *breakage.Mill, from, to int) error {
		for _, c := range cells {
			v, err := b.grind(m, b.rows[from], c.d, c.mass, nil, c.at, true)
			if err != nil {
				return fmt.Errorf("grinding %g kg at level %d: %w", c.mass, c.d.Level, err)
			}
			fines := b.finerShare(v, answer.FinesLimit)
			v.passing, v.left = nil, nil
			c.chain[from], c.fines[from] = []view{v}, fines
			for i := from + 1; i < to; i++ {
				c.chain[i], c.fines[i] = []view{v.own()}, fines
			}
		}
		return nil
	})
	if err != nil || b.offFew == nil {
		return err
	}
	for _, c := range cells {
		for k := range c.at {
			b.misjudge(c, k, b.offFew)
		}
	}
	return nil
}

// roundMass brings a charge to a step a person weighs by.
func (b *bench) roundMass(kg float64) float64 {
	step := 0.005
	if kg > 0.5 {
		step = 0.01
	}
	return math.Round(math.Max(1, math.Round(kg/step))*step*1e6) / 1e6
}

// What a campaign costs, to choose by. Judgement.
const (
	effort    = 60.0  // s that a charge is worth beyond the clock, on which its handling is: every one is a person's work
	tiring    = 20.0  // charges of which each is worth twice as much, as they wear a person out
	sweeping  = 180.0 // s that emptying the mill is worth
	leaving   = 0.6   // how much quicker a campaign must be to go as far from practice as forecasts reach
	shortRest = 480.0 // s, beyond which a rest counts twice: people do not wait so long
	clogged   = 1.5   // how much longer it may take for a charge less of what piles up in the mill
	freely    = 0.4   // of a charge that may pile up at no cost
)

// cost is the time of a campaign from now on, with a person's work in it and raised by how
// far it leaves what was done and by what piles up in the mill [s].
func (t campaign) cost() float64 {
	waiting := float64(t.charges-1) * math.Max(0, t.rest-shortRest)
	return (t.first + t.total() + work(float64(t.charges)+t.piles) + waiting) * (1 + leaving*t.away) * (1 + clogged*math.Max(0, t.piles-freely))
}

// work is what so many charges are worth beyond the clock [s].
func work(charges float64) float64 { return effort * charges * (1 + charges/tiring) }

// piles is what piles up in the mill from charge to charge once as much comes out as
// goes in, in half of the first draws [charges].
func (b *bench) piles(c *cell, k int) float64 {
	all := make([]float64, min(fewDraws, len(c.chain)))
	for i := range all {
		links := c.chain[i]
		if all[i] = links[len(links)-1].held[k] / c.mass; len(links) == 1 { // each leaves the same share of what it met
			all[i] /= math.Max(1-all[i], 1.0/mostPiles)
		}
		all[i] = math.Min(all[i], mostPiles)
	}
	return answer.Quantile(all, 0.5)
}

// mostPiles bounds it.
const mostPiles = 4

// best returns the cheapest of the openings that keep every limit and cost less
// than the ceiling, cheapest first, at most n.
func (b *bench) best(openings []campaign, n int, ceiling float64) []campaign {
	var found []campaign
	limits := map[*cell]bool{}
	for _, t := range openings {
		t.pause, t.rest = b.handling, b.handling
		if len(found) == n {
			ceiling = math.Min(ceiling, found[n-1].cost())
		}
		if t.cost() >= ceiling {
			break
		}
		holds, seen := limits[t.cell]
		if !seen {
			holds = b.check(t.d, t.mass, len(t.chain)).holds()
			limits[t.cell] = holds
		}
		if !holds {
			continue
		}
		if t, ok := b.rested(t); ok && t.total() <= b.within {
			found = append(found, t)
			slices.SortStableFunc(found, cheaper)
			found = found[:min(len(found), n)]
		}
	}
	return found
}

// contenders are the cheapest campaign of every charge mass, at most keepBest of
// them, cheapest first, and the best of the second ones.
func (b *bench) contenders(openings []campaign) []campaign {
	byMass := map[float64][]campaign{}
	var masses []float64
	for _, t := range openings {
		if byMass[t.mass] == nil {
			masses = append(masses, t.mass)
		}
		byMass[t.mass] = append(byMass[t.mass], t)
	}
	var all, second []campaign
	for _, m := range masses {
		found := b.best(byMass[m], 2, math.Inf(1))
		all, second = append(all, found[:min(len(found), 1)]...), append(second, found[min(len(found), 1):]...)
	}
	slices.SortStableFunc(all, cheaper)
	slices.SortStableFunc(second, cheaper)
	all = append(all[:min(len(all), keepBest)], second[:min(len(second), keepSecond)]...)
	for _, far := range []func(campaign) float64{func(t campaign) float64 { return t.away }, func(t campaign) float64 { return t.turned }} {
		done := slices.DeleteFunc(slices.Clone(openings), func(t campaign) bool { return far(t) > asDone })
		for _, t := range b.best(done, 1, math.Inf(1)) { // as it was done, and as the charge before, is always weighed
			if !slices.ContainsFunc(all, func(x campaign) bool { return x.cell == t.cell && x.k == t.k }) {
				all = append(all, t)
			}
		}
	}
	return all
}

// asDone is how far from a run on record a campaign still counts as done before:
// less than a person notices.
const asDone = 0.1

func cheaper(x, y campaign) int { return cmp.Compare(x.cost(), y.cost()) }

// openings lists the campaigns over the cells that make enough, with the
// shortest rest there can be, cheapest first.
func (b *bench) openings(cells []*cell) []campaign {
	var all []campaign
	for _, c := range cells {
		for k := range c.at {
			if n, ok := b.chargesFor(c, k); ok {
				all = append(all, campaign{cell: c, k: k, charges: n, pause: b.handling, rest: b.handling, piles: b.piles(c, k),
					away: b.practice.away(c.mass, c.at[k], c.d.Level), turned: b.practice.turned(c.mass, c.at[k], c.d.Level)})
			}
		}
	}
	slices.SortStableFunc(all, cheaper)
	return all
}

// How long a wall may be waited for. Judgement: it comes no closer to the room than a
// thermometer can tell, and is read in whole degrees.
const coolest = 1.0 // K over the room

// rested finds the warmest wall to start on, and where that is not enough the shortest
// pause, with which a campaign keeps every limit. The wall says when the next charge
// may begin: how soon it cools is what little is known of.
func (b *bench) rested(t campaign) (campaign, bool) {
	spare := b.spare(t)
	if b.steady(t, spare) != 0 {
		return t, false
	}
	t.below = math.Inf(1)
	keeps := func() bool { return b.warms(t, spare, true) == 0 }
	if keeps() {
		return b.timed(t)
	}
	if t.below = coolest; !keeps() && !b.paused(&t, keeps) {
		return t, false
	}
	lo, hi := coolest, b.bounds.touch-b.room
	for hi-lo > 1 {
		t.below = (lo + hi) / 2
		if keeps() {
			lo = t.below
		} else {
			hi = t.below
		}
	}
	t.below = math.Max(coolest, math.Floor(lo+b.room-wholeDegrees)+wholeDegrees-b.room)
	return b.timed(t)
}

// wholeDegrees is where whole degrees of a workshop's thermometer begin [K].
const wholeDegrees = 273.15

// paused finds the shortest pause with which a campaign keeps every limit.
func (b *bench) paused(t *campaign, keeps func() bool) bool {
	lo, hi := t.pause, b.longestPause(*t)
	if hi <= lo {
		return false
	}
	if t.pause = hi; !keeps() {
		return false
	}
	for hi-lo > restStep {
		t.pause = (lo + hi) / 2
		if keeps() {
			hi = t.pause
		} else {
			lo = t.pause
		}
	}
	t.pause = roundRest(hi)
	return true
}

// longestPause is the longest that is looked at.
func (b *bench) longestPause(t campaign) float64 { return math.Min(longRest, b.longestRest(t)) }

// breaks is which limits a campaign breaks however long it rests: only where those are
// eased can it be made.
func (b *bench) breaks(t campaign) limits {
	spare := b.spare(t)
	broken := b.check(t.d, t.mass, len(t.chain)).broken() | b.steady(t, spare)
	t.below, t.pause = coolest, math.Max(t.pause, b.longestPause(t))
	return broken | b.warms(t, spare, false)
}

// timed works out how long the rests of a campaign come to; false for longer than
// anyone would wait.
func (b *bench) timed(t campaign) (campaign, bool) {
	first, later := b.waits(t, fewDraws)
	t.first = b.still.wait(t.pause) + answer.Quantile(first, 0.5)
	t.rest = roundRest(t.pause + answer.Quantile(later, 0.5))
	return t, t.rest <= longRest
}

// waits are how long starts wait for the wall beyond their pause: the first, in a mill
// still warm, and those that follow, a draw [s].
func (b *bench) waits(t campaign, draws int) (first, later []float64) {
	n := min(draws, len(t.chain))
	first, later = make([]float64, n), make([]float64, n)
	for i := range n {
		first[i], later[i] = b.follow(t, i, func(_, _ int, _, _ float64) {}, func(_ int, _, _ float64) bool { return true })
	}
	return first, later
}

// roundRest brings a rest up to what a person times it by, so that a little more
// or less does not show.
func roundRest(s float64) float64 {
	step := 10.0
	switch {
	case s > 600:
		step = 60
	case s > 120:
		step = 30
	}
	return math.Ceil(s/step-1e-9) * step
}

// longestRest is the rest beyond which the campaign would not be done in time.
func (b *bench) longestRest(t campaign) float64 {
	if t.charges < 2 && !b.still.warm() {
		return t.pause
	}
	if t.charges < 2 {
		return b.within - t.run()
	}
	return (b.within - float64(t.charges)*t.run()) / float64(t.charges-1)
}

// settle runs a campaign of the first look with all draws and the residue of
// each charge carried into the next, and finds its charges and rest anew.
func (b *bench) settle(t campaign) (campaign, bool, error) {
	if !b.check(t.d, t.mass, len(b.rows)).holds() { // in all draws, before they are run
		return t, false, nil
	}
	c, err := b.chain(t.d, t.mass, t.run())
	if err != nil {
		return t, false, err
	}
	n, ok := b.chargesFor(c, len(c.at)-1)
	if !ok {
		return t, false, nil
	}
	full, ok := b.rested(campaign{cell: c, k: len(c.at) - 1, charges: n, pause: b.handling, piles: t.piles, away: t.away, turned: t.turned})
	if !ok || full.total() > b.within {
		return full, false, nil
	}
	full.shares = b.keep(full)
	return full, true, nil
}

// chainLength is how many charges are run one after another; after that the
// residue has settled.
const chainLength = 3

// chain runs the first charges of a campaign with all draws.
func (b *bench) chain(d draw, mass, run float64) (*cell, error) {
	n := len(b.rows)
	c := &cell{d: d, mass: mass, at: evenly(run, 10), chain: make([][]view, n), fines: make([]float64, n)}
	c.limits = b.check(d, mass, n)
	err := b.each(n, func(m *breakage.Mill, from, to int) error {
		var residue []float64
		for range chainLength {
			v, err := b.grind(m, b.rows[from], d, mass, residue, c.at, true)
			if err != nil {
				return err
			}
			residue = v.left
			c.chain[from] = append(c.chain[from], v)
			for i := from + 1; i < to; i++ {
				c.chain[i] = append(c.chain[i], v.own())
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	b.misjudgeChain(c)
	for i := range c.fines {
		c.fines[i] = b.finerShare(c.chain[i][chainLength-1], c.modelled(len(c.at)-1, i, answer.FinesLimit))
	}
	return c, nil
}

// evenly returns n times up to end.
func evenly(end float64, n int) []float64 {
	at := make([]float64, n)
	for i := range at {
		at[i] = end * float64(i+1) / float64(n)
	}
	return at
}

// finerShare is the share of a run's product finer than a size of the models.
func (b *bench) finerShare(v view, size float64) float64 {
	share := []float64{0}
	if err := b.grid.Passing(v.passing, []float64{size}, share); err != nil {
		return 0
	}
	return share[0]
}
