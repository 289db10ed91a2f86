package plan

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/quantity"
)

// A stall says what this rotor does not take, and is believed at once: of the same
// plastic in pieces as thick the next charge is clearly less, after a second stall half
// of that, and after a third nobody is sent on before somebody has looked.
//
// What jams is torque: a rotor stops where the pieces before it hold it harder than the
// motor turns it. The torque of a motor behind a phase-angle controller falls with about
// the square of its voltage, so that a lower level stalls sooner; mass comes down first,
// and the level not at all. A rotor that stops after a while, when the charge is warm
// and packed, is helped by a shorter run as well.

// Judgement.
const (
	clearlyLess = 0.6  // of what lay before the rotor, after a stall of scrap that went through before
	half        = 0.5  // after a second one, or where nothing went through yet
	belowStall  = 0.7  // of the load that stalled it, in all that follows: bags and runs differ by a sixth
	belowSome   = 0.85 // where runs as hard went through some times for each stall
	someTimes   = 3
	manyTimes   = 9   // and where they went so often, one stall forbids nothing
	asHard      = 1.1 // a load within this is as hard
	asCoarse    = 0.9 // of a section that stalled, from which on scrap is as coarse
	stallsEnd   = 3   // stalls in a row after which nobody is sent on
)

// feed is the scrap that a plan is for.
type feed struct {
	plastic string
	coarse  float64 // largest section of its pieces [m²]
}

// section is the largest that a rotor has to cut of such pieces [m²].
func section(largest, thickness float64) float64 {
	return thickness * math.Min(largest, 10*thickness)
}

// toldBy reports whether a run says something of the scrap: of its plastic, in pieces no
// coarser.
func (f feed) toldBy(d deed) bool { return d.plastic == f.plastic && f.coarse >= asCoarse*d.coarse }

// answers reports whether a charge that went through says something of a stall before it:
// of its plastic, in pieces no finer.
func (d deed) answers(stall deed) bool {
	return d.plastic == stall.plastic && d.coarse >= asCoarse*stall.coarse
}

// jammed is what stalls say of the scrap at hand.
type jammed struct {
	scrap  feed
	looked int64  // record of the latest look at the mill
	open   []deed // stalls since scrap as coarse went through, oldest first; of those before that look the last
	went   bool   // its plastic went through once
}

// afterStall is the most that may lie before the rotor after open stalls, and least the
// lowest level; +Inf and 0 where there are none.
func (p *practice) afterStall() (mass float64, least int) {
	mass = math.Inf(1)
	for i, d := range p.jammed.open {
		share := half
		if i == 0 && p.jammed.went {
			share = clearlyLess
		}
		if i > 0 {
			mass *= half
		}
		mass, least = math.Min(mass, share*d.met), max(least, d.level)
	}
	return mass, least
}

// belowStalls is how hard a load and how heavy a charge with what it meets may be at the
// most, in the light of all stalls: where it is the pieces that jam, no level helps.
func (p *practice) belowStalls(press, mass float64) (lessPress, lessMass float64) {
	for _, d := range p.stalls {
		if !p.known(d) || d.record < p.jammed.looked || !p.jammed.scrap.toldBy(d) {
			continue
		}
		if share := p.below(d); share < 1 {
			press, mass = math.Min(press, share*p.press(d.met, d.level)), math.Min(mass, belowSome*d.met)
		}
	}
	return press, mass
}

// known reports whether the level of a deed is.
func (p *practice) known(d deed) bool { return d.level > 0 || p.levels == 0 }

// below is the share of a load that stalled to stay below, 1 where as hard ones went
// through so often that it forbids nothing.
func (p *practice) below(d deed) float64 {
	at, took, stopped := p.press(d.met, d.level), 0, 0
	for _, one := range p.deeds {
		if p.known(one) && one.plastic == d.plastic && asHard*p.press(one.met, one.level) >= at {
			took++
		}
	}
	for _, one := range p.stalls {
		if p.known(one) && one.plastic == d.plastic && p.press(one.met, one.level) <= asHard*at {
			stopped++
		}
	}
	switch {
	case took >= manyTimes*stopped:
		return 1
	case took >= someTimes*stopped:
		return belowSome
	}
	return belowStall
}

// bears reports whether the rotor takes so much before it at a level, as far as it has
// been seen to [kg].
func (p *practice) bears(mass float64, level int) bool {
	return mass <= p.mass && p.press(mass, level) <= p.most
}

// careful are the cells of the one charge after a stall: less mass, a shorter run, at
// the level that stalled or a step above it.
func (b *bench) careful() ([]*cell, error) {
	p := &b.practice
	most, least := p.afterStall()
	most -= b.lying()
	usual, shortest := modestTimes, shortestRun
	if !p.none() {
		times := p.run(func(d deed) float64 { return d.time })
		usual, shortest = []float64{answer.Quantile(times, 0.5)}, math.Min(shortest, slices.Min(times))
	}
	var at []float64
	for _, share := range []float64{half, half * clearlyLess} {
		for _, t := range usual {
			at = append(at, math.Max(shortest, share*t))
		}
	}
	for _, d := range p.jammed.open {
		for i := range at { // it stopped so soon
			if d.time > shortest {
				at[i] = math.Min(at[i], math.Max(shortest, half*d.time))
			}
		}
	}
	at = wholeTimes(at)
	var cells []*cell
	for _, d := range b.levels {
		if p.levels > 0 && (d.Level < least || d.Level > least+p.step()) {
			continue
		}
		for _, share := range []float64{1, 0.8, 0.6, 0.4} {
			if m := math.Floor(1000*share*most/5) / 200; m > 0 && p.bears(m, d.Level) {
				cells = b.with(cells, d, m, at)
			}
		}
	}
	return cells, b.glance(cells)
}

// afterStall is the answer after one stall or two: one charge that is clearly less.
func (j *job) afterStall(g Grinding) (Grinding, error) {
	if clean, there := j.bench.emptied(); there { // nobody starts a jammed mill again
		g.Empty = j.lying()
		j.bench = clean
	}
	cells, err := j.bench.careful()
	if err != nil {
		return g, err
	}
	if len(cells) == 0 {
		return j.stuck(g)
	}
	t, _ := j.bench.single(cells, func(x, y campaign) bool { return j.bench.gives(x) > j.bench.gives(y) })
	return j.one(g, t, fact.Say("plan.after_stall", fact.Name("mill", j.mill.Name), fact.Count("n", len(j.bench.practice.jammed.open)),
		fact.About("met", quantity.Mass, slices.MaxFunc(j.bench.practice.jammed.open, func(x, y deed) int { return int(x.record - y.record) }).met)), "")
}

// stuck is the answer after three stalls in a row: what stands in the way, and what
// would settle it. No charge is asked for.
func (j *job) stuck(g Grinding) (Grinding, error) {
	size := fact.About("size", quantity.Length, half*j.bench.largest)
	return j.nobodyOn(g, "stall", fact.Say("plan.stalls_on", fact.Name("mill", j.mill.Name), fact.Count("n", len(j.bench.practice.jammed.open)), fact.Name("polymer", j.polymer.Name)),
		fact.Say("plan.stalls_settle", size), fact.Say("plan.unplug", fact.Name("mill", j.mill.Name)), fact.Say("plan.look_at_cutter"), fact.Say("plan.empty_whole"),
		fact.Say("plan.smaller_pieces", size), fact.Say("plan.record_looked")), nil
}

// nobodyOn is the answer in which nothing runs: the limit in the way, what would settle it, and
// what to do first.
func (j *job) nobodyOn(g Grinding, limit string, says, settles fact.Saying, do ...fact.Saying) Grinding {
	g.Says = says
	g.Blocked = &answer.Block{Limit: release{limit: limit}.name(), Why: says, Nearest: settles}
	j.still(&g)
	for _, one := range do {
		g.Steps = append(g.Steps, answer.Action{Do: one})
	}
	return g
}
