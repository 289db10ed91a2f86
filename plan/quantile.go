package plan

import (
	"slices"

	"hopperful/figure"
)

// quantile is the value below which a share of the draws lies.
func quantile(draws []float64, share float64) float64 {
	return figure.Quantile(slices.Sorted(slices.Values(draws)), share)
}
