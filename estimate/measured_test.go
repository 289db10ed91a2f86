package estimate

import (
	"math"

	"hopperful/internal/checkrow"
	"hopperful/process/breakage"
)

// The books' mill, of which no run has spoken yet, held against the products of two
// real knife mills (Lu2024): what a shop is told on its first day.

// The feed of the measured runs: passing at [m] (Lu2024, files of the feed). That of the
// bench mill is not published; the same stands in.
var (
	feedAt      = []float64{0.006, 0.012, 0.01327, 0.01439, 0.01551, 0.0168, 0.01821, 0.02032, 0.02192, 0.02377, 0.031}
	feedPassing = []float64{0, 0.017, 0.059, 0.124, 0.183, 0.252, 0.342, 0.482, 0.634, 0.797, 1}
)

// firstDay grinds that feed to its end with the medians of the books, and gives what
// the row asks of the product.
func firstDay(in checkrow.Inputs) ([]float64, error) {
	books := Prior()
	row := books.Medians()
	row[Toughness], row[Hole] = 1, in.Num("hole")
	grid, err := breakage.NewGrid(feedAt[len(feedAt)-1])
	if err != nil {
		return nil, err
	}
	m, err := breakage.NewMill(grid, Kernel(row), Screen(row), Power(row, Load{Watts: 555, Spread: PowerSpread}), 1e-5)
	if err != nil {
		return nil, err
	}
	c := breakage.NewCharge(grid)
	below := 1.0
	for i := range grid.Classes() {
		share := logBetween(feedAt, feedPassing, grid.Lower(i))
		c.Held[i] = 0.15 * (below - share)
		below = share
	}
	if err := m.Run(c, 3000, nil); err != nil {
		return nil, err
	}
	hole := row[Hole]
	passing := func(x float64) (float64, error) {
		share := []float64{0}
		err := grid.Passing(c.Passed, []float64{x}, share)
		return share[0], err
	}
	switch in.Word("of") {
	case "fines":
		v, err := passing(0.0005)
		return []float64{v}, err
	case "coarse":
		v, err := passing(hole / 2)
		return []float64{1 - v}, err
	}
	// The size a share is finer than, over the hole, by halving.
	low, high := 1e-5, hole
	for range 60 {
		mid := math.Sqrt(low * high)
		v, err := passing(mid)
		if err != nil {
			return nil, err
		}
		if v < in.Num("share") {
			low = mid
		} else {
			high = mid
		}
	}
	return []float64{low / hole}, nil
}

// logBetween interpolates straight in ln x, flat beyond the ends.
func logBetween(x, y []float64, at float64) float64 {
	if at <= x[0] {
		return y[0]
	}
	for i := 1; i < len(x); i++ {
		if at <= x[i] {
			return y[i-1] + (y[i]-y[i-1])*math.Log(at/x[i-1])/math.Log(x[i]/x[i-1])
		}
	}
	return y[len(y)-1]
}
