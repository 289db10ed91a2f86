package simplex

// The program as the caller states it, and what is refused.

import (
	"errors"
	"fmt"
	"math"
)

// Row is one two-sided condition Lo ≤ Σ Coef[j] x[j] ≤ Hi, in the caller's unit.
type Row struct {
	Coef []float64 // a [unit of the row per unit of the column], one a column, finite
	Lo   float64   // least value [unit of the row], −Inf where open
	Hi   float64   // greatest value [unit of the row], +Inf where open
}

// Program is a linear program; its slices belong to the caller and are copied.
type Program struct {
	Cost []float64 // c [cost per unit of the column], finite
	Lo   []float64 // lower bounds [unit of the column], −Inf where open
	Hi   []float64 // upper bounds [unit of the column], +Inf where open
	Rows []Row
}

const (
	maxRows    = 2000
	maxColumns = 1_000_000
	largest    = 1e15 // a finite number beyond this is a slip
)

// Status is how a solve ended.
type Status int

const (
	// Optimal means that no x within the conditions costs less.
	Optimal Status = iota
	// Infeasible means that no x keeps the conditions; the Solver holds a ray.
	Infeasible
	// Unbounded means that the cost falls without end.
	Unbounded
)

// String names the status.
func (s Status) String() string {
	switch s {
	case Optimal:
		return "optimal"
	case Infeasible:
		return "infeasible"
	case Unbounded:
		return "unbounded"
	}
	return fmt.Sprintf("status %d", int(s))
}

// ErrStalled says that the pivots allowed ran out. Bland's rule makes that a
// matter of accuracy, not of logic: the program is badly scaled.
var ErrStalled = errors.New("linear program: no end within the pivots allowed; scale rows and columns to numbers near 1")

func (p Program) check() error {
	n := len(p.Cost)
	if n < 1 || n > maxColumns {
		return fmt.Errorf("linear program: %d columns, from 1 to %d are possible", n, maxColumns)
	}
	if len(p.Lo) != n || len(p.Hi) != n {
		return fmt.Errorf("linear program: %d costs, %d lower and %d upper bounds; give one of each a column", n, len(p.Lo), len(p.Hi))
	}
	if len(p.Rows) > maxRows {
		return fmt.Errorf("linear program: %d rows, at most %d are possible", len(p.Rows), maxRows)
	}
	for j, c := range p.Cost {
		if !finite(c) {
			return fmt.Errorf("linear program: column %d costs %g; give a number up to %g", j, c, largest)
		}
		if err := checkBounds(p.Lo[j], p.Hi[j]); err != nil {
			return fmt.Errorf("linear program: column %d: %w", j, err)
		}
	}
	for i, r := range p.Rows {
		if err := r.check(n); err != nil {
			return fmt.Errorf("linear program: row %d: %w", i, err)
		}
	}
	return nil
}

func (r Row) check(columns int) error {
	if len(r.Coef) != columns {
		return fmt.Errorf("%d coefficients for %d columns", len(r.Coef), columns)
	}
	for j, a := range r.Coef {
		if !finite(a) {
			return fmt.Errorf("coefficient %d is %g; give a number up to %g", j, a, largest)
		}
	}
	return checkBounds(r.Lo, r.Hi)
}

// checkBounds refuses what is no interval. Lo above Hi is refused too: the
// caller knows which of its own bounds cross and can say so.
func checkBounds(lo, hi float64) error {
	switch {
	case math.IsNaN(lo) || math.IsNaN(hi) || math.IsInf(lo, 1) || math.IsInf(hi, -1):
		return fmt.Errorf("bounds %g to %g are no interval", lo, hi)
	case !math.IsInf(lo, 0) && !finite(lo) || !math.IsInf(hi, 0) && !finite(hi):
		return fmt.Errorf("bounds %g to %g go beyond %g; use an infinite one", lo, hi, largest)
	case lo > hi:
		return fmt.Errorf("lower bound %g is above upper bound %g", lo, hi)
	}
	return nil
}

func finite(v float64) bool { return v >= -largest && v <= largest }
