package plan

import (
	"math"
	"sort"

	"hopperful/fact"
	"hopperful/quantity"
)

// ease is one way to loosen a limit a little, to see whether the campaign gets
// shorter: if it does, the limit binds, and the saving is its price.
type ease struct {
	limit string // key of the limit
	what  string // code of what is eased
	by    func(*bench)
	frees limits            // that are kept more often for it
	rests bool              // whether campaigns that keep every limit can rest less for it
	open  func(*bench) bool // whether there is no such limit to be eased; nil: there always is one
}

// eases are the small loosenings whose price is told.
var eases = []ease{
	{"charge_temperature", "plan.ease_room", func(b *bench) { b.room -= 5 }, limitOfCharge | limitOfWall, true, nil},
	{"wall_temperature", "plan.ease_gloves", func(b *bench) { b.bounds.touch += 10 }, limitOfWall, true, nil},
	{"fill", "plan.ease_fill", func(b *bench) { b.bounds.fill *= 1.2 }, limitOfFill | limitOfClear, false, nil},
	{"controller", "plan.ease_controller", func(b *bench) { b.bounds.controller *= 1.25 }, limitOfController, false, func(b *bench) bool { return math.IsInf(b.bounds.controller, 1) }},
	{"motor", "plan.ease_motor", func(b *bench) { b.bounds.motor *= 1.25 }, limitOfMotor, true, func(b *bench) bool { return math.IsInf(b.bounds.motor, 1) }},
	{"jar", "plan.ease_jar", func(b *bench) { b.bounds.jar *= 1.25 }, limitOfJar, false, func(b *bench) bool { return math.IsInf(b.bounds.jar, 1) }},
	{"stall", "plan.ease_stall", func(b *bench) { b.thickness /= 2 }, limitOfStall, false, nil},
	{"noise", "plan.ease_noise", func(b *bench) { b.bounds.noise += 5 }, limitOfNoise, false, nil},
	{"time", "plan.ease_time", func(b *bench) { b.within += 1800 }, everyLimit, true, func(b *bench) bool { return math.IsInf(b.within, 1) }},
}

// price is what easing a limit saves.
type price struct {
	ease
	saves float64 // s; 0: the limit does not bind
}

// prices eases every limit in turn over the openings of the first look. Only a campaign
// that breaks nothing else, whatever its rests are, can gain by it.
func (b *bench) prices(openings []campaign) []price {
	ceiling := math.Inf(1)
	base := b.best(openings, 1, ceiling)
	if len(base) > 0 {
		ceiling = base[0].cost()
	}
	cheap := openings[:sort.Search(len(openings), func(i int) bool { return openings[i].cost() >= ceiling })]
	broken := make([]limits, len(cheap))
	for i, t := range cheap {
		broken[i] = b.breaks(t)
	}
	all := make([]price, len(eases))
	for i, e := range eases {
		if all[i] = (price{ease: e}); e.open != nil && e.open(b) {
			continue
		}
		var may []campaign
		for k, t := range cheap {
			if broken[k]&^e.frees == 0 && (broken[k] != 0 || e.rests) {
				may = append(may, t)
			}
		}
		looser := b.eased(e.by).best(may, 1, ceiling)
		switch {
		case len(looser) == 0: // the limit does not bind
		case len(base) == 0:
			all[i].saves = math.Inf(1)
		default:
			all[i].saves = math.Max(0, base[0].total()-looser[0].total())
		}
	}
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
