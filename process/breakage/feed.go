package breakage

// What goes in: the pieces of the feed, and how much of it a mill may be given.

import (
	"math"

	"hopperful/process"
)

// AddFeed adds fresh scrap to the class masses held.
//
//	g          the size classes, see Grid
//	held       class masses [kg], one a class
//	mass       mass of scrap [kg], mass ≥ 0
//	largest    largest dimension of the largest piece [m], up to the top of the grid
//	typical    size that half the mass is finer than [m], between thickness and largest
//	thickness  least size of a piece, the wall thickness of the prints [m], above 0
//
// Equation: share finer than x = (x^m − t^m)/(L^m − t^m) for t ≤ x ≤ L, with the m for which half is finer than typical;
// m = 1 at the middle of t and L, and even in ln x at their geometric mean.
// Holds for: prints broken by hand. The truncated Gates–Gaudin–Schuhmann form is a judgement; scrap of one size needs no form at all.
// Source: judgement.
// Errors: RangeError for a mass below 0 or sizes out of order or off the grid.
// Checks: FeedFiner rows of checks.csv (1 identity, 2 own derivation).
func AddFeed(g Grid, held []float64, mass, largest, typical, thickness float64) error {
	if err := sameLength("class masses", len(held), g.Classes()); err != nil {
		return err
	}
	if err := process.Within("mass of scrap", mass, 0, 1e4, "kg", "judgement"); err != nil {
		return err
	}
	if err := process.Within("largest piece", largest, PanEdge, g.Upper(0), "m", "own derivation"); err != nil {
		return err
	}
	share, err := feedShares(g, largest, typical, thickness)
	if err != nil {
		return err
	}
	for i := range held {
		held[i] += mass * share[i]
	}
	return nil
}

// feedShares is how much of the scrap is in each class.
func feedShares(g Grid, largest, typical, thickness float64) (share [mostClasses]float64, err error) {
	exponent, err := feedExponent(largest, typical, thickness)
	if err != nil {
		return share, err
	}
	coarser := 1.0
	for i := range g.upper {
		finer := 0.0
		if lo := g.Lower(i); lo > thickness {
			finer = feedFiner(exponent, lo, largest, thickness)
		}
		share[i] = coarser - finer
		coarser = finer
	}
	return share, nil
}

// Fill is [AddFeed] for a mill that is given the same scrap again and again: what of it is
// in which class is worked out once.
func (m *Mill) Fill(c *Charge, mass, largest, typical, thickness float64) error {
	if pieces := [3]float64{largest, typical, thickness}; m.pieces != pieces {
		if err := process.Within("largest piece", largest, PanEdge, m.grid.Upper(0), "m", "own derivation"); err != nil {
			return err
		}
		share, err := feedShares(m.grid, largest, typical, thickness)
		if err != nil {
			return err
		}
		m.pieces, m.fed = pieces, share
	}
	if err := sameLength("class masses", len(c.Held), m.grid.Classes()); err != nil {
		return err
	}
	if err := process.Within("mass of scrap", mass, 0, 1e4, "kg", "judgement"); err != nil {
		return err
	}
	for i := range c.Held {
		c.Held[i] += mass * m.fed[i]
	}
	return nil
}

// FeedFiner returns the mass share of fresh scrap finer than x [–].
//
//	x          size [m], x ≥ 0
//	largest    largest dimension of the largest piece [m], above typical
//	typical    size that half the mass is finer than [m], above thickness
//	thickness  least size of a piece [m], above 0
//
// Equation: that of AddFeed.
// Holds for: prints broken by hand; see AddFeed.
// Source: judgement.
// Errors: RangeError for x < 0 or sizes out of order.
// Checks: FeedFiner rows of checks.csv (1 identity, 2 own derivation).
func FeedFiner(x, largest, typical, thickness float64) (float64, error) {
	if err := process.Within("size", x, 0, math.MaxFloat64, "m", "own derivation"); err != nil {
		return 0, err
	}
	exponent, err := feedExponent(largest, typical, thickness)
	if err != nil {
		return 0, err
	}
	return feedFiner(exponent, x, largest, thickness), nil
}

func feedFiner(m, x, largest, thickness float64) float64 {
	switch {
	case x >= largest:
		return 1
	case x <= thickness:
		return 0
	}
	return finerAt(m, math.Log(x/thickness), math.Log(largest/thickness))
}

// finerAt is feedFiner of the logarithms of size and largest piece over thickness.
func finerAt(m, u, v float64) float64 {
	if math.Abs(m*v) < 1e-9 {
		return u / v
	}
	return math.Expm1(m*u) / math.Expm1(m*v)
}

// steepest bounds the feed exponent; beyond it nearly all mass is of one size.
const steepest = 60

// feedExponent finds m by bisection: the share finer than typical falls with m.
func feedExponent(largest, typical, thickness float64) (float64, error) {
	if err := process.Above("thickness", thickness, 0, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("typical piece", typical, thickness, "m", "own derivation"); err != nil {
		return 0, err
	}
	if err := process.Above("largest piece", largest, typical, "m", "own derivation"); err != nil {
		return 0, err
	}
	u, v := math.Log(typical/thickness), math.Log(largest/thickness)
	lo, hi := -float64(steepest), float64(steepest)
	for range 60 {
		mid := (lo + hi) / 2
		if finerAt(mid, u, v) > 0.5 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, nil
}
