// What one or two sieves can say about a size, and how little that is.

package sieve

import (
	"fmt"
	"math"
)

// Range is a value with the bounds between which it lies under the
// assumptions named where it is made.
type Range struct {
	Value, Low, High float64 // in the unit of what it is a range of: sizes [m], shares [1]
}

// The uniformity assumed of ground scrap when one sieve has to do: from a
// wide product to a narrow one (judgement).
const (
	usualUniformity  = 1.5
	widestUniformity = 0.8
	narrowUniformity = 3.0
)

// SimpleSize estimates a characteristic size from an analysis on one or two
// sieves [m].
//
//	a  the analysis, one or two sieves
//	p  share finer than the size asked for [1], 0 to 1 exclusive
//
// Equation: one sieve: RRSB through its passing with n = 1.5, bounds from n = 0.8
// and 3. Two sieves: RRSB through both; bounds from RRSB, GGS and log-normal
// through the same two points.
// Holds for: ground goods; between two sieves the bounds lie close, outside
// they part quickly, which is as much as two points can say.
// Source: own derivation; the range of n is judgement.
// Errors: RangeError for p; EntryError for more sieves (use Distribution) or when
// no sieve parts the sample.
// Checks: SimpleSize rows of checks.csv (2 own derivation, 2 refusals).
func SimpleSize(a Analysis, p float64) (Range, error) {
	if err := checkShare(p); err != nil {
		return Range{}, err
	}
	if len(a.Sieves) > 2 {
		return Range{}, &EntryError{Code: WrongNumber, What: fmt.Sprintf("%d sieves are no simple test", len(a.Sieves)), Hint: "take the size from the distribution"}
	}
	var x, q []float64 // of the sieves that part the sample, coarse first
	for i, s := range a.Sieves {
		if a.Passing[i] > 0 && a.Passing[i] < 1 {
			x, q = append(x, s.Opening), append(q, a.Passing[i])
		}
	}
	switch {
	case len(x) == 0:
		return Range{}, &EntryError{Code: NotReached, What: "all of the sample is on one side of each sieve", Hint: "take a sieve that holds back part of it"}
	case len(x) == 2 && q[0] > q[1]:
		if r, ok := throughTwo(x, q, p); ok {
			return r, nil
		}
	}
	return throughOne(x[0], q[0], p), nil
}

// throughOne turns one passing share into a size for three uniformities.
func throughOne(x, q, p float64) Range {
	at := func(n float64) float64 { return x * math.Pow(math.Log1p(-p)/math.Log1p(-q), 1/n) }
	wide, narrow := at(widestUniformity), at(narrowUniformity)
	return Range{at(usualUniformity), math.Min(wide, narrow), math.Max(wide, narrow)}
}

// throughTwo puts each law through two points.
func throughTwo(x, q []float64, p float64) (Range, bool) {
	r := Range{Low: math.Inf(1)}
	for _, law := range []Law{LawRRSB, LawGGS, LawLogNormal} {
		run := math.Log(x[0] / x[1])
		y := [2]float64{law.straight(q[0]), law.straight(q[1])}
		slope := (y[0] - y[1]) / run
		d, err := law.of(x[0]*math.Exp(-y[0]/slope), law.shape(slope))
		if err != nil {
			return Range{}, false
		}
		size, err := d.Quantile(p)
		if err != nil {
			return Range{}, false
		}
		if law == LawRRSB {
			r.Value = size
		}
		r.Low, r.High = math.Min(r.Low, size), math.Max(r.High, size)
	}
	return r, true
}
