package melt

// Swell behind the nozzle, as a range.

import "math"

// Moduli are the usual elastic moduli of polymer melts in shear [Pa]: the
// stiffer, the less they swell. Judgement.
var Moduli = Span{2e4, 2e5}

// Swell returns the diameter of a strand over that of the nozzle, as a range [–].
//
//	stress  shear stress at the wall of the land [Pa], 0 to 5e5
//
// Equation: B = 0.13 + (1 + ½ S²)^(1/6), S = τ_w/G, G over Moduli.
// Holds for: long lands and slow, free strands, cold draw and short lands not counted; ±20 % at best; beyond the range strands break up. A line laid on a bed has
// the width that volume gives it: never scale line width by B.
// Source: from memory, after Tanner with the Newtonian swell of 1.13.
// Errors: RangeError for a stress out of range.
// Checks: Swell rows of checks.csv (2 from memory, 1 refusal).
func Swell(stress float64) (Span, error) {
	if err := within(quantityIn{"shear stress at the wall", stress, 0, 5e5, "Pa"}); err != nil {
		return Span{}, err
	}
	at := func(modulus float64) float64 {
		s := stress / modulus
		return 0.13 + math.Pow(1+s*s/2, 1.0/6)
	}
	return Span{at(Moduli.High), at(Moduli.Low)}, nil
}
