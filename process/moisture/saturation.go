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

// SaturationPressureIF97 returns the pressure of water vapour over liquid water
// by the industrial formulation [Pa]; the rows hold [SaturationPressure] against it.
//
//	t  temperature [K], 273.15 to 647.096
//
// Equation: p = 1 MPa · (2C/(−B + √(B² − 4AC)))⁴ with A, B, C quadratic in θ = T + n9/(T − n10).
// Holds for: liquid water from the freezing to the critical point.
// Source: Iapws2012, eq. 30; coefficients from memory, held to nine digits by its table 35.
// Errors: RangeError outside 273.15 to 647.096 K.
// Checks: SaturationPressureIF97 rows of checks.csv (3 published).
func SaturationPressureIF97(t float64) (float64, error) {
	if err := process.Within("temperature", t, 273.15, 647.096, "K", "Iapws2012"); err != nil {
		return 0, err
	}
	n := &if97
	th := t + n[9]/(t-n[10])
	a := th*th + n[1]*th + n[2]
	b := n[3]*th*th + n[4]*th + n[5]
	c := n[6]*th*th + n[7]*th + n[8]
	root := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return 1e6 * root * root * root * root, nil
}

// SaturationTemperatureIF97 returns the temperature at which water boils under a
// pressure [K].
//
//	p  pressure [Pa], 611.213 to 22.064e6
//
// Equation: θ from A' θ² + B' θ + C' = 0 with β = (p/1 MPa)^¼, solved for T.
// Holds for: liquid water from the freezing to the critical point.
// Source: Iapws2012, eq. 31; coefficients from memory, held to nine digits by its table 36.
// Errors: RangeError outside 611.213 Pa to 22.064 MPa.
// Checks: SaturationTemperatureIF97 rows of checks.csv (3 published).
func SaturationTemperatureIF97(p float64) (float64, error) {
	if err := process.Within("pressure", p, 611.213, 22.064e6, "Pa", "Iapws2012"); err != nil {
		return 0, err
	}
	n := &if97
	b := math.Sqrt(math.Sqrt(p / 1e6))
	e := b*b + n[3]*b + n[6]
	f := n[1]*b*b + n[4]*b + n[7]
	g := n[2]*b*b + n[5]*b + n[8]
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	s := n[10] + d
	return (s - math.Sqrt(s*s-4*(n[9]+n[10]*d))) / 2, nil
}

// if97 holds the coefficients n1 to n10 of region 4 at their own index.
var if97 = [11]float64{
	0,
	0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
	0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
}

// SaturationPressureMagnus returns the pressure of water vapour over liquid water
// by the short formula of weather stations [Pa].
//
//	t  temperature [K], 233.15 to 323.15
//
// Equation: p = 610.94 exp(17.625 ϑ/(243.04 + ϑ)), ϑ in °C.
// Holds for: −40 to 50 °C, supercooled water below 0 °C. It is 1.3 % high at 80 °C and 4 % at 120 °C, so it is refused at drying temperatures.
// Source: AlduchovEskridge1996; constants from memory.
// Errors: RangeError outside −40 to 50 °C.
// Checks: SaturationPressureMagnus rows of checks.csv (own derivation).
func SaturationPressureMagnus(t float64) (float64, error) {
	if err := process.Within("air temperature", t, 233.15, 323.15, "K", "AlduchovEskridge1996"); err != nil {
		return 0, err
	}
	c := t - 273.15
	return 610.94 * math.Exp(17.625*c/(243.04+c)), nil
}
