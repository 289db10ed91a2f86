// Package root finds where a function of one number crosses zero, for the
// curves of melt and screw that have no inverse in closed form.
package root

import (
	"errors"
	"math"
)

// ErrNoCrossing says that the function has the same sign at both ends.
var ErrNoCrossing = errors.New("no crossing between the two ends")

// ErrNotSettled says that the function gave no number, or jumps.
var ErrNotSettled = errors.New("the search for a crossing did not settle")

// most is how often f is asked before the search gives up; bisection alone
// needs about 60 to halve its way to the rounding of a float64.
const most = 200

// Between returns where f crosses zero between two ends.
//
//	f       continuous function [its own units]
//	lo, hi  ends with opposite signs of f [units of the argument], lo < hi
//	tol     width of the bracket at which to stop, relative to the answer [–], ≥ 0
//
// Equation: false position with the Illinois weight at a stale end, and a bisection whenever three steps have not halved the bracket.
// Holds for: any continuous f; a jump through zero ends at the jump.
// Source: own derivation.
// Errors: ErrNoCrossing for equal signs; ErrNotSettled when f gives NaN.
// Checks: tests of this package (closed-form roots, random cubics).
func Between(f func(float64) float64, lo, hi, tol float64) (float64, error) {
	flo, fhi := f(lo), f(hi)
	switch {
	case math.IsNaN(flo) || math.IsNaN(fhi):
		return 0, ErrNotSettled
	case flo == 0:
		return lo, nil
	case fhi == 0:
		return hi, nil
	case (flo > 0) == (fhi > 0) || lo >= hi:
		return 0, ErrNoCrossing
	}
	s := search{lo: lo, hi: hi, flo: flo, fhi: fhi, mark: hi - lo}
	for i := range most {
		if s.hi-s.lo <= tol*math.Max(math.Abs(s.lo), math.Abs(s.hi)) {
			break
		}
		x := s.next(i)
		if x <= s.lo || x >= s.hi {
			break // neighbours in floating point
		}
		y := f(x)
		if math.IsNaN(y) {
			return 0, ErrNotSettled
		}
		if y == 0 {
			return x, nil
		}
		s.take(x, y)
	}
	return s.lo + (s.hi-s.lo)/2, nil
}

// search is a bracket with the weights of false position.
type search struct {
	lo, hi, flo, fhi float64
	mark             float64 // width of the bracket three steps ago
	side             int     // which end the last step moved: −1 low, +1 high
}

func (s *search) next(i int) float64 {
	width := s.hi - s.lo
	if i%3 == 2 {
		stale := width > s.mark/2
		s.mark = width
		if stale {
			return s.lo + width/2
		}
	}
	x := s.hi - s.fhi*width/(s.fhi-s.flo)
	if !(x > s.lo && x < s.hi) {
		return s.lo + width/2
	}
	return x
}

func (s *search) take(x, y float64) {
	if (y > 0) == (s.flo > 0) {
		s.lo, s.flo = x, y
		if s.side < 0 {
			s.fhi /= 2
		}
		s.side = -1
		return
	}
	s.hi, s.fhi = x, y
	if s.side > 0 {
		s.flo /= 2
	}
	s.side = 1
}
