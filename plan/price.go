package plan

import (
	"fmt"
	"math"
	"sync"

	"hopperful/quantity"
)

// ease is one way to loosen a limit a little, to see whether the campaign gets
// shorter: if it does, the limit binds, and the saving is its price.
type ease struct {
	limit string // key of the limit
	what  string // "a room 5 K cooler"
	by    func(*bench)
}

// eases are the small loosenings whose price is told.
var eases = []ease{
	{"charge_temperature", "a room 5 °C cooler", func(b *bench) { b.room -= 5 }},
	{"wall_temperature", "gloves that let the wall be 10 °C warmer", func(b *bench) { b.bounds.touch += 10 }},
	{"fill", "pieces broken so that a fifth more fits loosely", func(b *bench) { b.bounds.fill *= 1.2 }},
	{"controller", "a controller that carries a quarter more", func(b *bench) { b.bounds.controller *= 1.25 }},
	{"motor", "a motor that carries a quarter more", func(b *bench) { b.bounds.motor *= 1.25 }},
	{"jar", "a jar a quarter larger", func(b *bench) { b.bounds.jar *= 1.25 }},
	{"stall", "pieces half as thick, which stall the rotor less", func(b *bench) { b.thickness /= 2 }},
	{"noise", "5 dB less noise at the ear", func(b *bench) { b.bounds.noise += 5 }},
	{"time", "half an hour more", func(b *bench) { b.within += 1800 }},
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

// saying puts a price into a sentence, or "" when there is nothing to tell.
func (p price) saying() string {
	switch {
	case p.saves < 30:
		return ""
	case math.IsInf(p.saves, 1):
		return fmt.Sprintf("With %s a plan would be possible.", p.what)
	}
	return fmt.Sprintf("With %s it would be about %s shorter.", p.what, quantity.Duration.Rough(p.saves))
}
