package simplex

// The dual simplex method: keep every reduced cost right, mend one broken bound
// a pivot. Exact dual steepest edge, Harris' two-pass ratio test, Bland's rule
// when the cost stands still.

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

const (
	reinvertEvery = 60   // pivots; keeps the inverse near working precision
	believed      = 20   // pivots after which values need no check
	smallestAlpha = 1e-9 // a tableau entry below this is rounding
	patience      = 60   // dull pivots before Bland's rule
	pivotCap      = 20000
)

// run pivots until every basic value keeps its bounds (Optimal) or a row proves
// that none can (Infeasible).
func (s *Solver) run() (Status, error) {
	s.dull = 0
	for limit := s.pivots + pivotCap + 4*len(s.at); s.pivots < limit; {
		if s.age >= reinvertEvery {
			s.refresh()
		}
		r, sign := s.leaving()
		if r < 0 {
			if s.age <= believed {
				return Optimal, nil
			}
			s.refresh()
			continue
		}
		s.tableauRow(r)
		q := s.entering(sign)
		if q >= 0 && s.pivot(r, q, sign) {
			continue
		}
		if s.age > 0 {
			s.refresh()
			continue
		}
		if q >= 0 {
			return 0, ErrStalled
		}
		s.keepRay(r)
		s.unlend(sign)
		return Infeasible, nil
	}
	return 0, ErrStalled
}

// keepRay keeps the multipliers that prove row r of the tableau impossible,
// without the rounding that would set an open bound against it.
func (s *Solver) keepRay(r int) {
	m := len(s.rows)
	copy(s.ray, s.inverse[r*m:(r+1)*m])
	top := floats.Norm(s.ray, math.Inf(1))
	for i, v := range s.ray {
		if math.Abs(v) < 1e-12*top {
			s.ray[i] = 0
		}
	}
}

// leaving picks the basic column that breaks a bound worst in the metric of the
// steepest edge; sign is +1 when it must grow, −1 when it must shrink. Under
// Bland's rule it is the broken one with the smallest index.
func (s *Solver) leaving() (row int, sign float64) {
	m := len(s.rows)
	row, best, index := -1, 0.0, len(s.at)
	for r, j := range s.head {
		broken, way := s.lo[j]-s.x[j], 1.0
		tol := feasible * (1 + math.Abs(s.lo[j]))
		if over := s.x[j] - s.hi[j]; over > broken {
			broken, way, tol = over, -1, feasible*(1+math.Abs(s.hi[j]))
		}
		if broken <= tol {
			continue
		}
		if s.dull > patience {
			if j < index {
				row, sign, index = r, way, j
			}
			continue
		}
		edge := s.inverse[r*m : (r+1)*m]
		if v := broken * broken / floats.Dot(edge, edge); v > best {
			row, sign, best = r, way, v
		}
	}
	return row, sign
}

// tableauRow fills alpha with row r of B⁻¹ A.
func (s *Solver) tableauRow(r int) {
	m, n := len(s.rows), s.columns
	clear(s.alpha[:n])
	for i, v := range s.inverse[r*m : (r+1)*m] {
		if v != 0 {
			floats.AddScaled(s.alpha[:n], v, s.rows[i])
		}
		s.alpha[n+i] = -v
	}
}

// pull is how strongly moving column j off its rest mends the leaving row: ≤ 0
// where it cannot.
func (s *Solver) pull(j int, sign float64) float64 {
	switch s.at[j] {
	case atLo:
		return -sign * s.alpha[j]
	case atHi:
		return sign * s.alpha[j]
	case free:
		return math.Abs(s.alpha[j])
	}
	return 0
}

// entering picks the column whose reduced cost reaches zero first; among those
// that do so within the slack, the one with the greatest pivot (Harris). It
// returns −1 when no column can mend the row.
func (s *Solver) entering(sign float64) int {
	if s.dull > patience {
		return s.enteringBland(sign)
	}
	reach := math.Inf(1)
	near := s.near[:0] // columns within the reach known when they were met
	n := len(s.alpha)
	alpha, d, way := s.alpha, s.d[:n], s.way[:n]
	for j, v := range way {
		// One comparison that mostly fails, so that the processor guesses right;
		// NaN, the way of columns that cannot enter, always fails.
		a := alpha[j] * v * sign
		if !(-d[j]*v <= reach*a) || a <= smallestAlpha {
			continue
		}
		near = append(near, int32(j))
		if c := max(-d[j]*v, 0) + dualSlack; c < reach*a {
			reach = c / a
		}
	}
	for _, j := range s.frees {
		if a := math.Abs(alpha[j]); s.at[j] == free && a > smallestAlpha {
			near = append(near, j)
			reach = min(reach, (math.Abs(d[j])+dualSlack)/a)
		}
	}
	s.near = near
	q, best := -1, 0.0
	for _, j := range near {
		if a := math.Abs(alpha[j]); a > best && math.Abs(d[j]) <= reach*a {
			q, best = int(j), a
		}
	}
	return q
}

func (s *Solver) enteringBland(sign float64) int {
	q, reach := -1, math.Inf(1)
	for j := range s.at {
		if a := s.pull(j, sign); a > smallestAlpha {
			if ratio := math.Abs(s.d[j]) / a; ratio < reach {
				q, reach = j, ratio
			}
		}
	}
	return q
}

// pivot lets column q enter and the basic column of row r leave to the bound it
// breaks. It answers false when the two ways to compute the pivot disagree: the
// inverse is worn then.
func (s *Solver) pivot(r, q int, sign float64) bool {
	m := len(s.rows)
	for i := range m {
		s.entry[i] = s.dotColumn(s.inverse[i*m:(i+1)*m], q)
	}
	p, pivot := s.head[r], s.entry[r]
	if math.Abs(pivot-s.alpha[q]) > 1e-6*(1+math.Abs(pivot)) || math.Abs(pivot) < smallestAlpha/2 {
		return false
	}
	rise := s.d[q] / s.alpha[q]
	floats.AddScaled(s.d, -rise, s.alpha)
	s.d[q], s.d[p] = 0, -rise

	bound, at := s.lo[p], atLo
	if sign < 0 {
		bound, at = s.hi[p], atHi
	}
	if s.lo[p] == s.hi[p] {
		at = fixed
	}
	step := (s.x[p] - bound) / pivot
	if math.Abs(rise*(s.x[p]-bound)) > 1e-14 {
		s.dull = 0
	} else {
		s.dull++
	}
	for i, j := range s.head {
		s.x[j] -= step * s.entry[i]
	}
	s.x[q] += step
	s.x[p] = bound
	s.stand(p, at)
	s.stand(q, basic)
	s.head[r] = q
	s.updateInverse(r, pivot)
	s.pivots++
	s.age++
	return true
}

func (s *Solver) updateInverse(r int, pivot float64) {
	m := len(s.rows)
	row := s.inverse[r*m : (r+1)*m]
	floats.Scale(1/pivot, row)
	for i := range m {
		if v := s.entry[i]; i != r && v != 0 {
			floats.AddScaled(s.inverse[i*m:(i+1)*m], -v, row)
		}
	}
}

// dotColumn is y · A_j for one column.
func (s *Solver) dotColumn(y []float64, j int) float64 {
	if j >= s.columns {
		return -y[j-s.columns]
	}
	var sum float64
	for i, v := range y {
		sum += v * s.rows[i][j]
	}
	return sum
}
