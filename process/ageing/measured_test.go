package ageing

import (
	"fmt"
	"math"

	"hopperful/internal/checkrow"
)

// A study held against all the others: what a pass is said to do by those, at the
// passes this one made. A study is no witness of itself.

var measuredRows = map[string]checkrow.Func{"LeftOut": leftOut, "Blended": blended}

func leftOut(in checkrow.Inputs) ([]float64, error) {
	_, found, err := PerPass(in.Word("polymer"), Property(in.Word("property")))
	if err != nil {
		return nil, err
	}
	var rest []Study
	for _, s := range found {
		if s.Source != in.Word("without") {
			rest = append(rest, s)
		}
	}
	if len(rest) == 0 {
		return nil, fmt.Errorf("no study is left")
	}
	return []float64{math.Pow(pool(rest).Median, in.Num("passes"))}, nil
}

// blended is the strength of a print with a share of regrind of so many passes
// over that of another share.
func blended(in checkrow.Inputs) ([]float64, error) {
	f, _, err := PerPass(in.Word("polymer"), TensileStrength)
	if err != nil {
		return nil, err
	}
	of := func(share float64) (float64, error) {
		return Retained(Age{Shares: []float64{1 - share, share}}, f.Median)
	}
	a, err := of(in.Num("share"))
	if err != nil {
		return nil, err
	}
	b, err := of(in.Num("over"))
	return []float64{a / b}, err
}
