// What every size distribution can say, and what follows from it.

package sieve

import (
	"errors"
	"math"

	"hopperful/process"
)

// Distribution is the distribution of mass over grain size. All four answer
// with an error, never a NaN, where they have no answer.
type Distribution interface {
	// Cumulative returns the mass share finer than x [m].
	Cumulative(x float64) (float64, error)
	// Density returns the slope of Cumulative at x [1/m].
	Density(x float64) (float64, error)
	// Quantile returns the size below which the share p lies [m].
	Quantile(p float64) (float64, error)
	// Moment returns the mass-weighted mean of x^k [m^k].
	Moment(k float64) (float64, error)
}

// Size is one characteristic size, or the bound that is all one knows of it.
type Size struct {
	Share float64 // mass share finer
	Value float64 // [m]; where Side is not "" the edge beyond which it lies
	Side  string  // "", "below" (in the pan) or "above" (beyond the top sieve)
}

// Known reports whether Value is the size itself.
func (s Size) Known() bool { return s.Side == "" }

// Ratio is a number made of sizes; it is not known when one of them is not.
type Ratio struct {
	Value float64 // [1]; 0 when not known
	Known bool
}

// Sizes are the characteristic sizes of a distribution.
type Sizes struct {
	D10, D16, D50, D60, D84, D90 Size
	Span                         Ratio // (d90 − d10)/d50
	Uniformity                   Ratio // d60/d10
	Curvature                    Ratio // d30²/(d10 d60)
}

// Describe returns the characteristic sizes of a distribution. A size in the
// pan or above the top sieve is given as that bound; the ratios it enters are
// then not known.
//
//	d  the distribution
//
// Equation: Q3(d_p) = p for 10, 16, 50, 60, 84 and 90 %; span = (d90 − d10)/d50,
// uniformity = d60/d10, curvature = d30²/(d10 d60).
// Holds for: any distribution; between sieves as its own interpolation does.
// Source: definitions of span, uniformity and curvature as in Holooly2026.
// Errors: only what the distribution itself refuses for other reasons.
// Checks: Describe rows of checks.csv (second library on published data).
func Describe(d Distribution) (Sizes, error) {
	var s Sizes
	var d30 Size
	for _, one := range []struct {
		p  float64
		at *Size
	}{{0.1, &s.D10}, {0.16, &s.D16}, {0.3, &d30}, {0.5, &s.D50}, {0.6, &s.D60}, {0.84, &s.D84}, {0.9, &s.D90}} {
		size, err := sizeAt(d, one.p)
		if err != nil {
			return Sizes{}, err
		}
		*one.at = size
	}
	if s.D10.Known() && s.D50.Known() && s.D90.Known() {
		s.Span = Ratio{(s.D90.Value - s.D10.Value) / s.D50.Value, true}
	}
	if s.D10.Known() && s.D60.Known() {
		s.Uniformity = Ratio{s.D60.Value / s.D10.Value, true}
		if d30.Known() {
			s.Curvature = Ratio{d30.Value * d30.Value / (s.D10.Value * s.D60.Value), true}
		}
	}
	return s, nil
}

// sizeAt is a quantile or the bound that stands for it.
func sizeAt(d Distribution, p float64) (Size, error) {
	x, err := d.Quantile(p)
	if err == nil {
		return Size{Share: p, Value: x}, nil
	}
	if beyond := (*BeyondError)(nil); errors.As(err, &beyond) {
		return Size{Share: p, Value: beyond.Edge, Side: beyond.Side}, nil
	}
	return Size{}, err
}

// FinesShare returns the mass share finer than a limit [1].
//
//	d      the distribution
//	limit  size below which grains count as fines [m], > 0
//
// Equation: Q3(limit).
// Holds for: any limit the distribution reaches.
// Source: own derivation (definition).
// Errors: RangeError for limit ≤ 0; BeyondError for a limit in the pan or above the top sieve.
// Checks: FinesShare rows of checks.csv (1 second library, 1 refusal).
func FinesShare(d Distribution, limit float64) (float64, error) { return d.Cumulative(limit) }

// OversizeShare returns the mass share coarser than a limit [1].
//
//	d      the distribution
//	limit  size above which grains count as oversize [m], > 0
//
// Equation: 1 − Q3(limit).
// Holds for: any limit the distribution reaches.
// Source: own derivation (definition).
// Errors: RangeError for limit ≤ 0; BeyondError for a limit in the pan or above the top sieve.
// Checks: OversizeShare rows of checks.csv (1 second library).
func OversizeShare(d Distribution, limit float64) (float64, error) {
	q, err := d.Cumulative(limit)
	return 1 - q, err
}

// MeanDiameter returns the mean diameter D_pq of a mass distribution [m]:
// D32 is Sauter's, D43 the mass mean, D10 the number mean.
//
//	d  the distribution
//	p  upper order [1], −6 to 6
//	q  lower order [1], −6 to 6, at least 0.01 off p
//
// Equation: D_pq = (M_(p−3) / M_(q−3))^(1/(p−q)), M_k the mass-weighted mean of x^k.
// Holds for: every distribution whose two moments exist; RRSB has M_k only for k > −n.
// Source: ISO2014 (moment notation, from memory).
// Errors: RangeError for orders out of range or equal, and where a moment does not exist.
// Checks: MeanDiameter, LogNormal and DiscreteMean rows of checks.csv (1 published, 1 second library, 1 own derivation, refusals).
func MeanDiameter(d Distribution, p, q float64) (float64, error) {
	for _, k := range []float64{p, q} {
		if err := process.Within("order of the mean", k, -6, 6, "", "judgement"); err != nil {
			return 0, err
		}
	}
	if err := process.Within("difference of the orders", math.Abs(p-q), 0.01, 12, "", "judgement"); err != nil {
		return 0, err
	}
	above, err := d.Moment(p - 3)
	if err != nil {
		return 0, err
	}
	below, err := d.Moment(q - 3)
	if err != nil {
		return 0, err
	}
	return math.Pow(above/below, 1/(p-q)), nil
}

// checkSize holds a size against its range.
func checkSize(x float64) error { return process.Above("grain size", x, 0, "m", "own derivation") }

// checkShare holds a share strictly between 0 and 1.
func checkShare(p float64) error {
	if p > 0 && p < 1 {
		return nil
	}
	return &process.RangeError{Name: "share finer", Value: p, Lo: 0, Hi: 1, Source: "own derivation"}
}

// checkOrder holds the order of a moment against its range and against the
// lowest for which the moment exists.
func checkOrder(k, lowest float64) error {
	if err := process.Within("order of the moment", k, -10, 10, "", "judgement"); err != nil {
		return err
	}
	return process.Above("order of the moment (a lower one does not exist)", k, lowest, "", "own derivation")
}

// checkMoment refuses a moment too large or too small for a double.
func checkMoment(m float64) (float64, error) {
	return m, process.Above("moment", m, 0, "m^k", "own derivation")
}
