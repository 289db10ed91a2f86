package moisture

// Short times: the far side of the grain is not felt yet.

import (
	"math"

	"hopperful/process"
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

// Centre returns how much of its excess water the middle of a grain still has
// [–], when the surface is at equilibrium at once. The middle dries last: the
// mean can be below the limit while the core is not.
//
//	shape  plate or sphere
//	f      Fourier number D t/a² [–], 0 to 1e9
//
// Equation: plate Σ ±4/((2n+1)π) exp(−(2n+1)²π²F/4), sphere 2 Σ (−1)^(n+1) exp(−n²π²F); up to F = 0.05 the first image of the half space.
// Holds for: constant diffusivity.
// Source: Crank1975, p. 48 and 91 as cited in Polykin2024.
// Errors: RangeError for a cylinder or a Fourier number out of range.
// Checks: Centre rows of checks.csv (published).
func Centre(shape Shape, f float64) (float64, error) {
	if shape != Plate && shape != Sphere {
		return 0, process.Within("shape (plate 0 or sphere 2)", float64(shape), float64(Plate), float64(Plate), "", derived)
	}
	if err := process.Within("Fourier number", f, 0, longest, "", judged); err != nil {
		return 0, err
	}
	if f < 0.05 {
		return shortCentre(shape, f), nil
	}
	total, sign := 0.0, 1.0
	for n := range 12 {
		k := float64(n)
		if shape == Plate {
			total += sign * 4 / ((2*k + 1) * math.Pi) * math.Exp(-(2*k+1)*(2*k+1)*math.Pi*math.Pi*f/4)
		} else {
			total += sign * 2 * math.Exp(-(k+1)*(k+1)*math.Pi*math.Pi*f)
		}
		sign = -sign
	}
	return total, nil
}

// shortCentre takes the first image only; the next is below exp(−9/4F).
func shortCentre(shape Shape, f float64) float64 {
	if f == 0 {
		return 1
	}
	if shape == Plate {
		return 1 - 2*math.Erfc(1/(2*math.Sqrt(f)))
	}
	return 1 - 2/math.Sqrt(math.Pi*f)*math.Exp(-1/(4*f))
}

// NearSurface returns how much of a change at the surface has reached a depth [–]:
// how deep room moisture has crept into a grain that lay open.
//
//	depth        below the surface [m], 0 to 0.1
//	diffusivity  of water in the plastic [m²/s], 1e-20 to 1e-6
//	time         since the surface changed [s], above 0 to 1e10
//
// Equation: erfc(x/(2√(D t))).
// Holds for: depths small against the grain.
// Source: Crank1975, as cited in Polykin2024.
// Errors: RangeError for arguments out of range.
// Checks: NearSurface row of checks.csv (published).
func NearSurface(depth, diffusivity, time float64) (float64, error) {
	if err := process.Within("depth", depth, 0, 0.1, "m", judged); err != nil {
		return 0, err
	}
	if err := process.Within("diffusivity", diffusivity, 1e-20, 1e-6, "m²/s", judged); err != nil {
		return 0, err
	}
	if err := process.Within("time", time, 1e-9, 1e10, "s", judged); err != nil {
		return 0, err
	}
	return math.Erfc(depth / (2 * math.Sqrt(diffusivity*time))), nil
}
