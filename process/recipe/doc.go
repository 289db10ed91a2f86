// Package recipe finds which lots to blend, and how much of each, as pure
// mathematics: it knows masses, costs and properties that mix by mass, no lots
// of a shop and no user.
//
//	min Σ c_i x_i + Σ_k w_k g_k(x)
//	Σ x_i = M (± slack)               the mass wanted
//	must_i ≤ x_i ≤ stock_i            what there is
//	Lo_l ≤ Σ a_li x_i / Σ x_i ≤ Hi_l  limits on means: log melt flow, age, dust, moisture, metal, polymer
//	g_k(x) ≤ limit_k                  limits that are not linear: a colour difference
//	at most K lots; x_i = 0 or x_i ≥ least_i; x_i in whole steps
//
// Solve answers the best [Recipe] and the next best different ones, with the
// price of every limit, a bound that no recipe can beat and the gap to it; or,
// where there is none, which conditions contradict each other and the nearest
// recipe there is. WhyNot solves again with
// one lot put in.
//
// The linear part is exact ([hopperful/process/recipe/simplex]); lot count,
// least amounts and steps go by branch and bound; curved limits by linear cuts,
// and every recipe is certified by its true values, after rounding. All limits
// of work are counted in nodes, so the same problem always has the same answer.
package recipe
