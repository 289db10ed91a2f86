package estimate

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Fitted is what a mill's records have taught.
type Fitted struct {
	Skipped []Skipped

	fit    *fit
	spread *spread
	left   []leftOut // a run, by what all others say
	change Change
	scale  [quantities]float64 // calibration
	count  [quantities]int
}

// spread is the posterior around the most probable variables.
type spread struct {
	covariance *mat.SymDense // of the active variables
	root       *mat.TriDense // lower: covariance = root rootᵀ
	inverse    *mat.SymDense // the precision
	step       []float64     // how far from the most probable variables the fit stands, with readings held as here
}

// posterior is the normal distribution around the variables as they stand. The
// slopes are those of the last step of the descent, which was a short one.
func (f *fit) posterior() (*spread, error) { return f.around(worth) }

// around is the same with readings held by other weights.
func (f *fit) around(w weighing) (*spread, error) {
	if len(f.active) == 0 {
		return nil, nil
	}
	if err := f.hold(w); err != nil {
		return nil, err
	}
	f.whiten()
	precision, slope := f.normal()
	var chol mat.Cholesky
	if !chol.Factorize(precision) {
		return nil, errAdrift
	}
	s := &spread{covariance: mat.NewSymDense(len(f.active), nil), root: &mat.TriDense{}, inverse: precision}
	if err := chol.InverseTo(s.covariance); err != nil {
		return nil, fmt.Errorf("%w (%v)", errAdrift, err)
	}
	var of mat.Cholesky
	if !of.Factorize(s.covariance) {
		return nil, errAdrift
	}
	of.LTo(s.root)
	s.step = make([]float64, len(slope))
	s.times(slope, s.step)
	return s, nil
}

// along is the variance of a sum of active variables, always added up in the
// same order.
func (s *spread) along(c map[int]float64) float64 {
	places := slices.Sorted(maps.Keys(c))
	sum := 0.0
	for _, a := range places {
		for _, b := range places {
			sum += c[a] * c[b] * s.covariance.At(a, b)
		}
	}
	return math.Max(sum, 0)
}
