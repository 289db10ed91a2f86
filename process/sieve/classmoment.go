// Means from counted grains and from mid-sizes: the ways of other handbooks.

package sieve

import (
	"fmt"
	"math"

	"hopperful/process"
)

// ClassMoment returns the mean of x^p over one class of counted grains [m^p].
//
//	p   order [1], −6 to 6
//	lo  lower edge [m], > 0
//	hi  upper edge [m], > lo
//
// Equation: (hi^(p+1) − lo^(p+1)) / ((p+1)(hi − lo)), ln(hi/lo)/(hi − lo) for p = −1.
// Holds for: number density even across the class; mid-sizes instead miss D32 by about 1 %.
// Source: ASTM2003, as reproduced in Fluids2026.
// Errors: RangeError for arguments out of range.
// Checks: ClassMoment rows of checks.csv (2 own derivation).
func ClassMoment(p, lo, hi float64) (float64, error) {
	if err := process.Within("order of the moment", p, -6, 6, "", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Above("lower edge", lo, 0, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("upper edge", hi, lo, "m", "own derivation"); err != nil {
		return 0, err
	}
	// With even density in x the class is even in ln x with weight x: the moment
	// is that of order p+1 over that of order 1.
	return logMoment(p+1, lo, hi) / logMoment(1, lo, hi), nil
}

// MeanFromCounts returns the mean diameter D_pq of counted grains [m].
//
//	edges   edges of the classes [m], > 0, rising, one more than counts
//	counts  grains in each class [1], ≥ 0, not all 0
//	p       upper order [1], −6 to 6
//	q       lower order [1], −6 to 6, at least 0.01 off p
//
// Equation: D_pq = (Σ n m_p / Σ n m_q)^(1/(p−q)), m_p as ClassMoment.
// Holds for: counts of a sample, classes as fine as one likes.
// Source: ASTM2003, as reproduced in Fluids2026.
// Errors: RangeError for arguments out of range, EntryError for lists that do not match.
// Checks: MeanFromCounts rows of checks.csv (7 published).
func MeanFromCounts(edges, counts []float64, p, q float64) (float64, error) {
	if err := process.Within("difference of the orders", math.Abs(p-q), 0.01, 12, "", "judgement"); err != nil {
		return 0, err
	}
	above, err := countMoments(edges, counts, p)
	if err != nil {
		return 0, err
	}
	below, err := countMoments(edges, counts, q)
	if err != nil {
		return 0, err
	}
	a, b := total(above), total(below)
	if err := process.Above("sum of the counts", b, 0, "", "own derivation"); err != nil {
		return 0, err
	}
	return math.Pow(a/b, 1/(p-q)), nil
}

// VolumeShares returns the share of volume in each class of counted grains [1].
//
//	edges   edges of the classes [m], > 0, rising, one more than counts
//	counts  grains in each class [1], ≥ 0, not all 0
//
// Equation: n_i m_3i / Σ n m_3, m_3 as ClassMoment of order 3.
// Holds for: grains of one density and shape.
// Source: ASTM2003, as reproduced in Fluids2026.
// Errors: RangeError for arguments out of range, EntryError for lists that do not match.
// Checks: VolumeShares rows of checks.csv (1 published).
func VolumeShares(edges, counts []float64) ([]float64, error) {
	v, err := countMoments(edges, counts, 3)
	if err != nil {
		return nil, err
	}
	sum := total(v)
	if err := process.Above("sum of the counts", sum, 0, "", "own derivation"); err != nil {
		return nil, err
	}
	for i := range v {
		v[i] /= sum
	}
	return v, nil
}

// countMoments returns n_i m_p of each class.
func countMoments(edges, counts []float64, p float64) ([]float64, error) {
	if len(edges) != len(counts)+1 || len(counts) == 0 {
		return nil, &EntryError{Code: WrongNumber, What: fmt.Sprintf("%d edges for %d classes", len(edges), len(counts)),
			Hint: "give one edge more than classes"}
	}
	out := make([]float64, len(counts))
	for i, n := range counts {
		if err := process.Within("count", n, 0, 1e15, "", "own derivation"); err != nil {
			return nil, err
		}
		m, err := ClassMoment(p, edges[i], edges[i+1])
		if err != nil {
			return nil, err
		}
		out[i] = n * m
	}
	return out, nil
}

// MeanOpening returns the mean of mid-sizes weighted by mass [m], as sheets for
// filter grains give it. It is kept to compare with such sheets; [MeanDiameter]
// is the better mean.
//
//	masses  mass in each class [kg], ≥ 0, the pan included
//	sizes   size that stands for each class [m], ≥ 0, 0 for the pan
//
// Equation: Σ m_i x_i / Σ m_i. The pan's mass counts in the sum below; leaving
// it out gives a larger mean.
// Holds for: narrow products with little in the pan.
// Source: CarbonSheet2026.
// Errors: RangeError for arguments out of range, EntryError for lists that do not match.
// Checks: MeanOpening rows of checks.csv (1 published, 1 own derivation).
func MeanOpening(masses, sizes []float64) (float64, error) {
	if len(masses) != len(sizes) || len(masses) == 0 {
		return 0, &EntryError{Code: WrongNumber, What: fmt.Sprintf("%d sizes for %d masses", len(sizes), len(masses)), Hint: "give one size a mass"}
	}
	var top, sum float64
	for i, m := range masses {
		if err := process.Within("mass", m, 0, 1e6, "kg", "judgement"); err != nil {
			return 0, err
		}
		if err := process.Within("size of a class", sizes[i], 0, 1, "m", "judgement"); err != nil {
			return 0, err
		}
		top += m * sizes[i]
		sum += m
	}
	if err := process.Above("sum of the masses", sum, 0, "kg", "own derivation"); err != nil {
		return 0, err
	}
	return top / sum, nil
}

func total(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum
}
