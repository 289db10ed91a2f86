// Package simplex solves linear programs with few rows and many columns, all
// of them bounded:
//
//	min Σ c_j x_j   subject to   lo_j ≤ x_j ≤ hi_j,   Lo_i ≤ Σ a_ij x_j ≤ Hi_i
//
// A [Solver] is the bounded dual simplex method with an explicit inverse of the
// basis, which is the right shape when rows are counted in tens: an exact
// steepest-edge price costs nothing, and a basis of yesterday starts today's
// solve however bounds, rows or costs have changed. That is what a search tree
// needs. Redundant, empty and repeated rows do no harm, because every row brings
// its own logical column and a basis is repaired with those.
//
// It answers the optimum with the price of every row and column, or a proof
// that no x exists (multipliers that contradict the bounds), or that the cost
// falls without end.
package simplex
