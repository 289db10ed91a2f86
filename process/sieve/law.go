// The three laws as a fit sees them: scale, shape, slopes, straight line.

package sieve

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Law names one of the laws that can be fitted.
type Law string

// The laws.
const (
	LawRRSB      Law = "RRSB"
	LawGGS       Law = "Gates–Gaudin–Schuhmann"
	LawLogNormal Law = "log-normal"
)

// of makes the distribution from scale and shape.
func (l Law) of(scale, shape float64) (Distribution, error) {
	switch l {
	case LawGGS:
		return NewGGS(scale, shape)
	case LawLogNormal:
		return NewLogNormal(scale, shape)
	}
	return NewRRSB(scale, shape)
}

// straight maps a passing share, 0 < q < 1, to the ordinate in which the law
// is a straight line over ln x that crosses zero at the scale.
func (l Law) straight(q float64) float64 {
	switch l {
	case LawGGS:
		return math.Log(q)
	case LawLogNormal:
		return mathext.NormalQuantile(q)
	}
	return math.Log(-math.Log1p(-q))
}

// shape turns the slope of that line into the law's shape.
func (l Law) shape(slope float64) float64 {
	if l == LawLogNormal {
		return 1 / slope
	}
	return slope
}

// passing returns the passing share at x with its slopes against the
// logarithms of scale and shape.
func (l Law) passing(x, lnScale, lnShape float64) (q, byScale, byShape float64) {
	shape := math.Exp(lnShape)
	u := math.Log(x) - lnScale
	switch l {
	case LawGGS:
		if u >= 0 {
			return 1, 0, 0
		}
		q = math.Exp(shape * u)
		return q, -shape * q, shape * u * q
	case LawLogNormal:
		u /= shape
		phi := math.Exp(-u*u/2) / math.Sqrt(2*math.Pi)
		return normalShare(u), -phi / shape, -phi * u
	}
	lnz := shape * u
	z := math.Exp(lnz)
	if z > 700 {
		return 1, 0, 0 // e^(−z) is zero to the last bit
	}
	rest := z * math.Exp(-z)
	return -math.Expm1(-z), -shape * rest, rest * lnz
}
