// The logarithmic normal distribution.

package sieve

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// LogNormal is the logarithmic normal distribution: what many independent
// cuts of random depth leave.
type LogNormal struct {
	median, s float64
}

// NewLogNormal returns the log-normal distribution.
//
//	median  x50 by mass [m], > 0
//	s       standard deviation of ln x [1], 0.05 to 50; e^s = x84/x50
//
// Equation: Q3(x) = Φ(ln(x/x50)/s).
// Holds for: goods cut many times at random; fewer fines than RRSB of the same median.
// Source: ISO2014 (part 5), values as in Fluids2026.
// Errors: RangeError for a parameter out of range.
// Checks: LogNormal rows of checks.csv (3 published, 1 second library).
func NewLogNormal(median, s float64) (LogNormal, error) {
	return LogNormal{median, s}, checkLaw("median size", median, "width s", s)
}

// Number returns the distribution of the number of grains instead of their
// mass; it is log-normal too, with median x50 e^(−3s²).
func (d LogNormal) Number() LogNormal {
	return LogNormal{d.median * math.Exp(-3*d.s*d.s), d.s}
}

// Cumulative returns the mass share finer than x.
func (d LogNormal) Cumulative(x float64) (float64, error) {
	if err := checkSize(x); err != nil {
		return 0, err
	}
	return normalShare(math.Log(x/d.median) / d.s), nil
}

// Density returns the slope of Cumulative [1/m].
func (d LogNormal) Density(x float64) (float64, error) {
	if err := checkSize(x); err != nil {
		return 0, err
	}
	u := math.Log(x/d.median) / d.s
	return math.Exp(-u*u/2) / (math.Sqrt(2*math.Pi) * d.s * x), nil
}

// Quantile returns the size below which the share p lies [m].
func (d LogNormal) Quantile(p float64) (float64, error) {
	if err := checkShare(p); err != nil {
		return 0, err
	}
	return d.median * math.Exp(d.s*mathext.NormalQuantile(p)), nil
}

// Moment returns the mass-weighted mean of x^k, which exists for every k.
func (d LogNormal) Moment(k float64) (float64, error) {
	if err := checkOrder(k, math.Inf(-1)); err != nil {
		return 0, err
	}
	return checkMoment(math.Pow(d.median, k) * math.Exp(k*k*d.s*d.s/2))
}

// normalShare is Φ, accurate in both tails.
func normalShare(u float64) float64 { return math.Erfc(-u/math.Sqrt2) / 2 }
