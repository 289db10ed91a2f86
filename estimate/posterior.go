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
}

// spread is the posterior around the most probable variables.
type spread struct {
	covariance *mat.SymDense // of the active variables
	root       *mat.TriDense // lower: covariance = root rootᵀ
	inverse    *mat.SymDense // the precision
}

// posterior is the normal distribution around the variables as they stand. The
// slopes are those of the last step of the descent, which was a short one.
func (f *fit) posterior() (*spread, error) {
	if len(f.active) == 0 {
		return nil, nil
	}
	precision, _ := f.normal(func(x float64) float64 { return tWorth * weigh(x) })
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

// Readings that scatter.
const (
	trust      = 20.0 // readings of its kind that the usual spread counts for
	worstScale = 30.0 // beyond it a kind of reading says nothing
	sameScale  = 0.02 // a change of scale that is none
)

// rescale asks whether a kind of reading scatters more than it should, and
// reports whether that changed anything. A kind is never trusted more than
// usual.
func (f *fit) rescale(s *spread) bool {
	var misses [quantities][]float64
	var free [quantities]float64 // readings less those that the variables use up
	for i := range f.runs {
		for k, q := range f.readings[i] {
			x := f.misses(i, k, &f.now[i])
			misses[q.of] = append(misses[q.of], x*f.scale[q.of])
			free[q.of] += math.Max(0, 1-tWorth*weigh(x)*f.leverage(i, k, s))
		}
	}
	changed := false
	for q := range f.scale {
		next := scatter(misses[q], free[q])
		changed = changed || math.Abs(next-f.scale[q]) > sameScale*f.scale[q]
		f.scale[q] = next
	}
	return changed
}

// scatter is the scale of errors that follow the t, by expectation and
// maximisation, with the usual scale counted in; 1 at the least.
func scatter(misses []float64, free float64) float64 {
	scale := 1.0
	for range 50 {
		own := 0.0
		for _, x := range misses {
			own += weigh(x/scale) * x * x
		}
		scale = math.Sqrt((trust + own) / (trust + free))
		scale = math.Min(math.Max(scale, 1), worstScale)
	}
	return scale
}

// leverage is the variance of a reading's forecast, over that of its error.
func (f *fit) leverage(i, k int, s *spread) float64 {
	if s == nil {
		return 0
	}
	spread := f.spreads[i][k] * f.scale[f.readings[i][k].of]
	c := map[int]float64{}
	for _, p := range f.pulls[i] {
		c[p.at] += p.column[k]
	}
	return s.along(c) / (spread * spread)
}
