// Beta and Student distributions as the tests for damage need them.

package sieve

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"hopperful/process"
)

// BetaFromQuantiles returns the parameters of the beta distribution with a
// given median and 90 % point [1].
//
//	median  half of the shares lie below it [1], 1e-4 to 0.5
//	upper   90 % of the shares lie below it [1], above 1.2 medians, below 1
//
// Equation: I_median(a, b) = 0.5 and I_upper(a, b) = 0.9, solved by bisection.
// Holds for: pairs some beta distribution has, with a between 0.1 and 1000.
// Source: own derivation.
// Errors: RangeError for arguments out of range or a pair no such distribution has.
// Checks: BetaFromQuantiles rows of checks.csv (2 second library).
func BetaFromQuantiles(median, upper float64) (a, b float64, err error) {
	if err := process.Within("median share", median, 1e-4, 0.5, "", "judgement"); err != nil {
		return 0, 0, err
	}
	if err := process.Within("90 % share", upper, 1.2*median, 1-1e-6, "", "judgement"); err != nil {
		return 0, 0, err
	}
	// For each a the b that puts the median right; then more a, less spread.
	other := func(a float64) float64 {
		return bisect(1e-3, 1e8, func(b float64) bool { return mathext.RegIncBeta(a, b, median) < 0.5 })
	}
	const least, most = 0.1, 1000.0
	a = bisect(least, most, func(a float64) bool { return mathext.RegIncBeta(a, other(a), upper) < 0.9 })
	if err := process.Within("first parameter of the beta distribution", a, least*1.001, most*0.999, "", "judgement"); err != nil {
		return 0, 0, err
	}
	return a, other(a), nil
}

// bisect returns where rising turns from true to false, on a logarithmic scale.
func bisect(lo, hi float64, rising func(float64) bool) float64 {
	for range 200 {
		mid := math.Sqrt(lo * hi)
		if rising(mid) {
			lo = mid
		} else {
			hi = mid
		}
		if hi/lo < 1+1e-14 {
			break
		}
	}
	return math.Sqrt(lo * hi)
}

// binomialTail returns P(K ≥ k) of n draws with chance s; k and n may be
// fractions, as masses turned into grains are.
func binomialTail(k, n, s float64) float64 {
	switch {
	case k <= 0 || s >= 1:
		return 1
	case s <= 0 || k > n:
		return 0
	}
	return mathext.RegIncBeta(k, n-k+1, s)
}

// poissonTail returns P(K ≥ k) for the mean λ.
func poissonTail(k int, mean float64) float64 {
	switch {
	case k <= 0:
		return 1
	case mean <= 0:
		return 0
	}
	return mathext.GammaIncReg(float64(k), mean)
}

// studentTail returns P(T > t) with df degrees of freedom.
func studentTail(t, df float64) float64 {
	half := mathext.RegIncBeta(df/2, 0.5, df/(df+t*t)) / 2
	if t < 0 {
		return 1 - half
	}
	return half
}
