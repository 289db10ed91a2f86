package plan

import (
	"math"
	"sync"

	"hopperful/fact"
	"hopperful/quantity"
)

// ease is one way to loosen a limit a little, to see whether the campaign gets
// shorter: if it does, the limit binds, and the saving is its price.
type ease struct {
	limit string // key of the limit
	what  string // code of what is eased
	by    func(*bench)
}

// eases are the small loosenings whose price is told.
var eases = []ease{
	{"charge_temperature", "plan.ease_room", func(b *bench) { b.room -= 5 }},
	{"wall_temperature", "plan.ease_gloves", func(b *bench) { b.bounds.touch += 10 }},
	{"fill", "plan.ease_fill", func(b *bench) { b.bounds.fill *= 1.2 }},
	{"controller", "plan.ease_controller", func(b *bench) { b.bounds.controller *= 1.25 }},
	{"motor", "plan.ease_motor", func(b *bench) { b.bounds.motor *= 1.25 }},
	{"jar", "plan.ease_jar", func(b *bench) { b.bounds.jar *= 1.25 }},
	{"stall", "plan.ease_stall", func(b *bench) { b.thickness /= 2 }},
	{"noise", "plan.ease_noise", func(b *bench) { b.bounds.noise += 5 }},
	{"time", "plan.ease_time", func(b *bench) { b.within += 1800 }},
}

// price is what easing a limit saves.
type price struct {
	ease
	saves float64 // s; 0: the limit does not bind
}

// prices eases every limit in turn over the openings of the first look.
func (b *bench) prices(openings []campaign) []price {
	ceiling := math.Inf(1)
	base := b.best(openings, 1, ceiling)
	if len(base) > 0 {
		ceiling = base[0].cost()
	}
	all := make([]price, len(eases))
	var group sync.WaitGroup
	for i, e := range eases {
		group.Go(func() {
			all[i] = price{ease: e}
			looser := b.eased(e.by).best(openings, 1, ceiling)
			switch {
			case len(looser) == 0: // the limit does not bind
			case len(base) == 0:
				all[i].saves = math.Inf(1)
			default:
				all[i].saves = math.Max(0, base[0].total()-looser[0].total())
			}
		})
	}
	group.Wait()
	return all
}

// eased is the bench with a limit loosened.
func (b *bench) eased(by func(*bench)) *bench {
	looser := *b
	by(&looser)
	return &looser
}

// saying puts a price into a finding; nothing when there is nothing to tell.
func (p price) saying() fact.Saying {
	what := fact.Word("what", p.what)
	switch {
	case p.saves < 30:
		return fact.Saying{}
	case math.IsInf(p.saves, 1):
		return fact.Say("plan.eased_possible", what.As("what"))
	}
	return fact.Say("plan.eased_shorter", what.As("what"), fact.About("saves", quantity.Duration, p.saves))
}
