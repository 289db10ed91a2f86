package melt

// The mean of repeated weighings and how sure it is.

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/process"
)

// mostRepeats bounds a series of weighings.
const mostRepeats = 1000

// Mean is an average of repeats with its scatter.
type Mean struct {
	Value   float64 // arithmetic mean
	Scatter float64 // standard deviation of one repeat, with n − 1
	Range   Span    // in which the true mean lies with 95 % confidence, by Student's t
	Spread  float64 // largest less smallest, over the mean [–]
	Count   int     // how many
}

// Average returns mean, scatter and 95 % confidence interval of repeats.
//
//	values  repeats of one measurement [any unit], 2 to 1000 of them, each 1e-30 to 1e12
//
// Equation: x̄ ± t(0.975, n−1) s/√n, s² = Σ(x − x̄)²/(n − 1).
// Holds for: independent repeats with about normal scatter; it knows nothing of an error all share, such as a scale that reads high.
// Source: from memory; the quantile of Student's t against Scipy2020.
// Errors: RangeError for fewer than 2 values or one out of range.
// Checks: Average rows of checks.csv (2 second library, 1 identity, 2 refusals).
func Average(values []float64) (Mean, error) {
	n := float64(len(values))
	if err := process.Within("number of repeats", n, 2, mostRepeats, "", "own derivation"); err != nil {
		return Mean{}, err
	}
	sum, least, most := 0.0, math.Inf(1), 0.0
	for _, v := range values {
		if err := process.Within("repeat", v, 1e-30, 1e12, "", "judgement"); err != nil {
			return Mean{}, err
		}
		sum, least, most = sum+v, min(least, v), max(most, v)
	}
	m := Mean{Value: sum / n, Spread: (most - least) / (sum / n), Count: len(values)}
	squares := 0.0
	for _, v := range values {
		squares += (v - m.Value) * (v - m.Value)
	}
	m.Scatter = math.Sqrt(squares / (n - 1))
	half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(0.975) * m.Scatter / math.Sqrt(n)
	m.Range = Span{m.Value - half, m.Value + half}
	return m, nil
}
