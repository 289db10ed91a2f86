package moisture

// Roots of the three boundary conditions, and zeros of the Bessel functions.

import (
	"math"
	"sync"

	"hopperful/process"
)

// Root returns the n-th positive root β of a grain's boundary condition [–]; the
// water leaves as a sum of exp(−β² F).
//
//	shape  plate, cylinder or sphere
//	biot   Biot number k a/D [–], 1e-6 to 1e9, or +Inf for a surface at equilibrium
//	n      which root [–], 1 to 700
//
// Equation: plate β tan β = B; cylinder β J1(β) = B J0(β); sphere β cot β + B − 1 = 0.
// Holds for: constant diffusivity.
// Source: Crank1975, p. 60 and 96 as cited in Polykin2024; cylinder from memory.
// Errors: RangeError for an unknown shape, a Biot number or n out of range.
// Checks: Root rows of checks.csv (second library, identity).
func Root(shape Shape, biot float64, n int) (float64, error) {
	if err := checkBody(shape, biot); err != nil {
		return 0, err
	}
	if err := process.Within("number of the root", float64(n), 1, float64(manyTerms), "", judged); err != nil {
		return 0, err
	}
	return root(shape, biot, n), nil
}

func root(shape Shape, biot float64, n int) float64 {
	k := float64(n)
	free := math.IsInf(biot, 1)
	switch shape {
	case Plate:
		if free {
			return (k - 0.5) * math.Pi
		}
		return between((k-1)*math.Pi, (k-0.5)*math.Pi, func(b float64) float64 { return b*math.Sin(b) - biot*math.Cos(b) })
	case Sphere:
		if free {
			return k * math.Pi
		}
		return between((k-1)*math.Pi, k*math.Pi, func(b float64) float64 {
			if b == 0 {
				return biot // the limit of the function below over β
			}
			return b*math.Cos(b) + (biot-1)*math.Sin(b)
		})
	}
	zeros := besselZeros()
	if free {
		return zeros.j0[n-1]
	}
	lo := 0.0
	if n > 1 {
		lo = zeros.j1[n-2]
	}
	return between(lo, zeros.j0[n-1], func(b float64) float64 { return b*math.J1(b) - biot*math.J0(b) })
}

// between finds the root of f in an interval over which it changes sign: regula
// falsi that halves the value at an end that stays twice (Illinois), which never
// leaves the bracket.
func between(lo, hi float64, f func(float64) float64) float64 {
	flo, fhi, last, side := f(lo), f(hi), math.Inf(1), 0
	for range 200 {
		mid := hi - fhi*(hi-lo)/(fhi-flo)
		if !(mid > lo && mid < hi) {
			mid = (lo + hi) / 2
		}
		// Two answers alike to the last digits end it; one end of the bracket may stay far.
		if math.Abs(mid-last) <= 4e-15*mid {
			return mid
		}
		last = mid
		fm := f(mid)
		switch {
		case fm == 0:
			return mid
		case (fm > 0) == (fhi > 0):
			hi, fhi = mid, fm
			if side > 0 {
				flo /= 2
			}
			side = 1
		default:
			lo, flo = mid, fm
			if side < 0 {
				fhi /= 2
			}
			side = -1
		}
	}
	return last
}

type zeros struct{ j0, j1 [manyTerms]float64 }

// besselZeros finds the zeros once: McMahon's expansion as a start, then Newton.
var besselZeros = sync.OnceValue(func() *zeros {
	z := &zeros{}
	for i := range z.j0 {
		b := (float64(i) + 0.75) * math.Pi
		x := b + 1/(8*b)
		for range 6 {
			x += math.J0(x) / math.J1(x)
		}
		z.j0[i] = x
		b = (float64(i) + 1.25) * math.Pi
		x = b - 3/(8*b)
		for range 6 {
			x -= math.J1(x) / (math.J0(x) - math.J1(x)/x)
		}
		z.j1[i] = x
	}
	return z
})
