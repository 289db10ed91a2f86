package simplex

// Solve: from any basis to an answer, also where a column has no bound on the
// side its cost pulls to.

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// Solve finds the optimum from the present basis. It answers ErrStalled when
// the program is too badly scaled for the pivots allowed.
func (s *Solver) Solve() (Status, error) {
	s.halfPriced = false
	if s.columns >= fewestPacked {
		if live := s.liveColumns(); len(live) > 0 && len(live)*packedShare <= s.columns {
			return s.solveNarrow(live)
		}
	}
	s.lends = true
	if !s.refresh() {
		s.giveBack()
		return s.solveUnboxed()
	}
	status, err := s.run()
	s.giveBack()
	return status, err
}

// solveUnboxed first finds a basis whose reduced costs are right: it is the
// optimum of the same costs where every open direction is 1 long and every
// closed one 0 (free columns 1000 both ways, so that they become basic). If that
// optimum is below 0, some direction lowers the cost for ever.
func (s *Solver) solveUnboxed() (Status, error) {
	lo, hi := slices.Clone(s.lo), slices.Clone(s.hi)
	for j := range lo {
		openLo, openHi := math.IsInf(lo[j], -1), math.IsInf(hi[j], 1)
		s.lo[j], s.hi[j] = 0, 0
		switch {
		case openLo && openHi:
			s.lo[j], s.hi[j] = -1000, 1000
		case openLo:
			s.lo[j] = -1
		case openHi:
			s.hi[j] = 1
		}
	}
	s.refresh()
	_, err := s.run() // x = 0 is always possible, so it ends optimal
	falls := s.Objective() < -1e-7
	copy(s.lo, lo)
	copy(s.hi, hi)
	if err != nil {
		return 0, err
	}
	if !falls {
		s.refresh()
		return s.run()
	}
	return s.solveWithoutCost()
}

// solveWithoutCost tells an empty program from one whose cost has no floor.
func (s *Solver) solveWithoutCost() (Status, error) {
	cost := s.cost
	s.cost = make([]float64, s.columns)
	s.refresh()
	status, err := s.run()
	s.cost = cost
	if err != nil || status == Infeasible {
		return status, err
	}
	s.refresh()
	return Unbounded, nil
}

// Objective returns Σ c x of the last solve.
func (s *Solver) Objective() float64 { return floats.Dot(s.cost, s.x[:s.columns]) }

// Values returns the x of the last solve; the slice is the solver's own.
func (s *Solver) Values() []float64 { return s.x[:s.columns] }

// Reduced returns the reduced cost of every column: what one unit more of a
// column at rest would add. The slice is the solver's own.
func (s *Solver) Reduced() []float64 {
	s.priceRest()
	return s.d[:s.columns]
}

// ReducedLive is Reduced, but for the columns that were not held at 0; the other
// entries mean nothing.
func (s *Solver) ReducedLive() []float64 { return s.d[:s.columns] }

// Price returns the price of row i: by how much the optimum changes for a rise
// of one unit in the bound that binds, 0 when none does.
func (s *Solver) Price(i int) float64 { return s.d[s.columns+i] * s.scale[i] }
