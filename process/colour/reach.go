package colour

// How near to a wanted colour an addition comes, and how much of it that needs.

import (
	"math"

	"hopperful/process"
)

// Reach is what an addition can do for a base.
type Reach struct {
	Share   float64 // with which the mix is nearest to the wanted colour [–]
	Off     float64 // colour difference there [–]
	Least   float64 // least share that comes within the limit [–]; 0 where none does, or none is needed
	Reached bool    // some share comes within the limit
}

// ReachOf looks for the share of an addition with which a base comes near to a
// wanted colour.
//
//	base, added  the two, against one common scattering
//	wanted       the colour for two degrees, see its fields
//	limit        colour difference that counts as near enough [–], 0.01 to 100
//	most         largest share looked at [–], 1e-4 to 1
//	s            the surface, see its fields
//
// Equation: Difference of Mixed from wanted on none and 120 shares from 1e-5 of most to most, log-spaced; the least by golden section, the first within the limit by halving.
// Holds for: well mixed melts; known to fail for strong concentrates, which tint less and less as more is added.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: ReachOf rows of checks.csv (identity).
func ReachOf(base, added Body, wanted Lab, limit, most float64, s Surface) (Reach, error) {
	var r Reach
	if err := process.Within("limit of the colour difference", limit, 0.01, 100, "", judged); err != nil {
		return r, err
	}
	if err := process.Within("largest share", most, 1e-4, 1, "", judged); err != nil {
		return r, err
	}
	if err := wanted.Check(); err != nil {
		return r, err
	}
	if _, err := Mixed([]Body{base, added}, []float64{1, 0}, s); err != nil {
		return r, err
	}
	off := func(share float64) float64 {
		lab, _ := LabOf(mixed([]Body{base, added}, []float64{1 - share, share}, s), TwoDegrees) // in range: the bodies are
		return difference(wanted, lab)
	}
	const grid = 120
	at := func(i int) float64 {
		if i < 0 {
			return 0
		}
		return most * math.Pow(10, 5*float64(min(i, grid)-grid)/grid)
	}
	best, last := -1, 0.0
	r.Off = off(0)
	r.Reached = r.Off <= limit
	for i := range grid + 1 {
		share := at(i)
		d := off(share)
		if d < r.Off {
			best, r.Off = i, d
		}
		if !r.Reached && d <= limit {
			r.Reached = true
			r.Least = halve(last, share, func(c float64) float64 { return limit - off(c) })
		}
		last = share
	}
	if best < 0 {
		return r, nil
	}
	r.Share = at(best)
	if share := golden(at(best-1), at(best+1), off); off(share) < r.Off {
		r.Share, r.Off = share, off(share)
	}
	if !r.Reached && r.Off <= limit { // within it only between two of the shares
		r.Reached = true
		r.Least = halve(at(best-1), r.Share, func(c float64) float64 { return limit - off(c) })
	}
	return r, nil
}
