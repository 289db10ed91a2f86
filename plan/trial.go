package plan

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
)

// A trial is one charge, run to be read: all that is asked of a mill nobody has
// run, and of one whose records allow no campaign.

// Trial says why a single charge is asked for and what to read at it.
type Trial struct {
	Why   fact.Saying
	Read  []fact.Saying  // the most telling first
	Ahead *figure.Figure // charges like it that it would take in all
}

// A first charge in a mill nobody has run. Judgement: modest beside the common
// practice of some 50 g in a litre of chamber for two minutes; what is too much
// for the books' wide ranges goes down in time and mass before level.
var (
	modestMasses = []float64{40, 32, 25, 20, 15} // kg/m³ of chamber
	modestTimes  = []float64{shortestRun, 45, 60}
)

// firstLevel is the share of the controller's scale at which a first charge is run:
// nobody knows yet how fast it turns there. Judgement.
const firstLevel = 0.5

// lowerSteps is how many steps below the usual level a first charge may go.
const lowerSteps = 2

// modest are the cells of a first charge, gentler levels last.
func (b *bench) modest() ([]*cell, error) {
	p := &b.practice
	var cells []*cell
	usual := max(1, int(math.Round(firstLevel*float64(p.levels))))
	for k := range lowerSteps + 1 {
		for _, d := range b.levels {
			if p.levels > 0 && d.Level != max(1, usual-k*p.step()) {
				continue
			}
			for _, share := range modestMasses {
				if m := share * b.volume(); p.bears(m, d.Level) {
					cells = b.with(cells, d, m, modestTimes)
				}
			}
		}
	}
	return cells, b.glance(cells)
}

// gentler are the cells of a single charge near what was done and below it,
// those at the levels that were run first. On top of what lies in the mill no run
// is shorter than any before: each would leave more than the last.
func (b *bench) gentler() ([]*cell, error) {
	p := &b.practice
	mass, time := p.spans()
	if b.lying() > mass[0] {
		time[0] = slices.Min(p.run(func(d deed) float64 { return d.time }))
	}
	at := wholeTimes(between([2]float64{time[0], time[1] / timeStep}, p.run(func(d deed) float64 { return d.time }), mostTimes))
	levels := p.allowedLevels(b.levels)
	var cells []*cell
	for _, d := range levels[:min(len(levels), mostLevels)] {
		for _, m := range between([2]float64{mass[0] / massStep, mass[1] / massStep}, p.run(func(d deed) float64 { return d.charge }), mostMasses) {
			if p.bears(m, d.Level) {
				cells = b.with(cells, d, m, p.soon(m, at))
			}
		}
	}
	return cells, b.glance(cells)
}

// weakest is the limit that a campaign keeps in the fewest draws, by its key,
// and that share. What the campaign makes is no part of it.
func (b *bench) weakest(t campaign, c cellLimits) (limit string, share float64) {
	share = 1
	stall := 1.0
	if c.stall > c.borne {
		stall = answer.SureShare * c.borne / c.stall
	}
	for _, one := range []struct {
		key   string
		share float64
	}{{"charge_temperature", t.shares.charge}, {"wall_temperature", t.shares.wall}, {"fill", math.Min(t.shares.fill, c.fill)}, {"motor", t.shares.motor},
		{"jar", t.shares.jar}, {"noise", t.shares.noise}, {"controller", c.controller}, {"stall", stall}} {
		if one.share < share {
			limit, share = one.key, one.share
		}
	}
	return limit, share
}

// single picks one charge among cells: of those that keep every limit the best, at the
// earliest level that has one as soon; else the least violating.
func (b *bench) single(cells []*cell, better func(x, y campaign) bool) (found campaign, share float64) {
	for _, c := range cells {
		limits := b.check(c.d, c.mass, len(c.chain))
		for k := range c.at {
			t, s := b.alone(c, k, limits, answer.SureShare)
			switch {
			case found.cell == nil || s > share:
			case s < share, s == answer.SureShare && c.d.Level != found.d.Level && t.pause >= found.pause, !better(t, found):
				continue
			}
			found, share = t, s
		}
	}
	return found, share
}

// waits are how long a mill that is still warm may stand before a single charge,
// beyond the time it takes to fill it [s].
var waits = []float64{0, 300, 600, 1200, 1800, 2700, longRest}

// patience is how long a wait before a single charge weighs as much as going as far from
// practice as forecasts reach [s]: who stands beside the mill fills it less or grinds it
// shorter before he waits half an hour. Judgement.
const patience = 1800.0

// nearer reports whether a single charge is nearer to what was done than another, and sooner.
func nearer(x, y campaign) bool {
	return x.away+x.pause/patience < y.away+y.pause/patience-1e-9
}

// doneShare is the share of the draws in which limits must hold at a setting that
// was run before: for a single charge, to be read, and for a campaign where it was
// run time and again and nobody read the charge's temperature. What was done
// without trouble weighs more than a model that knows nothing of it. Judgement.
const doneShare = 0.75

// alone is a single charge after as short a rest as it takes to keep its limits in enough of
// the draws, with the share that keep its weakest, to a twentieth and nine tenths at the most:
// a draw more or less is noise.
func (b *bench) alone(c *cell, k int, limits cellLimits, enough float64) (t campaign, share float64) {
	for _, wait := range waits {
		one := campaign{cell: c, k: k, charges: 1, trial: true, pause: b.handling + wait, rest: b.handling + wait, below: math.Inf(1), away: b.practice.away(c.mass, c.at[k], c.d.Level)}
		one.shares = b.keep(one)
		_, s := b.weakest(one, limits)
		s = math.Min(math.Round(20*s)/20, answer.SureShare)
		if one.away < asDone && s >= doneShare {
			s = answer.SureShare
		}
		if t.cell == nil || s > share {
			t, share = one, s
		}
		if !b.still.warm() || share >= enough {
			break
		}
	}
	return t, share
}

// gives is what half of the draws expect of a single charge [kg].
func (b *bench) gives(t campaign) float64 {
	all := make([]float64, len(t.chain))
	for i := range all {
		all[i] = b.produced(t.cell, i, t.k, 1)
	}
	return answer.Quantile(all, 0.5)
}

// first is the answer for a mill nobody has run: one modest charge.
func (j *job) first(g Grinding) (Grinding, error) {
	cells, err := j.bench.modest()
	if err != nil {
		return g, err
	}
	if len(cells) == 0 {
		return j.hopeless(g, release{limit: "stall"})
	}
	t, _ := j.bench.single(cells, func(x, y campaign) bool { return j.bench.gives(x) > j.bench.gives(y) })
	why := fact.Say("plan.no_run", fact.Name("mill", j.mill.Name))
	if len(j.bench.practice.stalls) > 0 {
		why = fact.Say("plan.only_stalled", fact.Name("mill", j.mill.Name))
	}
	return j.one(g, t, why, "")
}

// one reports a single charge. What stands in the way of more is named by the
// key of its limit, or "" where nothing is known to.
func (j *job) one(g Grinding, t campaign, why fact.Saying, limit string) (Grinding, error) {
	b := j.bench
	c, err := b.chain(t.d, t.mass, t.run())
	if err != nil {
		return g, err
	}
	full := campaign{cell: c, k: len(c.at) - 1, charges: 1, trial: true, pause: t.pause, rest: t.pause, below: math.Inf(1), away: t.away}
	full.shares = b.keep(full)
	weak, share := b.weakest(full, c.limits)
	g.Trial = &Trial{Why: why, Read: j.toRead(limit)}
	if g, err = j.report(g, full, nil); err != nil {
		return g, err
	}
	g.Possible = share >= answer.SureShare-drawNoise
	if ahead, ok := j.ahead(full); ok && g.Possible {
		g.Trial.Ahead = &ahead
	}
	if limit == "" && !g.Possible {
		limit = weak
	}
	if limit != "" {
		g.Blocked = &answer.Block{Limit: release{limit: limit}.name(), Why: why, Nearest: j.frees(limit, full)}
	}
	return g, nil
}

// ahead is how many such charges it would take in all, as far as is known.
func (j *job) ahead(t campaign) (figure.Figure, bool) {
	b := j.bench
	counts := make([]float64, len(b.rows))
	for i := range b.rows {
		one := b.produced(t.cell, i, t.k, chainLength) / chainLength
		counts[i] = math.Ceil(b.wanted[i] / math.Max(one, 1e-6))
	}
	if answer.Quantile(counts, 0.5) > mostCharges {
		return figure.Figure{}, false
	}
	f, err := b.over("charges_ahead", "plan.charges_ahead", quantity.Count, func(i int, _ []float64) float64 { return counts[i] })
	return f.From("plan.charges_ahead_how"), err == nil
}

// toRead is what to read at a trial: what would free the limit first, then what
// teaches most, as far as the mill's owner can.
func (j *job) toRead(limit string) []fact.Saying {
	all := []fact.Saying{fact.Say("plan.read_masses"), fact.Say("plan.read_wall"), fact.Say("plan.read_charge")}
	switch limit {
	case "charge_temperature":
		all[0], all[2] = all[2], all[0]
	case "wall_temperature":
		all[0], all[1] = all[1], all[0]
	}
	return all
}

// frees says which reading would free a limit at a charge.
func (j *job) frees(limit string, t campaign) fact.Saying {
	charge, run, level := fact.Set("charge", quantity.Mass, t.mass), fact.Set("run", quantity.Duration, t.run()), fact.Name("level", "")
	if t.d.Level > 0 {
		level = fact.Count("level", t.d.Level)
	}
	at := fact.Parts("at", fact.Say("plan.at_setting", level.As("level"), charge.As("charge"), run.As("run")))
	switch limit {
	case "charge_temperature":
		below := j.bench.beliefs[estimate.Softening].Median - j.bench.bounds.margin
		return fact.Say("plan.frees_charge", at.As("at"), fact.About("below", quantity.Temperature, below))
	case "wall_temperature":
		return fact.Say("plan.frees_wall", at.As("at"))
	case "fill", "product", "total":
		return fact.Say("plan.frees_product", at.As("at"))
	case "stall":
		return fact.Say("plan.frees_stall", at.As("at"))
	case "motor", "controller":
		return fact.Say("plan.frees_draw", at.As("at"))
	case "noise":
		return fact.Say("plan.frees_noise")
	}
	return fact.Say("plan.frees_jar", charge.As("charge"))
}

// blockedByMill is the answer when no campaign near what was done keeps every
// limit: one charge, and the reading that would free what stands in the way.
func (j *job) blockedByMill(g Grinding, limit string) (Grinding, error) {
	if g, there, err := j.orFaster(g); there || err != nil {
		return g, err
	}
	b := j.bench
	cells, err := b.gentler()
	if err != nil {
		return g, err
	}
	if len(cells) == 0 { // stalls forbid all of it: begin again
		if cells, err = b.modest(); err != nil {
			return g, err
		}
	}
	if len(cells) == 0 {
		return j.hopeless(g, release{limit: "stall"})
	}
	t, share := b.single(cells, nearer)
	if clean, there := b.emptied(); there && share < answer.SureShare {
		if cleaner, more := clean.single(cells, nearer); more > share {
			g.Empty = j.lying()
			t, j.bench = cleaner, clean
		}
	}
	if bolder, there := j.bench.bolder(cells, t); there && t.away < asDone && !j.unread(limit) {
		t = bolder
	}
	g, err = j.one(g, t, fact.Say("plan.none_near", fact.Name("mill", j.mill.Name), inTheWay(limit)), limit)
	g.Possible = false
	return g, err
}

// bolder is the single charge that gives most of those that keep their limits in most draws
// and were not done: one that was done and read teaches nothing new.
func (b *bench) bolder(cells []*cell, than campaign) (found campaign, there bool) {
	most := b.gives(than)
	for _, c := range cells {
		limits := b.check(c.d, c.mass, len(c.chain))
		for k := range c.at {
			if t, share := b.alone(c, k, limits, doneShare); share >= doneShare && t.away >= asDone && b.gives(t) > most {
				found, most, there = t, b.gives(t), true
			}
		}
	}
	return found, there
}

// Beyond these a campaign is one that nobody would carry out. Judgement.
const (
	fewCharges  = 12
	timesPencil = 2.5 // charges, over what pencil and paper would ask for
	timesClock  = 2.5 // time, over what such a campaign usually takes
	shortTime   = 1800.0
	muchCheaper = 0.5  // of what a campaign costs, that is worth a charge to be read
	leastCharge = 25.0 // kg/m³ of chamber, half of the common practice: who fills less does so for lack of knowing better
)

// absurd reports whether a campaign is out of all proportion to what the need
// would take by the mill's own records.
func (b *bench) absurd(t campaign) bool {
	charges, total := b.practice.byPencil(answer.Quantile(b.wanted, 0.5), leastCharge*b.volume())
	return t.charges > fewCharges && float64(t.charges) > timesPencil*charges || t.total() > shortTime+timesClock*total
}

// slow is the answer when the only campaign is absurd: one charge that goes a step further
// where that may be much quicker; else what makes it so, and the reading that would free it.
// Where everything has been read, it is the answer all the same.
func (j *job) slow(g Grinding, t campaign, openings []campaign) (Grinding, error) {
	if g, there, err := j.orFaster(g); there || err != nil {
		return g, err
	}
	limit, most := "product", 0.0
	for _, p := range j.bench.prices(openings) {
		if p.saves > most {
			limit, most = p.limit, p.saves
		}
	}
	long := t.total()
	step, ok := j.bench.further(openings, t)
	if clean, there := j.bench.emptied(); there && !ok {
		cells, err := clean.look()
		if err != nil {
			return g, err
		}
		if step, ok = clean.further(clean.openings(cells), t); ok {
			g.Empty, j.bench = j.lying(), clean
		}
	}
	switch {
	case ok:
		t = step
	case !j.unread(limit):
		return j.report(g, t, openings)
	}
	t.charges = 1
	return j.one(g, t, fact.Say("plan.would_take", fact.Name("mill", j.mill.Name), fact.About("time", quantity.Duration, long), inTheWay(limit)), limit)
}

// further is a single charge towards a campaign that would cost a part of another, the wait
// for that charge with it, where its limits hold in most draws, if not in enough to go on so
// unread: of several the one that comes cheapest.
func (b *bench) further(openings []campaign, than campaign) (found campaign, there bool) {
	most := muchCheaper * than.cost()
	for _, t := range openings { // the cheapest first
		if t.cost() > most {
			break
		}
		if times, _ := b.practice.readSo(b.plastic, t.mass, t.run(), t.d.Level); times >= fewReadings {
			continue // it was done, and is known
		}
		one, share := b.alone(t.cell, t.k, b.check(t.d, t.mass, len(t.chain)), doneShare)
		if with := t.cost() + one.pause - b.handling; share >= doneShare && with <= most {
			found, there, most = one, true, with
		}
	}
	return found, there
}

// fewReadings of a kind are too few to know it by. Judgement.
const fewReadings = 3

// unread reports whether the reading that would free a limit is still wanted.
func (j *job) unread(limit string) bool {
	read := j.bench.practice.read
	switch limit {
	case "charge_temperature":
		return read.charge < fewReadings
	case "wall_temperature":
		return read.wall < fewReadings
	case "fill", "product":
		return read.left < fewReadings || read.product < fewReadings
	case "motor", "controller":
		return read.energy < fewReadings
	case "noise":
		return j.mill.Noise == nil
	}
	return false
}

// near says how a plan departs from the nearest setting on record.
func (j *job) near(t campaign) (how []fact.Saying) {
	d, ok := j.bench.practice.nearest(t.mass, t.run(), t.d.Level)
	if !ok {
		return nil
	}
	if d.level > 0 && t.d.Level != d.level {
		how = append(how, fact.Say("plan.near_level", fact.Count("now", t.d.Level), fact.Count("then", d.level)))
	}
	if math.Abs(math.Log(t.mass/d.charge)) > 0.1 {
		how = append(how, fact.Say("plan.near_charge", fact.Set("now", quantity.Mass, t.mass), fact.Set("then", quantity.Mass, d.charge)))
	}
	if math.Abs(math.Log(t.run()/d.time)) > 0.15 {
		how = append(how, fact.Say("plan.near_run", fact.Set("now", quantity.Duration, t.run()), fact.Set("then", quantity.Duration, d.time)))
	}
	return how
}

// replans are the charges of a campaign after which to plan again: early ones
// teach most. Judgement.
var replans = []int{1, 2, 3, 6, 11}

// replanAfter are those of a campaign.
func replanAfter(charges int) []int {
	n := slices.IndexFunc(replans, func(after int) bool { return after >= charges })
	if n < 0 {
		n = len(replans)
	}
	return append([]int{}, replans[:n]...)
}

// stopAt is the granulate in the jar at which to stop [kg]: enough in nine of
// ten cases of what the print wants.
func (b *bench) stopAt() float64 {
	return math.Ceil(100*answer.Quantile(b.wanted, answer.SureShare)-1e-9) / 100
}

// strange reports whether nobody has ground this plastic in the mill.
func (j *job) strange() bool {
	return !slices.ContainsFunc(j.known.log.runs, func(r estimate.Run) bool { return r.Polymer == j.polymer.Name })
}
