package simplex

// From a list of basic columns to a state: the inverse of the basis, where the
// other columns rest, all values and all reduced costs.

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

const (
	tiniestPivot = 1e-10 // a column that leaves less than this after elimination depends on the others
	feasible     = 1e-9  // a value may break its bound by this, relative to 1 + |bound|
	dualSlack    = 1e-9  // a reduced cost may have the wrong sign by this
)

// refresh inverts the basis and computes everything from it. It answers false
// when a column without a bound on the side its cost pulls to is not basic:
// the basis does not suit the dual method then.
func (s *Solver) refresh() bool {
	s.invert()
	s.priceAll()
	ok := s.rest()
	s.valueAll()
	s.age = 0
	return ok
}

// invert fills inverse by Gauss–Jordan elimination of [B | I] with the greatest
// pivot of each column. A basic column that depends on those before it is
// replaced by the logical of a row that found no pivot, so every list becomes a
// basis.
func (s *Solver) invert() {
	m := len(s.rows)
	b, inv := s.spare, s.inverse
	s.logicalsFirst()
	clear(inv)
	for i := range m {
		inv[i*m+i] = 1
		for r, j := range s.head {
			b[i*m+r] = s.coef(i, j)
		}
	}
	for r := range m {
		p := r
		for i := r + 1; i < m; i++ {
			if math.Abs(b[i*m+r]) > math.Abs(b[p*m+r]) {
				p = i
			}
		}
		if math.Abs(b[p*m+r]) < tiniestPivot {
			p = s.repair(r)
		}
		swapRows(b, m, p, r)
		swapRows(inv, m, p, r)
		eliminate(b, inv, m, r)
	}
}

// logicalsFirst orders the basis so that columns with one entry are eliminated
// before they can fill in: of a program with many idle rows little work is left.
func (s *Solver) logicalsFirst() {
	to := 0
	for r, j := range s.head {
		if j >= s.columns {
			s.head[to], s.head[r] = j, s.head[to]
			to++
		}
	}
}

// repair puts a logical in place of the dependent column r: the one that has
// the greatest remainder in the rows without a pivot. It returns its pivot row.
// Its coefficients after elimination are minus a column of the partial inverse.
func (s *Solver) repair(r int) int {
	m := len(s.rows)
	used := make([]bool, m)
	for k, j := range s.head {
		if k != r && j >= s.columns {
			used[j-s.columns] = true
		}
	}
	best, at, row := -1.0, r, 0
	for l := range m {
		if used[l] {
			continue
		}
		for i := r; i < m; i++ {
			if v := math.Abs(s.inverse[i*m+l]); v > best {
				best, at, row = v, i, l
			}
		}
	}
	s.head[r] = s.columns + row
	for i := range m {
		s.spare[i*m+r] = -s.inverse[i*m+row]
	}
	return at
}

func swapRows(a []float64, m, i, k int) {
	if i == k {
		return
	}
	for j := range m {
		a[i*m+j], a[k*m+j] = a[k*m+j], a[i*m+j]
	}
}

// eliminate makes column r of b a unit column, carrying inv along.
func eliminate(b, inv []float64, m, r int) {
	f := 1 / b[r*m+r]
	floats.Scale(f, b[r*m:(r+1)*m])
	floats.Scale(f, inv[r*m:(r+1)*m])
	for i := range m {
		if v := b[i*m+r]; i != r && v != 0 {
			floats.AddScaled(b[i*m:(i+1)*m], -v, b[r*m:(r+1)*m])
			floats.AddScaled(inv[i*m:(i+1)*m], -v, inv[r*m:(r+1)*m])
		}
	}
}

// coef is the scaled coefficient of column j, caller's or logical, in row i.
func (s *Solver) coef(i, j int) float64 {
	switch {
	case j < s.columns:
		return s.rows[i][j]
	case j == s.columns+i:
		return -1
	}
	return 0
}

// costOf is the cost of a column; logicals cost nothing.
func (s *Solver) costOf(j int) float64 {
	if j < s.columns {
		return s.cost[j]
	}
	return 0
}

// priceAll fills d with c − y A, y = c_B B⁻¹; the d of a logical is its row's y.
func (s *Solver) priceAll() {
	m, y := len(s.rows), s.d[s.columns:]
	clear(y)
	for r, j := range s.head {
		if c := s.costOf(j); c != 0 {
			floats.AddScaled(y, c, s.inverse[r*m:(r+1)*m])
		}
	}
	s.priceColumns()
}

// priceColumns fills the d of the caller's columns with those of the rows.
func (s *Solver) priceColumns() {
	copy(s.d, s.cost)
	for i, v := range s.d[s.columns:] {
		if v != 0 {
			floats.AddScaled(s.d[:s.columns], -v, s.rows[i])
		}
	}
	for _, j := range s.head {
		s.d[j] = 0
	}
}

// rest puts every column that is not basic on the bound its reduced cost wants.
// Where the reduced cost is 0 but for rounding, a column stays where it was, else
// it would jump to and fro with every inversion.
func (s *Solver) rest() bool {
	for _, j := range s.head {
		s.stand(j, basic)
		s.inBasis[j] = true
	}
	ok := true
	s.frees = s.frees[:0]
	for j := range s.at {
		if s.inBasis[j] {
			s.inBasis[j] = false
			continue
		}
		ok = (s.restOne(j) || s.borrow(j) && s.restOne(j)) && ok
	}
	return ok
}

// ways is the sign with which a tableau entry mends a row when the column moves
// off its rest; NaN where it cannot move, or, free, both ways.
var ways = [...]float64{basic: math.NaN(), atLo: -1, atHi: 1, fixed: math.NaN(), free: math.NaN()}

// stand says where a column stands.
func (s *Solver) stand(j int, at place) { s.at[j], s.way[j] = at, ways[at] }

// restOne answers false when the bound wanted is not there.
func (s *Solver) restOne(j int) bool {
	openLo, openHi := math.IsInf(s.lo[j], -1), math.IsInf(s.hi[j], 1)
	d := s.d[j]
	switch {
	case s.lo[j] == s.hi[j]:
		s.stand(j, fixed)
		s.x[j] = s.lo[j]
	case openLo && openHi:
		s.stand(j, free)
		s.x[j], s.frees = 0, append(s.frees, int32(j))
		return math.Abs(d) <= dualSlack
	case openLo || !openHi && (d < -dualSlack || s.at[j] == atHi && d <= dualSlack):
		s.stand(j, atHi)
		s.x[j] = s.hi[j]
		return d <= dualSlack
	default:
		s.stand(j, atLo)
		s.x[j] = s.lo[j]
		return d >= -dualSlack
	}
	return true
}

// valueAll computes the basic values from those at rest.
func (s *Solver) valueAll() {
	m := len(s.rows)
	load := s.entry // what the columns at rest put into each row
	for _, j := range s.head {
		s.x[j] = 0
	}
	for i := range m {
		load[i] = floats.Dot(s.rows[i], s.x[:s.columns]) - s.x[s.columns+i]
	}
	for r, j := range s.head {
		s.x[j] = -floats.Dot(s.inverse[r*m:(r+1)*m], load)
	}
}
