package recipe

// Lots that no better recipe below a node can hold, by the prices of the node's
// relaxation: they are left out of everything that hangs on it.

import (
	"math"
	"math/bits"
)

// lotSet is a set of lots of a model, a bit a lot.
type lotSet []uint64

// each calls f for every lot of the set.
func (s lotSet) each(f func(k int)) {
	for i, w := range s {
		for ; w != 0; w &= w - 1 {
			f(64*i + bits.TrailingZeros64(w))
		}
	}
}

// shrink returns the lots out of the recipe below a node just solved: those out
// above it, and those with which nothing below can beat what is known.
func (s *search) shrink(n *node) lotSet {
	out := n.out
	cut := s.cutoff()
	if math.IsInf(cut, 1) || s.m.elastic {
		return out
	}
	room := cut - s.solver.Objective()
	price := 0.0
	if s.m.count >= 0 {
		price = max(0, -s.solver.Price(s.m.count))
	}
	d, w := s.solver.ReducedLive(), s.solver.Values()
	own := false
	for k, hi := range s.hi {
		if hi == 0 || s.in[k] || s.lo[k] > 0 || w[k] > dust || !(d[k] > 0) && price == 0 || atLeast(d[k], price, s.m.least[k], s.m.hi[k]) < room {
			continue
		}
		if !own {
			grown := make(lotSet, (len(s.hi)+63)/64)
			copy(grown, out)
			out, own = grown, true
		}
		out[k/64] |= 1 << (k % 64)
	}
	return out
}

// atLeast is what a lot in the recipe adds to the bound of a relaxation in which
// it is not: the better of two multipliers, d least, or, with the price of a
// place in the recipe, price + (d − price/hi) x at the best x from least to hi.
func atLeast(d, price, least, hi float64) float64 {
	if hi == 0 {
		return math.Inf(1)
	}
	e := d - price/hi
	return max(d*least, price+min(e*least, e*hi))
}
