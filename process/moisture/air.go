package moisture

// Moist air: humidity in its different clothes.

import (
	"hopperful/process"
)

const (
	gasConstant  = 8.314462618  // [J/(mol K)], BIPM2019
	molarWater   = 0.01801528   // molar mass of water [kg/mol], from memory
	freezing     = 273.15       // 0 °C [K]
	lowPressure  = 50e3         // lowest total pressure taken [Pa], about 5500 m above the sea
	highPressure = 120e3        // highest [Pa]
	judged       = "judgement"  // whose range it is where no source gives one
	handbook     = "Ashrae2017" // whose range it is
	derived      = "own derivation"
)

// VapourPressure returns the partial pressure of water in air [Pa].
//
//	t   temperature [K], 173.15 to 473.15
//	rh  relative humidity [–], 0 to 1
//
// Equation: p = φ p_sat(T).
// Holds for: air near atmospheric pressure; below 0.01 °C the humidity is over ice.
// Source: Ashrae2017, ch. 1.
// Errors: RangeError for a temperature or humidity out of range.
// Checks: VapourPressure rows of checks.csv (second library).
func VapourPressure(t, rh float64) (float64, error) {
	if err := process.Within("relative humidity", rh, 0, 1, "", derived); err != nil {
		return 0, err
	}
	p, err := SaturationPressure(t)
	return rh * p, err
}

// RelativeHumidity returns the relative humidity of air [–]. Heating air keeps
// its partial pressure, so this also says how dry heated room air is.
//
//	t       temperature [K], 173.15 to 473.15
//	vapour  partial pressure of water [Pa], 0 to p_sat(t)
//
// Equation: φ = p/p_sat(T).
// Holds for: air near atmospheric pressure that is not foggy.
// Source: Ashrae2017, ch. 1.
// Errors: RangeError for a temperature out of range or more vapour than saturation.
// Checks: RelativeHumidity rows of checks.csv (own derivation, second library).
func RelativeHumidity(t, vapour float64) (float64, error) {
	p, err := SaturationPressure(t)
	if err != nil {
		return 0, err
	}
	// A last digit of rounding above saturation is saturation.
	if vapour > p && vapour <= p*(1+1e-9) {
		return 1, nil
	}
	if err := process.Within("partial pressure of water", vapour, 0, p, "Pa", derived); err != nil {
		return 0, err
	}
	return vapour / p, nil
}

// DewPoint returns the temperature to which air has to cool until water
// condenses, or frost forms when that is below 0.01 °C [K].
//
//	vapour  partial pressure of water [Pa], 0.0014 to 1.55e6
//
// Equation: p_sat(T_d) = p, solved by bisection.
// Holds for: as SaturationPressure. Air without any water has no dew point and is refused.
// Source: Ashrae2017, ch. 1.
// Errors: RangeError where no dew point lies in −100 to 200 °C.
// Checks: DewPoint rows of checks.csv (second library, published example).
func DewPoint(vapour float64) (float64, error) {
	if err := process.Within("partial pressure of water", vapour, saturation(coldest), saturation(hottest), "Pa", handbook); err != nil {
		return 0, err
	}
	lo, hi := coldest, hottest
	for hi-lo > 1e-10 {
		mid := (lo + hi) / 2
		if mid <= lo || mid >= hi {
			break
		}
		if saturation(mid) < vapour {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, nil
}

// AbsoluteHumidity returns the mass of water in a volume of air [kg/m³].
//
//	t       temperature [K], 173.15 to 473.15
//	vapour  partial pressure of water [Pa], 0 to 1.56e6
//
// Equation: ρ_v = p M/(R T).
// Holds for: vapour as an ideal gas, right to 1 % up to 100 °C.
// Source: own derivation.
// Errors: RangeError for arguments out of range.
// Checks: AbsoluteHumidity rows of checks.csv (own derivation).
func AbsoluteHumidity(t, vapour float64) (float64, error) {
	if err := process.Within("air temperature", t, coldest, hottest, "K", handbook); err != nil {
		return 0, err
	}
	if err := process.Within("partial pressure of water", vapour, 0, 1.56e6, "Pa", handbook); err != nil {
		return 0, err
	}
	return vapour * molarWater / (gasConstant * t), nil
}
