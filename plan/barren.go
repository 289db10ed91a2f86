package plan

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/quantity"
)

// Where next to nothing comes out, charge after charge, pieces are struck too softly, or the
// mill cannot: the models have a lower level only slower, and below some speed pieces bounce.
// It is tried faster and shorter, a level a charge; in the end nobody is sent on.

// Judgement.
const (
	barrenShare = 0.25 // of what was filled in all charges, that came out of them at the most
	barrenFew   = 3    // charges that tell so
	barrenEnd   = 8    // after which nobody is sent on before something was changed
)

// barren is what the mill as it is made of scrap as coarse, where that is next to nothing.
type barren struct {
	charges       int
	in, out       float64 // [kg]
	lowest, level int     // they were run at, to the highest
}

// barren tells whether it is so. What was ground before the blade was looked at, or on
// another screen, tells nothing.
func (p *practice) barren() (all barren, is bool) {
	for _, d := range p.deeds {
		if !d.here || d.out < 0 || !p.jammed.scrap.toldBy(d) {
			continue
		}
		if all.charges == 0 {
			all.lowest = d.level
		}
		all.charges, all.in, all.out = all.charges+1, all.in+d.charge, all.out+d.out
		all.lowest, all.level = min(all.lowest, d.level), max(all.level, d.level)
	}
	return all, all.charges >= barrenFew && all.out < barrenShare*all.in
}

// faster are the cells of a charge a step above a level, smaller than any before and shorter
// than usual: of fewer pieces each is struck more often.
func (b *bench) faster(level int) ([]*cell, error) {
	p := &b.practice
	if p.levels == 0 || level == 0 {
		return nil, nil
	}
	median := func(of func(deed) float64) float64 { return answer.Quantile(p.run(of), 0.5) }
	least, _ := p.spans()
	longest := math.Max(shortestRun, median(func(d deed) float64 { return d.time })/clearlyOver)
	times := wholeTimes(between([2]float64{shortestRun, longest}, nil, mostTimes))
	var cells []*cell
	for _, d := range b.levels {
		if d.Level != min(level+p.step(), p.levels) || d.Level == level {
			continue
		}
		cells = b.with(cells, d, least[0], times)
	}
	return cells, b.glance(cells)
}

// fastest is the best of them, where its limits hold in most draws.
func (b *bench) fastest(level int) (campaign, bool, error) {
	cells, err := b.faster(level)
	if err != nil || len(cells) == 0 {
		return campaign{}, false, err
	}
	t, share := b.single(cells, func(x, y campaign) bool { return b.gives(x) > b.gives(y) })
	return t, share >= doneShare, nil
}

// orFaster is the answer where no campaign is sane and next to nothing comes out: one charge
// at a higher level; none at all where that was tried, or cannot be, in the end; not there
// where a charge like those before is better.
func (j *job) orFaster(g Grinding) (_ Grinding, there bool, err error) {
	all, is := j.bench.practice.barren()
	if !is {
		return g, false, nil
	}
	enough := all.charges >= barrenEnd
	if enough && all.level > all.lowest {
		return j.cannot(g, all), true, nil
	}
	b := j.bench
	if clean, dirty := b.emptied(); dirty {
		b = clean
	}
	t, ok, err := b.fastest(all.level)
	switch {
	case err != nil, !ok && !enough:
		return g, false, err
	case !ok:
		return j.cannot(g, all), true, nil
	}
	if b != j.bench {
		g.Empty = j.lying()
		j.bench = b
	}
	g, err = j.one(g, t, fact.Say("plan.barren_faster", all.facts(j)...), "product")
	g.Possible = false
	return g, true, err
}

// facts are what such charges are told by.
func (all barren) facts(j *job) []fact.Fact {
	return []fact.Fact{fact.Name("mill", j.mill.Name), fact.Count("n", all.charges), fact.Name("polymer", j.polymer.Name),
		fact.Set("out", quantity.Mass, all.out), fact.Set("in", quantity.Mass, all.in)}
}

// cannot is the answer where all that was tried gave next to nothing: what to change.
// No charge is asked for.
func (j *job) cannot(g Grinding, all barren) Grinding {
	size := fact.About("size", quantity.Length, half*j.bench.largest)
	return j.nobodyOn(g, "product", fact.Say("plan.barren", all.facts(j)...), fact.Say("plan.barren_settle", size),
		fact.Say("plan.unplug", fact.Name("mill", j.mill.Name)), fact.Say("plan.look_at_edge"), fact.Say("plan.smaller_pieces", size),
		fact.Say("plan.larger_holes"), fact.Say("plan.record_looked"))
}
