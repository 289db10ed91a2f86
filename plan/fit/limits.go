package fit

// The thresholds no book gives: the shop's own or our default, and said to be so.

import (
	"math"

	"hopperful/fact"
	"hopperful/shop"
)

// limit is a threshold as it holds in this shop.
func (j *job) limit(l shop.Limit) float64 {
	v, _ := j.state.Shop.Limit(l)
	return v
}

// limitNames are how a limit is called: ours, and the shop's own.
var limitNames = map[shop.Limit][2]string{
	shop.MostMetal:     {"limit.metal", "limit.metal_yours"},
	shop.MostBlocked:   {"limit.blocked", "limit.blocked_yours"},
	shop.MostPressure:  {"limit.head", "limit.head_yours"},
	shop.LeastStrength: {"limit.strength", "limit.strength_yours"},
	shop.LeastSure:     {"limit.sure", "limit.sure_yours"},
}

func (j *job) called(l shop.Limit) string {
	if _, own := j.state.Shop.Limit(l); own {
		return limitNames[l][1]
	}
	return limitNames[l][0]
}

// whose says whose limit it is, and what taught it.
func (j *job) whose(name string) fact.Fact {
	switch b := j.borne; {
	case b.Prints > 0:
		return fact.Parts(name, fact.Say("fit.by_your_prints", fact.Count("n", b.Prints)))
	case b.Own:
		return fact.Parts(name, fact.Say("fit.by_your_limit"))
	}
	return fact.Parts(name, fact.Say("fit.by_our_limit"))
}

// noMore is the rate of chips at which a share of prints of that mass meets one.
func noMore(mass, prints float64) float64 { return -math.Log(1-prints) / math.Max(mass, 1e-6) }
