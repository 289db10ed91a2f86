package moisture

// No two grains of a bed dry alike.

import (
	"math"

	"hopperful/process"
)

// Seven nodes and weights of the Gauss–Hermite rule for a standard normal score.
var (
	unevenNodes   = [...]float64{-3.750439717725742, -2.366759410734541, -1.154405394739968, 0, 1.154405394739968, 2.366759410734541, 3.750439717725742}
	unevenWeights = [...]float64{5.482688559722179e-4, 3.075712396758651e-2, 0.2401231786050126, 0.4571428571428571, 0.2401231786050126, 3.075712396758651e-2, 5.482688559722179e-4}
)

// Uneven returns grains whose rates D/a² scatter about those of their sizes, as
// differences in crystals, in shape and in their place in the bed make them: the
// slow tail of every drying.
//
//	g       the grains, see its fields
//	spread  standard deviation of the logarithm of D/a² [–], 0 to 3
//
// Equation: each size d becomes seven of d e^(−s z/2), z and their shares from the Gauss–Hermite rule.
// Holds for: log-normal scatter; 1.0 fits a measured curve of PET pellets within a quarter (Stoughton2014).
// Source: own derivation.
// Errors: RangeError for arguments out of range, more than 28 sizes.
// Checks: Uneven rows of checks.csv (8 measurement).
func Uneven(g Grains, spread float64) (Grains, error) {
	if err := g.Check(); err != nil {
		return g, err
	}
	if err := process.Within("spread of the rates", spread, 0, 3, "", judged); err != nil {
		return g, err
	}
	if err := process.Within("size classes", float64(len(g.Size)), 1, float64(classes/len(unevenNodes)), "", judged); err != nil {
		return g, err
	}
	out := Grains{Shape: g.Shape}
	for i, d := range g.Size {
		for k, z := range unevenNodes {
			out.Size = append(out.Size, math.Min(math.Max(d*math.Exp(-spread*z/2), smallest), largest))
			out.Share = append(out.Share, g.Share[i]*unevenWeights[k])
		}
	}
	return out, nil
}
