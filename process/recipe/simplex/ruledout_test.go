package simplex

// The proof that a program has no answer, which the tests ask for.

import (
	"math"
)

// Ray returns, after Infeasible, one multiplier a row. The rows so weighted add
// up to a condition that the bounds of rows and columns make impossible; see
// [Program.Contradicts].
func (s *Solver) Ray() []float64 {
	y := make([]float64, len(s.rows))
	for i := range y {
		y[i] = s.ray[i] * s.scale[i]
	}
	return y
}

// ruledOut tells how far y·(A x − s) = 0 is from possible within all bounds, for
// multipliers of the scaled rows: 0 when they prove nothing.
func ruledOut(p Program, y []float64) float64 {
	var lo, hi float64
	add := func(v, from, to float64) {
		if v < 0 {
			from, to = to, from
		}
		if v != 0 {
			lo += v * from
			hi += v * to
		}
	}
	for j := range p.Cost {
		var v, size float64
		for i, r := range p.Rows {
			v += y[i] * r.Coef[j]
			size += math.Abs(y[i] * r.Coef[j])
		}
		if math.Abs(v) > 1e-11*size { // else the rows cancel in this column
			add(v, p.Lo[j], p.Hi[j])
		}
	}
	for i, r := range p.Rows {
		add(-y[i], r.Lo, r.Hi)
	}
	return max(lo, -hi, 0)
}

// Contradicts reports whether multipliers y prove that a program has no answer:
// y·A x lies, by the bounds of the columns alone, wholly off what y makes of the
// bounds of the rows.
func (p Program) Contradicts(y []float64) bool { return len(y) == len(p.Rows) && ruledOut(p, y) > 0 }
