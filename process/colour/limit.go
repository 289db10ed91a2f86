package colour

// How much of a stray colour a lot bears, and what a photo of a mix teaches.

import (
	"math"

	"hopperful/process"
)

// MostStray returns the largest share of a stray colour that keeps a mix within
// a colour difference of the base [–]; 1 when any share does.
//
//	base, stray  the two, against one common scattering
//	limit        most colour difference ΔE00 [–], 0.01 to 100
//	s            the surface, see its fields
//
// Equation: the least c at which Difference(base, mix) reaches the limit, found on 200 shares from 1e-6 to 1 and by halving; two degrees.
// Holds for: well mixed melts; unmixed the base bears far more.
// Source: own derivation.
// Errors: RangeError for a limit, body or surface out of range.
// Checks: MostStray rows of checks.csv (identity).
func MostStray(base, stray Body, limit float64, s Surface) (float64, error) {
	if err := process.Within("limit of the colour difference", limit, 0.01, 100, "", judged); err != nil {
		return 0, err
	}
	pure, err := Mixed([]Body{base, stray}, []float64{1, 0}, s)
	if err != nil {
		return 0, err
	}
	want, err := LabOf(pure, TwoDegrees)
	if err != nil {
		return 0, err
	}
	off := func(share float64) float64 {
		lab, _ := LabOf(mixed([]Body{base, stray}, []float64{1 - share, share}, s), TwoDegrees) // in range: base was
		return difference(want, lab) - limit
	}
	const grid = 200
	low := 0.0
	for i := range grid + 1 {
		high := math.Pow(10, -6*float64(grid-i)/grid)
		if off(high) > 0 {
			return halve(low, high, off), nil
		}
		low = high
	}
	return 1, nil
}

// halve finds the zero of a function that is at most 0 at low and above it at
// high.
func halve(low, high float64, f func(float64) float64) float64 {
	for range 60 {
		mid := (low + high) / 2
		if f(mid) > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	return low
}

// LearnScatter returns how strongly a plastic scatters against the base [–],
// from the colour of a mix somebody looked at, and the colour difference that
// stays.
//
//	base   the body of the base
//	added  curve of the plastic [–], 0 to 1 in each band
//	share  its share in the mix [–], 1e-4 to 0.9999
//	seen   the colour of the mix for two degrees, see its fields
//	s      the surface, see its fields
//
// Equation: the scattering of 1/50 to 50 with the least Difference between Mixed and seen; 161 tries on a log scale, then by golden section.
// Holds for: well mixed; a mix that stayed streaky makes the plastic look weaker than it is.
// Source: own derivation.
// Errors: RangeError for a body, curve, share, colour or surface out of range.
// Checks: LearnScatter rows of checks.csv (identity).
func LearnScatter(base Body, added Curve, share float64, seen Lab, s Surface) (scatter, left float64, err error) {
	if err := process.Within("share in the mix", share, 1e-4, 0.9999, "", judged); err != nil {
		return 0, 0, err
	}
	if err := seen.Check(); err != nil {
		return 0, 0, err
	}
	if err := base.check(); err != nil {
		return 0, 0, err
	}
	plain, err := BodyOf(added, 1, s)
	if err != nil {
		return 0, 0, err
	}
	off := func(logScatter float64) float64 {
		b := plain
		for i := range b.K {
			b.S[i] *= math.Exp(logScatter)
			b.K[i] *= math.Exp(logScatter)
		}
		lab, _ := LabOf(mixed([]Body{base, b}, []float64{1 - share, share}, s), TwoDegrees) // in range: the bodies are
		return difference(seen, lab)
	}
	const tries = 160
	widest := math.Log(50)
	best, least := 0.0, math.Inf(1)
	for i := range tries + 1 {
		x := widest * (2*float64(i)/tries - 1)
		if d := off(x); d < least {
			best, least = x, d
		}
	}
	step := 2 * widest / tries
	x := golden(max(-widest, best-step), min(widest, best+step), off)
	return math.Exp(x), off(x), nil
}

// golden finds the least of a function with one valley between low and high.
func golden(low, high float64, f func(float64) float64) float64 {
	const g = 0.6180339887498949 // (√5 − 1)/2
	a, b := high-g*(high-low), low+g*(high-low)
	fa, fb := f(a), f(b)
	for range 60 {
		if fa < fb {
			high, b, fb = b, a, fa
			a = high - g*(high-low)
			fa = f(a)
		} else {
			low, a, fa = a, b, fb
			b = low + g*(high-low)
			fb = f(b)
		}
	}
	return (low + high) / 2
}
