// Package ageing says how old the plastic of a lot is, and what that does to
// its flow and strength.
//
// An [Age] is no single number: it is the share of plastic with 0, 1, 2, …
// passes through a melt, and the chains that water cut there. [Blend] weighs
// both by mass, [Age.Melted] moves every share one pass on. A shop that feeds
// its own scrap back with a share r settles at
//
//	a_n = (1 − r) r^(n−1),   mean 1/(1 − r),   beyond k passes r^k
//
// What a pass does is a [Factor] with a range, pooled from published studies
// ([PerPass]). The studies disagree, some in sign: the range covers all of
// them, and a measured melt flow overrides the forecast ([ForecastFlow]) and
// narrows the factor ([LearnFlow]).
//
// Wet plastic ages more in the melt: each water molecule that reacts cuts one
// chain, 1/Mn = 1/Mn0 + x w/M_w, and the melt flow rises with the power 3.4 of
// what is lost. All water reacting is the bound, not the rule.
package ageing
