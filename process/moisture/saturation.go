package moisture

// Vapour pressure over water and ice.

import (
	"math"

	"hopperful/process"
)

const (
	triplePoint = 273.16 // of water [K]; ice below, liquid above (BIPM2019)
	coldest     = 173.15 // lower end of the saturation formula [K]
	hottest     = 473.15 // its upper end [K]
)

// SaturationPressure returns the pressure of water vapour in equilibrium with
// ice (below 0.01 °C) or liquid water [Pa].
//
//	t  temperature [K], 173.15 to 473.15
//
// Equation: ln p = c1/T + c2 + c3 T + c4 T² + c5 T³ + c6 T⁴ + c7 ln T, one set of c for ice, one for liquid.
// Holds for: −100 to 200 °C; within 300 ppm of the handbook's table from −20 to 150 °C, 0.16 % at −60 °C. The two sets differ by 5e-5 where they meet.
// Source: Ashrae2017, ch. 1 eq. 5 and 6, coefficients as in MeyerThevenard2019.
// Errors: RangeError outside −100 to 200 °C.
// Checks: SaturationPressure rows of checks.csv (published table, second library, the other formula).
func SaturationPressure(t float64) (float64, error) {
	if err := process.Within("air temperature", t, coldest, hottest, "K", "Ashrae2017"); err != nil {
		return 0, err
	}
	return saturation(t), nil
}

func saturation(t float64) float64 {
	if t < triplePoint {
		return math.Exp(-5.6745359e3/t + 6.3925247 + t*(-9.677843e-3+t*(6.2215701e-7+t*(2.0747825e-9-9.484024e-13*t))) + 4.1635019*math.Log(t))
	}
	return math.Exp(-5.8002206e3/t + 1.3914993 + t*(-4.8640239e-2+t*(4.1764768e-5-1.4452093e-8*t)) + 6.5459673*math.Log(t))
}
