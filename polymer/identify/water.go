package identify

import "hopperful/process"

// zero is 0 °C [K].
const zero = 273.15

// The temperatures the liquids are good for [K]: what a workshop has.
const (
	coldest = zero + 10
	warmest = zero + 35
)

// WaterDensity returns the density of water without air in it [kg/m³].
//
//	T  temperature [K], 273.15 to 313.15
//
// Equation: ρ = a5 (1 − (t + a1)² (t + a2)/(a3 (t + a4))), t in °C.
// Holds for: pure water at 101.325 kPa; tap water reads up to 0.5 kg/m³ higher.
// Source: Tanaka2001
// Errors: RangeError outside 0 to 40 °C.
// Checks: WaterDensity rows of checks.csv (2 published, 1 error).
func WaterDensity(T float64) (float64, error) {
	if err := process.Within("water temperature", T, zero, zero+40, "K", "Tanaka2001"); err != nil {
		return 0, err
	}
	const a1, a2, a3, a4, a5 = -3.983035, 301.797, 522528.9, 69.34881, 999.974950
	t := T - zero
	return a5 * (1 - (t+a1)*(t+a1)*(t+a2)/(a3*(t+a4))), nil
}
