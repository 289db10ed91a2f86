package moisture

// Short times: the far side of the grain is not felt yet.

import (
	"math"
)

// shortPlate is the half space with surface resistance, per half thickness.
// With z = B√F and E = exp(z²) erfc(z) it is (E − 1)/B + 2√(F/π).
func shortPlate(biot, f float64) float64 {
	if math.IsInf(biot, 1) {
		return 2 * math.Sqrt(f/math.Pi)
	}
	return biot * f * tail(biot*math.Sqrt(f), 2)
}

// shortSphere solves the half space for r·C, whose surface condition has h = B − 1
// and whose start is 1 − depth; own derivation.
func shortSphere(biot, f float64) float64 {
	s := math.Sqrt(f)
	if math.IsInf(biot, 1) {
		return 6*math.Sqrt(f/math.Pi) - 3*f
	}
	z := (biot - 1) * s
	if math.Abs(z) < 0.5 {
		return 3 * biot * f * (1 - biot*s*tail(z, 3))
	}
	return 3 * biot * f / (biot - 1) * (biot*tail(z, 2) - 1)
}

// shortCylinder is twice the plate; a free surface also feels its curvature.
func shortCylinder(biot, f float64) float64 {
	if math.IsInf(biot, 1) {
		return 4*math.Sqrt(f/math.Pi) - f - f*math.Sqrt(f)/(3*math.Sqrt(math.Pi))
	}
	return 2 * shortPlate(biot, f)
}

// tail is Σ_{k≥n} (−z)^(k−n)/Γ(1 + k/2) for n = 2 or 3: exp(z²) erfc(z) without
// its first terms, which would cancel.
func tail(z float64, n int) float64 {
	if math.Abs(z) < 0.5 {
		total, power := 0.0, 1.0
		for k := n; k < n+40; k++ {
			total += power / math.Gamma(1+float64(k)/2)
			power *= -z
		}
		return total
	}
	second := (scaledErfc(z) - 1 + 2*z/math.Sqrt(math.Pi)) / (z * z)
	if n == 2 {
		return second
	}
	return (1 - second) / z
}

// scaledErfc is exp(z²) erfc(z), by its asymptotic series where exp overflows.
func scaledErfc(z float64) float64 {
	if z < 20 {
		return math.Exp(z*z) * math.Erfc(z)
	}
	x := 1 / (2 * z * z)
	return (1 - x*(1-3*x*(1-5*x*(1-7*x)))) / (z * math.Sqrt(math.Pi))
}
