package breakage

// How grains leave through the screen.

import (
	"math"

	"hopperful/process"
)

// Screen is the perforated sheet the product leaves the mill through.
type Screen struct {
	Hole      float64 // a, hole size [m], 63 µm to 0.1 m
	OpenShare float64 // open area over sheet area [–], 0 to 1
	Rate      float64 // D0, how often a grain meets the sheet [1/s], 0 to 1000
	// Hindrance is p in (1 − x/a)^p, 1 to 10; 0 takes 2, a grain that falls straight.
	// In a turning mill grains meet the sheet askew and fast, which hinders the large
	// ones most: 16 measured curves of two knife mills want 4.
	Hindrance float64
}

// hindrance is p.
func (s Screen) hindrance() float64 {
	if s.Hindrance == 0 {
		return straight
	}
	return s.Hindrance
}

// straight is the exponent of a grain that falls straight on a hole.
const straight = 2

func (s Screen) check() error {
	if err := process.Within("hole size", s.Hole, PanEdge, 0.1, "m", "judgement"); err != nil {
		return err
	}
	if err := process.Within("open area share", s.OpenShare, 0, 1, "", "own derivation"); err != nil {
		return err
	}
	if err := process.Within("screen rate", s.Rate, 0, 1000, "1/s", "judgement"); err != nil {
		return err
	}
	return process.Within("hindrance", s.hindrance(), 1, 10, "", "judgement")
}

// OpenShare returns the open area share of a screen pattern [–].
//
//	pattern  arrangement of the holes, one of the constants
//	hole     hole diameter or opening [m], hole > 0
//	pitch    distance between hole centres [m], pitch > hole
//
// Equation: hexagonal π/(2√3)·(hole/pitch)²; square pitch π/4·(hole/pitch)²; woven (hole/pitch)².
// Holds for: round holes (the first two) and square mesh (the third); the rim of the sheet without holes is extra.
// Source: own derivation.
// Errors: RangeError for hole ≤ 0 or pitch ≤ hole.
// Checks: OpenShare rows of checks.csv (4 own derivation).
func OpenShare(pattern Pattern, hole, pitch float64) (float64, error) {
	if err := process.Above("hole size", hole, 0, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("pitch", pitch, hole, "m", "own derivation"); err != nil {
		return 0, err
	}
	r := hole / pitch
	switch pattern {
	case Staggered:
		return math.Pi / (2 * math.Sqrt(3)) * r * r, nil
	case InRows:
		return math.Pi / 4 * r * r, nil
	}
	return r * r, nil
}

// Pattern is how the holes of a screen are arranged.
type Pattern int

// The patterns.
const (
	Staggered Pattern = iota // round holes, each with six neighbours at one pitch
	InRows                   // round holes on a square pitch
	Woven                    // square mesh; pitch = opening + wire
)

// LeavingRate returns the rate at which the grains of one class leave [1/s].
//
//	s       the screen, see its fields
//	lo, hi  edges of the class [m], 0 ≤ lo < hi
//
// Equation: D = D0·A_open · mean of (1 − x/a)^p over the class, 0 beyond a; p is the screen's
// hindrance, 2 where none is given; the mean is taken with the mass even in ln x, or even in x when lo = 0.
// Holds for: classes narrow enough to be well mixed. A class that a lies inside leaves as a whole, at the rate its finer part sets, so product may
// be credited to a class whose upper edge lies above the hole: it stops at the hole in truth.
// Source: Powderpedia2026 for one grain; own derivation of the mean; p = 4 by own fits to the curves of Lu2024.
// Errors: RangeError for a screen out of range, lo < 0 or hi ≤ lo.
// Checks: LeavingRate rows of checks.csv (3 second library, 2 own derivation); ScreenCurve rows (5 published).
func LeavingRate(s Screen, lo, hi float64) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := process.Within("lower edge", lo, 0, 10, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("upper edge", hi, lo, "m", "own derivation"); err != nil {
		return 0, err
	}
	return s.leaving(lo, hi), nil
}

func (s Screen) leaving(lo, hi float64) float64 {
	if lo >= s.Hole {
		return 0
	}
	p := s.hindrance()
	u, v := lo/s.Hole, min(hi/s.Hole, 1)
	if lo == 0 {
		return s.Rate * s.OpenShare * (1 - math.Pow(1-v, p+1)) / ((p + 1) * hi / s.Hole)
	}
	if p == straight {
		part := math.Log(v/u) - 2*(v-u) + (v*v-u*u)/2
		return s.Rate * s.OpenShare * part / math.Log(hi/lo)
	}
	// By five points of Gauss and Legendre over ln x.
	half := math.Log(v/u) / 2
	middle, sum := math.Sqrt(u*v), 0.0
	for k, at := range gaussAt {
		sum += gaussWeight[k] * math.Exp(p*math.Log(1-middle*math.Exp(half*at))) // a third of the time of math.Pow
	}
	return s.Rate * s.OpenShare * sum * half / math.Log(hi/lo)
}

// Places and weights of five points of Gauss and Legendre (from memory; their
// weights add up to 2, and they integrate polynomials up to the ninth degree).
var (
	gaussAt     = [5]float64{-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831, 0.9061798459386640}
	gaussWeight = [5]float64{0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891}
)
