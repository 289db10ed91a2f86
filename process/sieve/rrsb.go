// The distribution of Rosin, Rammler, Sperling and Bennett.

package sieve

import (
	"math"

	"hopperful/process"
)

// RRSB is the law of Rosin, Rammler, Sperling and Bennett (DIN 66145, also
// known as Weibull's): what steady breakage leaves.
type RRSB struct {
	size, n float64
}

// NewRRSB returns the RRSB distribution.
//
//	size  x' with 63.2 % finer [m], > 0
//	n     uniformity [1], 0.05 to 50; small = wide
//
// Equation: Q3(x) = 1 − exp(−(x/x')^n).
// Holds for: ground and crushed goods of one breakage; product of first-order
// breakage has n = α and x' = (K t)^(−1/α) (Reid1965). D32 exists only for n > 1.
// Some pages print exp(−(x/x')^n) as passing; that is the share retained.
// Source: Brezani2011 (R as retained share), Reid1965.
// Errors: RangeError for a parameter out of range.
// Checks: RRSB rows of checks.csv (1 published, 5 second library, 1 own derivation).
func NewRRSB(size, n float64) (RRSB, error) {
	return RRSB{size, n}, checkLaw("size x'", size, "uniformity n", n)
}

// checkLaw holds scale and shape of a law against their ranges.
func checkLaw(scaleName string, scale float64, shapeName string, shape float64) error {
	if err := process.Within(scaleName, scale, 1e-9, 1e3, "m", "judgement"); err != nil {
		return err
	}
	return process.Within(shapeName, shape, 0.05, 50, "", "judgement")
}

// Cumulative returns the mass share finer than x.
func (d RRSB) Cumulative(x float64) (float64, error) {
	if err := checkSize(x); err != nil {
		return 0, err
	}
	return -math.Expm1(-math.Pow(x/d.size, d.n)), nil
}

// Density returns the slope of Cumulative [1/m].
func (d RRSB) Density(x float64) (float64, error) {
	if err := checkSize(x); err != nil {
		return 0, err
	}
	// (n/x) z e^(−z); at the far end z is infinite, its exponential wins.
	z := math.Pow(x/d.size, d.n)
	if z > 700 {
		return 0, nil
	}
	return d.n / x * z * math.Exp(-z), nil
}

// Quantile returns the size below which the share p lies [m].
func (d RRSB) Quantile(p float64) (float64, error) {
	if err := checkShare(p); err != nil {
		return 0, err
	}
	return d.size * math.Pow(-math.Log1p(-p), 1/d.n), nil
}

// Moment returns the mass-weighted mean of x^k, which exists for k > −n.
func (d RRSB) Moment(k float64) (float64, error) {
	if err := checkOrder(k, -d.n); err != nil {
		return 0, err
	}
	return checkMoment(math.Pow(d.size, k) * math.Gamma(1+k/d.n))
}
