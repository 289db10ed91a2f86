package plan

import (
	"fmt"
	"math"

	"hopperful/quantity"
)

// release drops one limit altogether, to find the one that makes a plan
// impossible.
type release struct {
	limit, name string
	by          func(*bench)
	nearest     func(b *bench, t campaign) string // the plan that would do, in words
}

// releases are tried in this order; the first that makes a plan possible names
// the limit that stands in the way.
var releases = []release{
	{"need", "scrap on hand", func(b *bench) { b.available = math.Inf(1) },
		func(b *bench, t campaign) string {
			more := float64(t.charges)*t.mass - b.available
			return fmt.Sprintf("About %s more scrap would do: %d charges of %s in all.",
				quantity.Mass.Rough(more), t.charges, quantity.Mass.Plain(t.mass))
		}},
	{"time", "the time there is", func(b *bench) { b.within = math.Inf(1) },
		func(_ *bench, t campaign) string {
			return fmt.Sprintf("The quickest plan takes %s: %d charges of %s.",
				quantity.Duration.Rough(t.total()), t.charges, quantity.Mass.Plain(t.mass))
		}},
	{"controller", "controller's continuous rating", func(b *bench) { b.bounds.controller = math.Inf(1) },
		func(b *bench, t campaign) string {
			return fmt.Sprintf("It would take a controller that carries %s all day.", quantity.Power.Rough(t.d.Watts/b.bounds.load))
		}},
	{"motor", "motor's continuous rating", func(b *bench) { b.bounds.motor = math.Inf(1) },
		func(b *bench, t campaign) string {
			return fmt.Sprintf("It would take a motor that carries %s all day.", quantity.Power.Rough(t.d.Watts/b.bounds.load))
		}},
	{"jar", "size of the jar", func(b *bench) { b.bounds.jar = math.Inf(1) },
		func(b *bench, t campaign) string {
			return fmt.Sprintf("A jar that holds a charge of %s would do.", quantity.Mass.Plain(t.mass))
		}},
	{"stall", "risk of a stall", func(b *bench) { b.bounds.stall = 1 },
		func(*bench, campaign) string {
			return "Break the pieces smaller and thinner before they go in, or record a few runs: the forecast for this mill may be too careful."
		}},
	{"charge_temperature", "charge below softening", func(b *bench) { b.bounds.margin = -200 },
		func(*bench, campaign) string {
			return "Cool the scrap or the room, or grind on several days; record the temperatures of a small charge so that the forecast narrows."
		}},
	{"wall_temperature", "wall that can be touched", func(b *bench) { b.bounds.touch = math.Inf(1) },
		func(*bench, campaign) string { return "Let the mill cool between charges for longer than an hour." }},
	{"noise", "noise of the day", func(b *bench) { b.bounds.noise = math.Inf(1) },
		func(*bench, campaign) string {
			return "Spread the campaign over several days, or measure the level at the ear: an unmeasured mill is taken as loud."
		}},
}

// obstacle finds what stands in the way of a plan, with the campaign that would
// be possible without it.
func (b *bench) obstacle(cells []*cell) (release, *campaign) {
	if best := b.best(b.openings(cells), 1, math.Inf(1)); len(best) > 0 {
		return b.failing(best[0])
	}
	for _, r := range releases {
		free := b.eased(r.by)
		if best := free.best(free.openings(cells), 1, math.Inf(1)); len(best) > 0 {
			return r, &best[0]
		}
	}
	return several, nil
}

// several is when no one limit alone stands in the way.
var several = release{limit: "several", name: "several limits at once"}

// failing finds the limit that a campaign keeps at a first look and not with all
// draws.
func (b *bench) failing(t campaign) (release, *campaign) {
	for _, r := range releases {
		if r.limit == "need" || r.limit == "time" { // these do not depend on the draws
			continue
		}
		if _, ok, err := b.eased(r.by).settle(t); ok && err == nil {
			return r, &t
		}
	}
	return several, nil
}
