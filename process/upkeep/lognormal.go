package upkeep

import "math"

// LogNormal is a fitted log-normal law.
type LogNormal struct {
	Median        float64 // life by which half have failed, in the unit of the lives
	Sigma         float64 // standard deviation of the natural logarithm of the lives [–]
	LogLikelihood float64 // of the lives under it
}

// FitLogNormal returns the log-normal law under which the lives are likeliest.
//
//	l  failed and running parts, see its fields [any one unit]
//
// Equation: mean and standard deviation (over n, not n − 1) of ln t; the logarithm of a running part counts as its mean beyond what it has done,
// μ + σ h, h = φ(z)/(1 − Φ(z)), z = (ln t − μ)/σ, until nothing changes (expectation and maximisation in turn).
// Holds for: parts of one kind in like use; fatigue and wear by many small steps.
// Source: LiebleinZelen1956 for the data of the check; equations from memory.
// Errors: RangeError for fewer than two failures, lives not above 0 or all the same.
// Checks: FitLogNormal rows of checks.csv (2 second library).
func FitLogNormal(l Lives) (LogNormal, error) {
	if err := l.check(); err != nil {
		return LogNormal{}, err
	}
	if err := l.spread(); err != nil {
		return LogNormal{}, err
	}
	n := float64(len(l.Failed) + len(l.Running))
	mu, sigma := l.logMoments()
	failed, failedSquare := 0.0, 0.0
	for _, t := range l.Failed {
		x := math.Log(t)
		failed += x
		failedSquare += x * x
	}
	running, counts := alike(l.Running)
	for i, t := range running {
		running[i] = math.Log(t)
	}
	for range 20000 {
		sum, square := failed, failedSquare
		for i, x := range running {
			z := (x - mu) / sigma
			h := hazard(z)
			sum += counts[i] * (mu + sigma*h)
			square += counts[i] * (mu*mu + sigma*sigma + 2*mu*sigma*h + sigma*sigma*z*h)
		}
		next := sum / n
		width := math.Sqrt(square/n - next*next)
		done := math.Abs(next-mu) < 1e-13 && math.Abs(width-sigma) < 1e-13
		if mu, sigma = next, width; done {
			break
		}
	}
	return LogNormal{Median: math.Exp(mu), Sigma: sigma, LogLikelihood: l.logNormalLikelihood(mu, sigma)}, nil
}

// logMoments are mean and standard deviation of the logarithms of the failed.
func (l Lives) logMoments() (mu, sigma float64) {
	r := float64(len(l.Failed))
	for _, t := range l.Failed {
		mu += math.Log(t) / r
	}
	for _, t := range l.Failed {
		d := math.Log(t) - mu
		sigma += d * d / r
	}
	return mu, math.Sqrt(sigma)
}

// hazard is φ(z)/(1 − Φ(z)), by its first terms where both vanish.
func hazard(z float64) float64 {
	if z > 30 {
		return z + 1/z
	}
	return math.Sqrt(2/math.Pi) * math.Exp(-z*z/2) / math.Erfc(z/math.Sqrt2)
}

func (l Lives) logNormalLikelihood(mu, sigma float64) float64 {
	total := 0.0
	for _, t := range l.Failed {
		z := (math.Log(t) - mu) / sigma
		total += -z*z/2 - math.Log(t*sigma*math.Sqrt(2*math.Pi))
	}
	for _, t := range l.Running {
		total += math.Log(math.Erfc((math.Log(t)-mu)/sigma/math.Sqrt2) / 2)
	}
	return total
}
