package plan

import (
	"math"

	"hopperful/fact"
	"hopperful/quantity"
)

// release drops one limit altogether, to find the one that makes a plan
// impossible.
type release struct {
	limit   string // its key
	by      func(*bench)
	nearest func(b *bench, t campaign) fact.Saying // the plan that would do
}

// limitNames are what may stand in the way of a plan, by key.
var limitNames = map[string]string{
	"charge_temperature": "plan.way_charge", "wall_temperature": "plan.way_wall", "fill": "plan.way_fill", "motor": "plan.way_motor",
	"controller": "plan.way_controller", "jar": "plan.way_jar", "noise": "plan.way_noise", "stall": "plan.way_stall", "product": "plan.way_product",
	"total": "plan.way_total", "need": "plan.way_need", "time": "plan.way_time", "several": "plan.way_several",
}

// inTheWay names a limit as a fact.
func inTheWay(key string) fact.Fact { return fact.Word("limit", limitNames[key]) }

// name is the limit in words.
func (r release) name() fact.Saying { return fact.Saying{Code: limitNames[r.limit]} }

// releases are tried in this order; the first that makes a plan possible names
// the limit that stands in the way. Only scrap and time have a nearest plan: where
// the mill stands in the way, a single charge is asked for.
var releases = []release{
	{"need", func(b *bench) { b.available = math.Inf(1) },
		func(b *bench, t campaign) fact.Saying {
			return fact.Say("plan.more_scrap", fact.Count("n", t.charges), fact.About("more", quantity.Mass, float64(t.charges)*t.mass-b.available), fact.Set("charge", quantity.Mass, t.mass))
		}},
	{"time", func(b *bench) { b.within = math.Inf(1) },
		func(_ *bench, t campaign) fact.Saying {
			return fact.Say("plan.quickest", fact.Count("n", t.charges), fact.About("time", quantity.Duration, t.total()), fact.Set("charge", quantity.Mass, t.mass))
		}},
	{"controller", func(b *bench) { b.bounds.controller = math.Inf(1) }, nil},
	{"motor", func(b *bench) { b.bounds.motor = math.Inf(1) }, nil},
	{"jar", func(b *bench) { b.bounds.jar = math.Inf(1) }, nil},
	{"stall", func(b *bench) { b.bounds.stall = 1 }, nil},
	{"charge_temperature", func(b *bench) { b.bounds.margin = -200 }, nil},
	{"wall_temperature", func(b *bench) { b.bounds.touch = math.Inf(1) }, nil},
	{"noise", func(b *bench) { b.bounds.noise = math.Inf(1) }, nil},
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
var several = release{limit: "several"}

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
