package simplex

// The solver's state and how it is changed between solves.

import (
	"fmt"
	"math"
	"slices"
)

// place is where a column stands.
type place int8

const (
	basic place = iota
	atLo
	atHi
	fixed // lo = hi: it can never enter
	free  // no bound: it rests at 0
)

// Solver holds a program and the basis last reached. It is not safe for use by
// several goroutines at once.
type Solver struct {
	columns int         // of the caller
	rows    [][]float64 // scaled coefficients, one slice a row
	scale   []float64   // row i was multiplied by scale[i], a power of two
	cost    []float64   // one a column of the caller

	// Columns of the caller, then one logical a row: Σ a_ij x_j − s_i = 0.
	lo, hi  []float64
	x, d    []float64 // value and reduced cost
	at      []place
	way     []float64 // see ways
	frees   []int32   // columns without bounds that were at rest at the last inversion
	inBasis []bool    // room to mark the basic columns in
	head    []int     // the basic column of each row

	inverse []float64 // of the basis, row by row
	alpha   []float64 // one row of the tableau, all columns
	entry   []float64 // the tableau column that enters, one a row
	spare   []float64 // room to invert in
	near    []int32   // room for the columns that may enter
	ray     []float64 // multipliers of the scaled rows that prove infeasibility
	age     int       // pivots since the basis was inverted
	pivots  int       // in all
	dull    int       // pivots in a row that did not raise the cost

	lends bool   // open rows may be closed for the time of this solve
	loans []loan // rows that are

	live, place []int32   // room for packing
	packed      *Solver   // the program without idle columns
	packing     []float64 // its coefficients
	halfPriced  bool      // d is that of the live columns only
}

// New returns a solver of a program.
//
// Errors: what of the program cannot be, with its row or column.
func New(p Program) (*Solver, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	s := &Solver{
		columns: len(p.Cost), cost: slices.Clone(p.Cost),
		lo: slices.Clone(p.Lo), hi: slices.Clone(p.Hi),
	}
	for _, r := range p.Rows {
		s.addRow(r)
	}
	s.resize()
	s.Restart(nil)
	return s, nil
}

// Rows returns the number of rows.
func (s *Solver) Rows() int { return len(s.rows) }

// Pivots returns the number of pivots made so far, a measure of work that does
// not depend on the machine.
func (s *Solver) Pivots() int { return s.pivots }

// AddRow adds a row; its logical column joins the basis. It answers an error
// for a row that cannot be.
func (s *Solver) AddRow(r Row) error {
	if err := r.check(s.columns); err != nil {
		return fmt.Errorf("linear program: new row: %w", err)
	}
	if len(s.rows) == maxRows {
		return fmt.Errorf("linear program: more than %d rows", maxRows)
	}
	s.addRow(r)
	s.resize()
	s.head = append(s.head, s.columns+len(s.rows)-1)
	return nil
}

// SetRow puts another row in place of row i. It answers an error for a row
// that cannot be.
func (s *Solver) SetRow(i int, r Row) error {
	if i < 0 || i >= len(s.rows) {
		return fmt.Errorf("linear program: no row %d", i)
	}
	if err := r.check(s.columns); err != nil {
		return fmt.Errorf("linear program: row %d: %w", i, err)
	}
	s.writeRow(i, r)
	return nil
}

// SetBounds sets the bounds of the first len(lo) columns of the caller. It
// answers an error for bounds that are no interval.
func (s *Solver) SetBounds(lo, hi []float64) error {
	if len(lo) > s.columns || len(hi) != len(lo) {
		return fmt.Errorf("linear program: %d lower and %d upper bounds for %d columns", len(lo), len(hi), s.columns)
	}
	for j, l := range lo {
		if h := hi[j]; !(l <= h && l >= -largest && h <= largest) {
			if err := checkBounds(l, h); err != nil {
				return fmt.Errorf("linear program: column %d: %w", j, err)
			}
		}
	}
	copy(s.lo, lo)
	copy(s.hi, hi)
	return nil
}

// Basis returns a copy of the basis: the basic column of each row, where column
// len(Cost)+i is the logical of row i.
func (s *Solver) Basis() []int { return slices.Clone(s.head) }

// Restart makes a former basis the start of the next solve. Rows added since
// then take their logicals; nil starts from logicals alone.
func (s *Solver) Restart(basis []int) {
	s.head = s.head[:0]
	for i := range s.rows {
		if i < len(basis) {
			s.head = append(s.head, basis[i])
		} else {
			s.head = append(s.head, s.columns+i)
		}
	}
}

func (s *Solver) addRow(r Row) {
	s.rows = append(s.rows, make([]float64, s.columns))
	s.scale = append(s.scale, 1)
	s.lo, s.hi = append(s.lo, 0), append(s.hi, 0)
	s.writeRow(len(s.rows)-1, r)
}

// writeRow scales a row so that its greatest coefficient lies in 0.5 to 1. A
// power of two changes no digit.
func (s *Solver) writeRow(i int, r Row) {
	var top float64
	for _, a := range r.Coef {
		top = max(top, math.Abs(a))
	}
	f := 1.0
	if top > 0 {
		_, e := math.Frexp(top)
		f = math.Ldexp(1, -e)
	}
	for j, a := range r.Coef {
		s.rows[i][j] = a * f
	}
	s.scale[i] = f
	s.lo[s.columns+i], s.hi[s.columns+i] = r.Lo*f, r.Hi*f
}

// resize makes room for the rows there are now.
func (s *Solver) resize() {
	m, all := len(s.rows), s.columns+len(s.rows)
	s.x, s.d, s.alpha = sized(s.x, all), sized(s.d, all), sized(s.alpha, all)
	s.at, s.way, s.inBasis = sized(s.at, all), sized(s.way, all), sized(s.inBasis, all)
	s.inverse, s.spare = sized(s.inverse, m*m), sized(s.spare, m*m)
	s.entry, s.ray = sized(s.entry, m), sized(s.ray, m)
	s.place = sized(s.place, all)
}

// sized is a slice of n zeros, in the room of another where it is large enough.
func sized[T any](room []T, n int) []T {
	room = slices.Grow(room[:0], n)[:n]
	clear(room)
	return room
}
