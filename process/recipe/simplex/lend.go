package simplex

// Open sides of rows, closed for the time of a solve. A row of bounded columns
// cannot pass what the columns' bounds make of it, so a bound beyond that
// changes nothing, and any basis suits the dual method at once.

import "math"

// loan is a bound that was open.
type loan struct {
	j      int // the logical column
	lo, hi float64
}

// borrow closes the side of a logical column that its reduced cost pulls to. It
// answers false where a column of its row is open too.
func (s *Solver) borrow(j int) bool {
	if j < s.columns || !s.lends {
		return false
	}
	lo, hi := 0.0, 0.0
	for k, a := range s.rows[j-s.columns] {
		switch {
		case a > 0:
			lo, hi = lo+a*s.lo[k], hi+a*s.hi[k]
		case a < 0:
			lo, hi = lo+a*s.hi[k], hi+a*s.lo[k]
		}
	}
	if math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return false
	}
	s.loans = append(s.loans, loan{j, s.lo[j], s.hi[j]})
	if s.d[j] > 0 && math.IsInf(s.lo[j], -1) {
		lo = min(lo, s.hi[j])
		s.lo[j] = lo - 1 - 0.01*math.Abs(lo) // so far beyond that no optimum rests there
	}
	if s.d[j] < 0 && math.IsInf(s.hi[j], 1) {
		hi = max(hi, s.lo[j])
		s.hi[j] = hi + 1 + 0.01*math.Abs(hi)
	}
	return true
}

// giveBack opens the sides again.
func (s *Solver) giveBack() {
	for k := len(s.loans) - 1; k >= 0; k-- {
		l := s.loans[k]
		s.lo[l.j], s.hi[l.j] = l.lo, l.hi
	}
	s.loans, s.lends = s.loans[:0], false
}

// unlend takes rows out of a proof that rests on a lent side of theirs: what the
// columns make of such a row lies within that side, so without the row the
// multipliers prove as much.
func (s *Solver) unlend(sign float64) {
	for _, l := range s.loans {
		y := s.ray[l.j-s.columns]
		atLow := (sign > 0) == (y < 0)
		if atLow && math.IsInf(l.lo, -1) || !atLow && math.IsInf(l.hi, 1) {
			s.ray[l.j-s.columns] = 0
		}
	}
}
