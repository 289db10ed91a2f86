package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/process/breakage"
)

// The search looks at some levels and charge masses with few draws, keeps the
// quickest campaigns that hold every limit, and settles the best of them with
// all draws.
const (
	fewDraws   = 48   // in the first look
	mostLevels = 10   // of the controller, spread over its range
	keepBest   = 5    // campaigns settled with all draws
	longRest   = 3600 // s; a campaign that needs longer rests is not proposed
	restStep   = 10   // s; rests are stated to this
)

// massShares are the charge masses looked at, as shares of the largest that the
// chamber may be given. The first lies above it so that the price of the fill
// limit can be told.
var massShares = []float64{1.2, 1, 0.85, 0.72, 0.6, 0.48, 0.36, 0.25}

// look builds the cells of the first look: every level with every mass, each run
// once with the first draws; then the levels beside the quickest campaign's,
// which the first pass may have skipped.
func (b *bench) look() ([]*cell, error) {
	var cells []*cell
	for _, d := range spread(b.levels, mostLevels) {
		for _, share := range massShares {
			cells = b.with(cells, d, share*b.fullCharge())
		}
	}
	if len(cells) == 0 {
		return nil, fmt.Errorf("the mill's chamber is too small for a charge that a scale could weigh")
	}
	if err := b.glance(cells); err != nil {
		return nil, err
	}
	best := b.best(b.openings(cells), 1, math.Inf(1))
	if len(best) == 0 {
		return cells, nil
	}
	var beside []*cell
	for _, d := range b.levels {
		if off := d.Level - best[0].d.Level; off != 0 && off*off == 1 {
			for _, share := range []float64{1, 1.15, 1.3} {
				beside = b.with(beside, d, share*best[0].mass)
			}
		}
	}
	beside = slices.DeleteFunc(beside, func(c *cell) bool { return among(cells, c.d, c.mass) })
	return append(cells, beside...), b.glance(beside)
}

// with adds the cell of a level and a mass, rounded to what a person weighs and
// bounded by the scrap there is, unless it is there already.
func (b *bench) with(cells []*cell, d draw, mass float64) []*cell {
	mass = math.Min(b.roundMass(mass), b.available)
	if mass <= 0 || among(cells, d, mass) {
		return cells
	}
	return append(cells, &cell{d: d, mass: mass, at: times})
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
	return b.each(n*len(cells), func(m *breakage.Mill, j int) error {
		c, i := cells[j/n], j%n
		v, err := b.grind(m, b.rows[i], c.d, c.mass, nil, c.at, true)
		if err != nil {
			return fmt.Errorf("grinding %g kg at level %d: %w", c.mass, c.d.Level, err)
		}
		c.fines[i] = b.finesShare(v)
		v.passing, v.left = nil, nil
		c.chain[i] = []view{v}
		return nil
	})
}

// spread picks at most n of the levels, the highest always among them.
func spread(levels []draw, n int) []draw {
	if len(levels) <= n {
		return levels
	}
	picked := make([]draw, 0, n)
	for i := range n {
		picked = append(picked, levels[(i+1)*len(levels)/n-1])
	}
	return picked
}

// fullCharge is the mass that fills the chamber as far as it may be, for a
// scrap of the kind nine tenths of the draws are heavier than.
func (b *bench) fullCharge() float64 {
	mass := make([]float64, len(b.rows))
	for i, row := range b.rows {
		mass[i] = b.bounds.fill * chamberOf(b.mill) * row[estimate.SolidDensity] * row[estimate.ScrapPacking]
	}
	return answer.Quantile(mass, 1-answer.SureShare)
}

// roundMass brings a charge down to a step a person weighs by.
func (b *bench) roundMass(kg float64) float64 {
	step := 0.005
	if kg > 0.5 {
		step = 0.01
	}
	return math.Round(math.Floor(kg/step+1e-9)*step*1e6) / 1e6
}

// best returns the quickest of the openings that keep every limit and take less
// than the ceiling, quickest first, at most n.
func (b *bench) best(openings []trial, n int, ceiling float64) []trial {
	var found []trial
	limits := map[*cell]bool{}
	for _, t := range openings {
		t.rest = b.handling
		if len(found) == n {
			ceiling = math.Min(ceiling, found[n-1].total())
		}
		if t.total() >= ceiling {
			break
		}
		holds, seen := limits[t.cell]
		if !seen {
			holds = b.check(t.d, t.mass, len(t.chain)).holds(b.bounds)
			limits[t.cell] = holds
		}
		if !holds {
			continue
		}
		if t, ok := b.rested(t); ok && t.total() <= b.within {
			found = append(found, t)
			slices.SortStableFunc(found, quicker)
			found = found[:min(len(found), n)]
		}
	}
	return found
}

// contenders are the quickest campaign of every charge mass, at most keepBest of
// them, quickest first.
func (b *bench) contenders(openings []trial) []trial {
	byMass := map[float64][]trial{}
	var masses []float64
	for _, t := range openings {
		if byMass[t.mass] == nil {
			masses = append(masses, t.mass)
		}
		byMass[t.mass] = append(byMass[t.mass], t)
	}
	var all []trial
	for _, m := range masses {
		all = append(all, b.best(byMass[m], 1, math.Inf(1))...)
	}
	slices.SortStableFunc(all, quicker)
	return all[:min(len(all), keepBest)]
}

func quicker(x, y trial) int { return cmp.Compare(x.total(), y.total()) }

// openings lists the campaigns over the cells that make enough, with the
// shortest rest there can be, quickest first.
func (b *bench) openings(cells []*cell) []trial {
	var all []trial
	for _, c := range cells {
		for k := range c.at {
			if n, ok := b.chargesFor(c, k); ok {
				all = append(all, trial{cell: c, k: k, charges: n, rest: b.handling})
			}
		}
	}
	slices.SortStableFunc(all, quicker)
	return all
}

// rested finds the shortest rest with which the trial keeps every limit.
func (b *bench) rested(t trial) (trial, bool) {
	if b.keeps(t) {
		return t, true
	}
	lo, hi := t.rest, math.Min(longRest, b.longestRest(t))
	if hi <= lo {
		return t, false
	}
	if t.rest = hi; !b.keeps(t) {
		return t, false
	}
	for hi-lo > restStep {
		t.rest = (lo + hi) / 2
		if b.keeps(t) {
			hi = t.rest
		} else {
			lo = t.rest
		}
	}
	t.rest = math.Ceil(hi/restStep) * restStep
	return t, b.keeps(t)
}

// longestRest is the rest beyond which the campaign would not be done in time.
func (b *bench) longestRest(t trial) float64 {
	if t.charges < 2 {
		return t.rest
	}
	return (b.within - float64(t.charges)*t.run()) / float64(t.charges-1)
}

// settle runs a campaign of the first look with all draws and the residue of
// each charge carried into the next, and finds its charges and rest anew.
func (b *bench) settle(t trial) (trial, bool, error) {
	c, err := b.chain(t.d, t.mass, t.run())
	if err != nil {
		return t, false, err
	}
	n, ok := b.chargesFor(c, len(c.at)-1)
	if !ok || !c.limits.holds(b.bounds) {
		return t, false, nil
	}
	full, ok := b.rested(trial{cell: c, k: len(c.at) - 1, charges: n, rest: b.handling})
	full.shares = b.keep(full)
	return full, ok && full.total() <= b.within, nil
}

// chainLength is how many charges are run one after another; after that the
// residue has settled.
const chainLength = 3

// chain runs the first charges of a campaign with all draws.
func (b *bench) chain(d draw, mass, run float64) (*cell, error) {
	n := len(b.rows)
	c := &cell{d: d, mass: mass, at: evenly(run, 10), chain: make([][]view, n), fines: make([]float64, n)}
	c.limits = b.check(d, mass, n)
	err := b.each(n, func(m *breakage.Mill, i int) error {
		var residue []float64
		for range chainLength {
			v, err := b.grind(m, b.rows[i], d, mass, residue, c.at, true)
			if err != nil {
				return err
			}
			residue = v.left
			c.chain[i] = append(c.chain[i], v)
		}
		c.fines[i] = b.finesShare(c.chain[i][chainLength-1])
		return nil
	})
	return c, err
}

// evenly returns n times up to end.
func evenly(end float64, n int) []float64 {
	at := make([]float64, n)
	for i := range at {
		at[i] = end * float64(i+1) / float64(n)
	}
	return at
}

// finesShare is the share of a run's product below the fines limit.
func (b *bench) finesShare(v view) float64 {
	share := []float64{0}
	if err := b.grid.Passing(v.passing, []float64{answer.FinesLimit}, share); err != nil {
		return 0
	}
	return share[0]
}
