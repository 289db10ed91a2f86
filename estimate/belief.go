package estimate

import (
	"fmt"
	"math"

	"hopperful/process"
	"hopperful/quantity"
	"hopperful/source"
)

// Family is the shape of a belief.
type Family string

// The families.
const (
	Exact     Family = "exact"      // known: every draw is the median
	Normal    Family = "normal"     // temperatures, exponents
	LogNormal Family = "log-normal" // positive scale parameters
	Logit     Family = "logit"      // shares strictly between 0 and 1
)

// tail is the standard normal quantile of 90 %: Φ⁻¹(0.9). Ranges are 10–90 %.
const tail = 1.2815515655446004

// Belief is what is thought of one parameter.
type Belief struct {
	Key      string        // stable name: "breakage_rate"
	Name     string        // in words: "breakage rate of the mill"
	Kind     quantity.Kind // of the three numbers
	Family   Family
	Median   float64    // SI
	Low      float64    // SI, 10 %
	High     float64    // SI, 90 %
	Source   source.Ref // whose range it is
	Runs     int        // the shop's own runs behind it, 0: from books
	Records  []int64    // the shop's records behind it
	Assumed  bool       // nobody entered it; a default stands in
	FromUser bool       // the user entered it
}

// Check reports a belief whose numbers contradict its family.
func (b Belief) Check() error {
	for _, v := range []float64{b.Median, b.Low, b.High} {
		if err := process.Within(b.Name, v, math.Inf(-1), math.Inf(1), b.Kind.SI(), b.Source.Key); err != nil {
			return err
		}
	}
	if b.Low > b.Median || b.Median > b.High {
		return fmt.Errorf("%s: the range %g to %g does not hold the median %g", b.Name, b.Low, b.High, b.Median)
	}
	switch b.Family {
	case Exact, Normal:
	case LogNormal:
		return process.Above(b.Name, b.Low, 0, b.Kind.SI(), b.Source.Key)
	case Logit:
		if b.Low <= 0 || b.High >= 1 {
			return &process.RangeError{Name: b.Name, Value: b.Low, Lo: 0, Hi: 1, Source: b.Source.Key}
		}
	default:
		return fmt.Errorf("%s: unknown family %q", b.Name, b.Family)
	}
	return nil
}

// Quantile returns the value below which the share p of the belief lies.
// Between the median and either end of the range the belief is a half normal
// (after its transform) fitted to that end, so that a skewed range is kept.
func (b Belief) Quantile(p float64) float64 {
	if b.Family == Exact || b.Low == b.High {
		return b.Median
	}
	z := math.Sqrt2 * math.Erfinv(2*p-1)
	to, from := b.transform()
	mid := to(b.Median)
	spread := to(b.High) - mid
	if z < 0 {
		spread = mid - to(b.Low)
	}
	return from(mid + z/tail*spread)
}

// transform returns the family's map to the normal scale and back.
func (b Belief) transform() (to, from func(float64) float64) {
	switch b.Family {
	case LogNormal:
		return math.Log, math.Exp
	case Logit:
		return func(v float64) float64 { return math.Log(v / (1 - v)) },
			func(v float64) float64 { return 1 / (1 + math.Exp(-v)) }
	}
	same := func(v float64) float64 { return v }
	return same, same
}
