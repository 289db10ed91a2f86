// From the width a camera sees to the square hole a grain falls through.

package grain

import (
	"errors"
	"math"

	"hopperful/process"
)

// HoleElliptic returns the smallest square hole that a grain of elliptic section
// falls through, turned as it likes [m].
//
//	b  breadth of the section, the width seen from above [m], > 0
//	t  thickness [m], 0 to b
//
// Equation: D = √((b² + t²)/2).
// Holds for: ellipses turned by 45°, holes without the thickness of their wire.
// Source: own derivation; the form geomorphologists use.
// Errors: RangeError for b ≤ 0 or t outside 0 to b.
// Checks: HoleElliptic rows of checks.csv (3 identity, 2 refusals).
func HoleElliptic(b, t float64) (float64, error) {
	if err := section(b, t); err != nil {
		return 0, err
	}
	return math.Sqrt((b*b + t*t) / 2), nil
}

// HoleRectangular returns the same for a rectangular section, as a flake cut from
// a print's wall has [m].
//
//	b  breadth of the section, the width seen from above [m], > 0
//	t  thickness [m], 0 to b
//
// Equation: D = min(b, (b + t)/√2).
// Holds for: rectangles lying straight or turned by 45°.
// Source: own derivation.
// Errors: RangeError for b ≤ 0 or t outside 0 to b.
// Checks: HoleRectangular rows of checks.csv (3 identity, 2 refusals).
func HoleRectangular(b, t float64) (float64, error) {
	if err := section(b, t); err != nil {
		return 0, err
	}
	return min(b, (b+t)/math.Sqrt2), nil
}

func section(b, t float64) error {
	return errors.Join(process.Above("breadth", b, 0, "m", "own derivation"),
		process.Within("thickness", t, 0, b, "m", "own derivation"))
}

// Shape is the size of the hole a grain falls through as a share of its width: a
// median and what one standard deviation of its logarithm is.
type Shape struct {
	Median float64 // [1]
	Spread float64 // standard deviation of the logarithm [1]
}

// PriorShape is the shape before any lot was both sieved and photographed:
// between 0.7 and 1, as published for crushed stone, of which the middle stands
// for a grain about six tenths as thick as wide.
func PriorShape() Shape {
	// A uniform share between the two has this middle and deviation.
	const lo, hi = 0.7, 1.0
	mid := math.Sqrt(lo * hi)
	return Shape{mid, math.Log(hi/lo) / math.Sqrt(12)}
}

// pairSpread is how far a sieve and a photograph of one lot lie apart in the
// logarithm of d50 when the shape is known: the sampling of both. Judgement.
const pairSpread = 0.05

// LearnShape returns what is believed of the shape after lots that were both
// sieved and photographed.
//
//	prior   before them
//	ratios  sieved over photographed d50 of each lot, photographs at shape 1 [1]
//
// Equation: ln C normal; each ratio an independent reading of it with deviation 0.05.
// Holds for: one mill's grains. Different mills and plastics may have shapes of their own.
// Source: own derivation (normal conjugate update); the deviation is judgement.
// Errors: RangeError for a ratio outside 0.3 to 3.
// Checks: LearnShape rows of checks.csv (2 own derivation, 1 refusal).
func LearnShape(prior Shape, ratios []float64) (Shape, error) {
	weight := 1 / (prior.Spread * prior.Spread)
	sum := weight * math.Log(prior.Median)
	for _, r := range ratios {
		if err := process.Within("sieved over photographed", r, 0.3, 3, "", "judgement"); err != nil {
			return Shape{}, err
		}
		w := 1 / (pairSpread * pairSpread)
		weight += w
		sum += w * math.Log(r)
	}
	return Shape{math.Exp(sum / weight), 1 / math.Sqrt(weight)}, nil
}
