package colour

// What the surface of a plastic does to light: Saunderson's correction.

import (
	"hopperful/process"
)

// Surface is how much light the boundary to the air sends back. The zero value
// is a surface that does nothing.
type Surface struct {
	Outside  float64 // share of light from outside sent back at once, k1 [–], 0 to 0.2
	Inside   float64 // share of light from inside sent back in, k2 [–], 0 to 0.8
	Included bool    // the gloss is in the reflectance; not in a photo that shows no glare
}

const (
	mostOutside = 0.2
	mostInside  = 0.8
)

// Check refuses a surface outside the ranges of its fields with a RangeError.
func (s Surface) Check() error {
	if err := process.Within("light sent back outside, k1", s.Outside, 0, mostOutside, "", judged); err != nil {
		return err
	}
	return process.Within("light sent back inside, k2", s.Inside, 0, mostInside, "", judged)
}

// PhotoSurface is the usual surface of plastic in a photo without glare: k1 0.04
// and k2 0.6 (from memory; theory gives 0.596 for a refractive index of 1.5).
func PhotoSurface() Surface { return Surface{Outside: 0.04, Inside: 0.6} }

// Below returns the reflectance the plastic has below its surface [–].
//
//	r  measured reflectance [–], k1 to 1 with the gloss, 0 to 1 − k1 without
//	s  the surface, see its fields
//
// Equation: with the gloss Ri = (R − k1)/(1 − k1 − k2 (1 − R)), without Ri = R/((1 − k1)(1 − k2) + k2 R).
// Holds for: a smooth surface in diffuse light. The form with the gloss makes nonsense of a photo: a dark colour would lie below k1.
// Source: Saunderson1942.
// Errors: RangeError for r no such surface can show, or a surface out of range.
// Checks: Below rows of checks.csv (own derivation, refusals).
func Below(r float64, s Surface) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	lo, hi := 0.0, 1-s.Outside
	if s.Included {
		lo, hi = s.Outside, 1
	}
	if !(r >= lo && r <= hi+1e-12) {
		return 0, process.Within("reflectance of such a surface", r, lo, hi, "", "Saunderson1942")
	}
	return s.below(r), nil
}

func (s Surface) below(r float64) float64 {
	k1, k2 := s.Outside, s.Inside
	if s.Included {
		return min(1, (r-k1)/(1-k1-k2*(1-r)))
	}
	return min(1, r/((1-k1)*(1-k2)+k2*r))
}

// Above returns the reflectance measured of a plastic [–].
//
//	ri  reflectance below the surface [–], 0 to 1
//	s   the surface, see its fields
//
// Equation: R = (1 − k1)(1 − k2) Ri/(1 − k2 Ri), and k1 more with the gloss.
// Holds for: as Below.
// Source: Saunderson1942.
// Errors: RangeError for ri or the surface out of range.
// Checks: Above rows of checks.csv (identity).
func Above(ri float64, s Surface) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("reflectance below the surface", ri, 0, 1, "", derived); err != nil {
		return 0, err
	}
	return s.above(ri), nil
}

func (s Surface) above(ri float64) float64 {
	k1, k2 := s.Outside, s.Inside
	r := (1 - k1) * (1 - k2) * ri / (1 - k2*ri)
	if s.Included {
		r += k1
	}
	return r
}
