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
	Normal    Family = "normal"     // temperatures, sound levels, log odds
	LogNormal Family = "log-normal" // positive numbers: rates, exponents, masses
	Logit     Family = "logit"      // shares strictly between 0 and 1
)

// tail is the standard normal quantile of 90 %: Φ⁻¹(0.9). Ranges are 10–90 %.
const tail = 1.2815515655446004

// Belief is what is thought of one parameter.
type Belief struct {
	Key      string        // stable name: "breakage_rate"
	Name     string        // code of its words: "mill.break_rate"
	About    string        // what the words are filled with; may be empty
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
func (b Belief) Quantile(p float64) float64 { return b.at(score(p)) }

// at returns the value z standard deviations from the median, on the belief's
// own normal scale.
func (b Belief) at(z float64) float64 {
	if b.known() {
		return b.Median
	}
	to, from := b.transform()
	return from(to(b.Median) + z*b.slope(z))
}

// slope is what a standard deviation comes to on the normal scale, on the side
// of the median where z lies.
func (b Belief) slope(z float64) float64 {
	if b.known() {
		return 0
	}
	to, _ := b.transform()
	if z < 0 {
		return (to(b.Median) - to(b.Low)) / tail
	}
	return (to(b.High) - to(b.Median)) / tail
}

// known reports whether the belief has no range.
func (b Belief) known() bool { return b.Family == Exact || b.Low == b.High }

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

// Rank is the share of the belief below a value: the inverse of Quantile. A
// known value ranks in the middle.
func (b Belief) Rank(value float64) float64 {
	if b.known() {
		return 0.5
	}
	to, _ := b.transform()
	z := to(value) - to(b.Median)
	return 0.5 * math.Erfc(-z/b.slope(z)/math.Sqrt2)
}
