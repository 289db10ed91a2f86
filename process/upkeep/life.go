package upkeep

import (
	"math"

	"hopperful/process"
)

// Lives are what is known of parts of one kind.
type Lives struct {
	Failed  []float64 // lives of parts that failed, in kilograms ground or hours, each above 0
	Running []float64 // what parts still in use, or taken out sound, have done so far, each above 0
}

// leastFailed is how many failures a law with two parameters needs.
const leastFailed = 2

func (l Lives) check() error {
	if err := process.Within("number of failed parts", float64(len(l.Failed)), leastFailed, 1e6, "", "own derivation"); err != nil {
		return err
	}
	for _, all := range [][]float64{l.Failed, l.Running} {
		for _, life := range all {
			if err := process.Within("life of a part", life, 1e-9, 1e12, "", "judgement"); err != nil {
				return err
			}
		}
	}
	return nil
}

// spread refuses lives that are all the same, to which no law has a width.
func (l Lives) spread() error {
	for _, life := range l.Failed[1:] {
		if life != l.Failed[0] {
			return nil
		}
	}
	return &process.RangeError{Name: "spread of the lives", Value: 0, Lo: math.SmallestNonzeroFloat64, Hi: math.Inf(1), Source: "own derivation"}
}

// Weibull is a fitted Weibull law.
type Weibull struct {
	Shape         float64 // β: below 1 early failures, above 1 wear [–]
	Scale         float64 // η: life by which 63.2 % have failed, in the unit of the lives
	LogLikelihood float64 // of the lives under it
}

// FitWeibull returns the Weibull law under which the lives are likeliest.
//
//	l  failed and running parts, see its fields [any one unit]
//
// Equation: Σ t^β ln t/Σ t^β − 1/β = mean of ln t over the failed; η = (Σ t^β/r)^(1/β); sums over all parts, r failed ones.
// Holds for: parts of one kind in like use. With fewer than about ten failures the shape reads high.
// Source: LiebleinZelen1956 for the data of the check; equations from memory.
// Errors: RangeError for fewer than two failures, lives not above 0 or all the same.
// Checks: FitWeibull rows of checks.csv (2 published, 1 second library).
func FitWeibull(l Lives) (Weibull, error) {
	if err := l.check(); err != nil {
		return Weibull{}, err
	}
	if err := l.spread(); err != nil {
		return Weibull{}, err
	}
	longest, mean := l.longest(), 0.0
	for _, t := range l.Failed {
		mean += math.Log(t/longest) / float64(len(l.Failed))
	}
	lo, hi := 1e-3, 1e3
	for range 200 {
		mid := math.Sqrt(lo * hi)
		if l.slope(mid, longest)-mean > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	w := Weibull{Shape: math.Sqrt(lo * hi)}
	sum, _ := l.powers(w.Shape, longest)
	w.Scale = longest * math.Pow(sum/float64(len(l.Failed)), 1/w.Shape)
	w.LogLikelihood = l.weibullLikelihood(w)
	return w, nil
}

func (l Lives) longest() float64 {
	top := 0.0
	for _, all := range [][]float64{l.Failed, l.Running} {
		for _, t := range all {
			top = max(top, t)
		}
	}
	return top
}

// powers are Σ u^β and Σ u^β ln u over all parts, u = t/longest.
func (l Lives) powers(shape, longest float64) (sum, logs float64) {
	for _, all := range [][]float64{l.Failed, l.Running} {
		for _, t := range all {
			u := math.Pow(t/longest, shape)
			sum += u
			logs += u * math.Log(t/longest)
		}
	}
	return sum, logs
}

// slope rises with the shape; where it meets the mean logarithm the likelihood
// is highest.
func (l Lives) slope(shape, longest float64) float64 {
	sum, logs := l.powers(shape, longest)
	return logs/sum - 1/shape
}

func (l Lives) weibullLikelihood(w Weibull) float64 {
	total := 0.0
	for _, t := range l.Failed {
		total += math.Log(w.Shape/w.Scale) + (w.Shape-1)*math.Log(t/w.Scale) - math.Pow(t/w.Scale, w.Shape)
	}
	for _, t := range l.Running {
		total -= math.Pow(t/w.Scale, w.Shape)
	}
	return total
}
