// Distributions known class by class: sieved, or grown by a grinding model.

package sieve

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"hopperful/process"
)

// Discrete is a distribution known at some sizes, linear in ln x between
// them. What lies in the pan or above the top sieve has no size unless
// [Bounds] give it one.
type Discrete struct {
	edges   []float64 // [m], rising
	passing []float64 // mass share finer than each edge, not falling
}

// Bounds say how far the two open classes reach. Zero leaves one open: then a
// question that reaches into it is refused.
type Bounds struct {
	Floor   float64 // lower end of the pan [m], below the finest sieve
	Ceiling float64 // size of the largest grain [m], above the top sieve
}

// BeyondError says that the answer lies in an open class.
type BeyondError struct {
	Side string  // "below" or "above"
	Edge float64 // the edge beyond which it lies [m]
	Held float64 // mass share in the open class
}

// Error names the edge and what to do.
func (e *BeyondError) Error() string {
	if e.Side == "below" {
		return fmt.Sprintf("the answer lies below %s, in the pan with %.3g %% of the mass; add a finer sieve", name(e.Edge), 100*e.Held)
	}
	return fmt.Sprintf("the answer lies above %s, on the top sieve with %.3g %% of the mass; add a coarser sieve", name(e.Edge), 100*e.Held)
}

// closing is how far shares may miss 1 by rounding; more is a mistake of the caller.
const closing = 1e-6

// Within returns the distribution with its open classes bounded.
//
// Errors: RangeError for a floor not below the finest edge or a ceiling not
// above the coarsest.
func (d Discrete) Within(b Bounds) (Discrete, error) {
	out := Discrete{slices.Clone(d.edges), slices.Clone(d.passing)}
	if b.Floor != 0 {
		if err := process.Within("lower end of the pan", b.Floor, d.edges[0]*1e-6, d.edges[0]*(1-1e-9), "m", "own derivation"); err != nil {
			return d, err
		}
		out.edges = slices.Insert(out.edges, 0, b.Floor)
		out.passing = slices.Insert(out.passing, 0, 0)
	}
	if top := d.edges[len(d.edges)-1]; b.Ceiling != 0 {
		if err := process.Within("size of the largest grain", b.Ceiling, top*(1+1e-9), top*1e6, "m", "own derivation"); err != nil {
			return d, err
		}
		out.edges = append(out.edges, b.Ceiling)
		out.passing = append(out.passing, 1)
	}
	return out, nil
}

// pan and over are the shares without a size.
func (d Discrete) pan() float64  { return d.passing[0] }
func (d Discrete) over() float64 { return 1 - d.passing[len(d.passing)-1] }

func (d Discrete) below() error { return &BeyondError{"below", d.edges[0], d.pan()} }
func (d Discrete) above() error { return &BeyondError{"above", d.edges[len(d.edges)-1], d.over()} }

// Cumulative returns the mass share finer than x.
func (d Discrete) Cumulative(x float64) (float64, error) {
	if err := checkSize(x); err != nil {
		return 0, err
	}
	last := len(d.edges) - 1
	switch {
	case x < d.edges[0] && d.pan() > 0:
		return 0, d.below()
	case x > d.edges[last] && d.over() > 0:
		return 0, d.above()
	case x <= d.edges[0]:
		return d.passing[0], nil
	case x >= d.edges[last]:
		return d.passing[last], nil
	}
	i := sort.SearchFloat64s(d.edges, x) // edges[i−1] < x ≤ edges[i]
	if x == d.edges[i] {
		return d.passing[i], nil // to the last bit, as weighed
	}
	f := math.Log(x/d.edges[i-1]) / math.Log(d.edges[i]/d.edges[i-1])
	return d.passing[i-1] + f*(d.passing[i]-d.passing[i-1]), nil
}

// Density returns the slope of Cumulative [1/m]; at an edge that of the class above.
func (d Discrete) Density(x float64) (float64, error) {
	if _, err := d.Cumulative(x); err != nil {
		return 0, err
	}
	i := sort.Search(len(d.edges), func(i int) bool { return d.edges[i] > x }) // edges[i−1] ≤ x < edges[i]
	if i == 0 || i == len(d.edges) {
		return 0, nil
	}
	return (d.passing[i] - d.passing[i-1]) / (math.Log(d.edges[i]/d.edges[i-1]) * x), nil
}

// Quantile returns the smallest size below which the share p lies [m].
func (d Discrete) Quantile(p float64) (float64, error) {
	if err := checkShare(p); err != nil {
		return 0, err
	}
	last := len(d.edges) - 1
	switch {
	case p < d.pan():
		return 0, d.below()
	case p > d.passing[last]:
		return 0, d.above()
	case p == d.pan():
		return d.edges[0], nil
	}
	i := sort.SearchFloat64s(d.passing, p) // passing[i−1] < p ≤ passing[i]
	f := (p - d.passing[i-1]) / (d.passing[i] - d.passing[i-1])
	return d.edges[i-1] * math.Pow(d.edges[i]/d.edges[i-1], f), nil
}

// Moment returns the mass-weighted mean of x^k over the edges of the classes.
func (d Discrete) Moment(k float64) (float64, error) {
	if err := checkOrder(k, math.Inf(-1)); err != nil {
		return 0, err
	}
	switch {
	case d.pan() > 0:
		return 0, d.below()
	case d.over() > closing:
		return 0, d.above()
	}
	sum := 0.0
	for i := 1; i < len(d.edges); i++ {
		sum += (d.passing[i] - d.passing[i-1]) * logMoment(k, d.edges[i-1], d.edges[i])
	}
	return checkMoment(sum)
}

// logMoment is the mean of x^k over a class that is even in ln x.
func logMoment(k, lo, hi float64) float64 {
	if span := k * math.Log(hi/lo); math.Abs(span) > 1e-12 {
		return math.Pow(lo, k) * math.Expm1(span) / span
	}
	return math.Pow(lo, k) // the limit k → 0
}
