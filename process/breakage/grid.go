package breakage

// The size classes of the balance.

import (
	"math"

	"hopperful/process"
)

// PanEdge is the opening below which everything is pan [m]: the finest sieve
// of the principal series.
const PanEdge = 63e-6

// largestGrid bounds the piece a bench mill could ever be asked about [m].
const largestGrid = 1.5

// Grid is a ladder of size classes in steps of √2 that starts at [PanEdge] and
// reaches up to the largest piece. Class 0 is the coarsest, the last is the
// pan. The zero Grid has no classes; make one with [NewGrid].
type Grid struct {
	upper []float64 // upper edges [m], descending; the last is PanEdge
}

// NewGrid returns the classes that hold pieces up to largest [m].
//
//	largest  largest dimension of the largest piece [m], 0.1 mm to 1.5 m
//
// Equation: x_i = 63 µm · 2^((n−1−i)/2), i = 0 … n−1, with the smallest n for which x_0 ≥ largest.
// Holds for: any charge; steps of √2 fall within 2 % of the principal sieve series.
// Source: own derivation.
// Errors: RangeError for largest outside 0.1 mm to 1.5 m.
// Checks: NewGrid rows of checks.csv (2 own derivation, 1 refusal).
func NewGrid(largest float64) (Grid, error) {
	if err := process.Within("largest piece", largest, 1e-4, largestGrid, "m", "judgement"); err != nil {
		return Grid{}, err
	}
	steps := int(math.Ceil(2*math.Log2(largest/PanEdge) - 1e-9))
	upper := make([]float64, steps+1)
	for i := range upper {
		upper[i] = PanEdge * math.Exp2(float64(steps-i)/2)
	}
	return Grid{upper}, nil
}

// Classes returns the number of classes, the pan among them.
func (g Grid) Classes() int { return len(g.upper) }

// Upper returns the upper edge of class i [m].
func (g Grid) Upper(i int) float64 { return g.upper[i] }

// Lower returns the lower edge of class i [m]; 0 for the pan.
func (g Grid) Lower(i int) float64 {
	if i == len(g.upper)-1 {
		return 0
	}
	return g.upper[i+1]
}

// Size returns the size that stands for class i [m]: the geometric mean of its
// edges, and half the edge for the pan.
func (g Grid) Size(i int) float64 {
	if i == len(g.upper)-1 {
		return g.upper[i] / 2
	}
	return math.Sqrt(g.upper[i] * g.upper[i+1])
}

// Passing fills share with the mass share of mass finer than each size [m]:
// linear in ln x inside a class, linear in x inside the pan. All shares are 0
// when there is no mass. It answers a RangeError when the lengths do not fit.
func (g Grid) Passing(mass, size, share []float64) error {
	if err := sameLength("class masses", len(mass), g.Classes()); err != nil {
		return err
	}
	if err := sameLength("shares", len(share), len(size)); err != nil {
		return err
	}
	total := sum(mass)
	for k, x := range size {
		share[k] = 0
		if total > 0 {
			share[k] = g.finer(mass, x) / total
		}
	}
	return nil
}

// finer returns the mass below size x [kg].
func (g Grid) finer(mass []float64, x float64) float64 {
	var below float64
	for i, m := range mass {
		lo, hi := g.Lower(i), g.upper[i]
		switch {
		case hi <= x:
			below += m
		case lo >= x:
		case lo == 0:
			below += m * max(x, 0) / hi
		default:
			below += m * math.Log(x/lo) / math.Log(hi/lo)
		}
	}
	return below
}

func sum(v []float64) float64 {
	var s float64
	for _, x := range v {
		s += x
	}
	return s
}

// sameLength refuses a slice whose length does not fit the grid.
func sameLength(name string, got, want int) error {
	if got == want {
		return nil
	}
	return &process.RangeError{Name: "number of " + name, Value: float64(got), Lo: float64(want), Hi: float64(want), Source: "own derivation"}
}
