// The distribution of Gates, Gaudin and Schuhmann.

package sieve

import "math"

// GGS is the law of Gates, Gaudin and Schuhmann: a power of size up to a
// largest one, the fine end of many ground goods.
type GGS struct {
	largest, m float64
}

// NewGGS returns the Gates–Gaudin–Schuhmann distribution.
//
//	largest  size that everything is finer than [m], > 0
//	m        slope [1], 0.05 to 50
//
// Equation: Q3(x) = (x/x_max)^m for x < x_max, else 1.
// Holds for: the fines of crushed goods; its sharp upper end is seldom real. D32 exists only for m > 1.
// Source: Fluids2026 (formula and values of its tests).
// Errors: RangeError for a parameter out of range.
// Checks: GGS rows of checks.csv (2 published); MeanDiameter rows.
func NewGGS(largest, m float64) (GGS, error) {
	return GGS{largest, m}, checkLaw("largest size", largest, "slope m", m)
}

// Cumulative returns the mass share finer than x.
func (d GGS) Cumulative(x float64) (float64, error) {
	if err := checkSize(x); err != nil {
		return 0, err
	}
	if x >= d.largest {
		return 1, nil
	}
	return math.Pow(x/d.largest, d.m), nil
}

// Density returns the slope of Cumulative [1/m].
func (d GGS) Density(x float64) (float64, error) {
	if err := checkSize(x); err != nil {
		return 0, err
	}
	if x >= d.largest {
		return 0, nil
	}
	return d.m / x * math.Pow(x/d.largest, d.m), nil
}

// Quantile returns the size below which the share p lies [m].
func (d GGS) Quantile(p float64) (float64, error) {
	if err := checkShare(p); err != nil {
		return 0, err
	}
	return d.largest * math.Pow(p, 1/d.m), nil
}

// Moment returns the mass-weighted mean of x^k, which exists for k > −m.
func (d GGS) Moment(k float64) (float64, error) {
	if err := checkOrder(k, -d.m); err != nil {
		return 0, err
	}
	return checkMoment(math.Pow(d.largest, k) * d.m / (d.m + k))
}
