package estimate

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Hypercube draws n joint values of independent beliefs by Latin hypercube
// sampling: each belief's range is cut into n slices of equal chance, each
// slice is used exactly once, and the slices are shuffled against each other.
// Quantiles of a forecast then settle with far fewer draws than by plain
// chance. Row i of the result holds draw i, one value a belief in their order.
//
// Source: McKay1979, section 2. The draws depend only on beliefs, n and rng.
func Hypercube(beliefs []Belief, n int, rng *rand.Rand) ([][]float64, error) {
	if n < 1 {
		return nil, fmt.Errorf("a plan needs at least one draw, not %d", n)
	}
	for _, b := range beliefs {
		if err := b.Check(); err != nil {
			return nil, err
		}
	}
	rows := stratified(n, len(beliefs), rng)
	for _, row := range rows {
		for j, b := range beliefs {
			row[j] = b.at(row[j])
		}
	}
	return rows, nil
}

// stratified draws n rows of independent standard normal scores, each column a
// Latin hypercube.
func stratified(n, width int, rng *rand.Rand) [][]float64 {
	all := make([]float64, n*width)
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = all[i*width : (i+1)*width]
	}
	for j := range width {
		for i, slice := range rng.Perm(n) {
			rows[i][j] = score((float64(slice) + rng.Float64()) / float64(n))
		}
	}
	return rows
}

// score is the standard normal quantile.
func score(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }
