package recipe

// How far an answer may lie from the best.

import "math"

// Gap returns how much cheaper than the first recipe a better one could at most
// be, as a share of its cost [–]: 0 when proved, +Inf without recipe or bound.
func (a Answer) Gap() float64 {
	if len(a.Recipes) == 0 || math.IsInf(a.Bound, -1) {
		return math.Inf(1)
	}
	cost := a.Recipes[0].Cost
	off := max(0, cost-a.Bound)
	if off == 0 {
		return 0
	}
	return off / max(math.Abs(cost), off)
}
