package figure

import (
	"fmt"
	"math"
	"slices"

	"hopperful/quantity"
	"hopperful/source"
)

// The shares of draws below the ends of a figure's range.
const (
	lowShare  = 0.1
	highShare = 0.9
)

// Exact makes a figure of one value without a range.
func Exact(key, name string, kind quantity.Kind, value float64, basis Basis) Figure {
	return Figure{Key: key, Name: name, Kind: kind, Value: value, Low: value, High: value, Basis: basis}
}

// FromDraws makes a reckoned figure of draws: their median, and the quantiles
// below which 10 % and 90 % of them lie. It fails without draws and on a draw
// that is not finite. The draws keep their order.
func FromDraws(key, name string, kind quantity.Kind, draws []float64) (Figure, error) {
	if len(draws) == 0 {
		return Figure{}, fmt.Errorf("figure %s: there are no draws to take a range from", key)
	}
	for i, v := range draws {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Figure{}, fmt.Errorf("figure %s: draw %d of %d is not a finite number", key, i+1, len(draws))
		}
	}
	sorted := slices.Sorted(slices.Values(draws))
	return Figure{
		Key: key, Name: name, Kind: kind, Basis: Reckoned,
		Value: Quantile(sorted, 0.5), Low: Quantile(sorted, lowShare), High: Quantile(sorted, highShare),
	}, nil
}

// Quantile interpolates linearly between sorted values with the first at share
// 0 and the last at share 1 (HyndmanFan1996, type 7).
func Quantile(sorted []float64, share float64) float64 {
	h := share * float64(len(sorted)-1)
	i := int(h)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	// Weighting both ends cannot overflow where their difference might.
	w := h - float64(i)
	return math.Min(sorted[i+1], math.Max(sorted[i], (1-w)*sorted[i]+w*sorted[i+1]))
}

// From returns f with the formula it follows from and the figures that went in.
func (f Figure) From(how string, inputs ...Figure) Figure {
	f.How = how
	f.Inputs = slices.Concat(f.Inputs, inputs)
	return f
}

// Cite returns f with one more source.
func (f Figure) Cite(key, place string) Figure {
	f.Sources = slices.Concat(f.Sources, []source.Ref{{Key: key, Place: place}})
	return f
}

// Held returns f held against a limit.
func (f Figure) Held(limit Limit) Figure {
	f.Limit = &limit
	return f
}

// Warn returns f with one more thing to bear in mind.
func (f Figure) Warn(warning string) Figure {
	f.Warnings = slices.Concat(f.Warnings, []string{warning})
	return f
}

// LearnedFrom returns f marked as learned from so many of the shop's runs.
func (f Figure) LearnedFrom(runs int) Figure {
	f.Basis, f.Runs = Learned, runs
	return f
}
