package heat

// Still air around a pot.

import (
	"math"

	"hopperful/process"
)

// Constants of air and radiation.
const (
	gravity         = 9.80665     // standard gravity [m/s²], from memory (exact by convention)
	stefanBoltzmann = 5.670374e-8 // [W/(m² K⁴)], from memory (CODATA 2018)
	seaLevel        = 101325.0    // standard pressure [Pa], from memory (exact by convention)
	gasConstantAir  = 287.05      // of dry air [J/(kg K)], from memory
	specificHeatAir = 1007.0      // at constant pressure near 300 K [J/(kg K)], from memory
)

// AirState is dry air at sea level.
type AirState struct {
	Viscosity    float64 // kinematic viscosity ν [m²/s]
	Diffusivity  float64 // thermal diffusivity [m²/s]
	Conductivity float64 // thermal conductivity [W/(m K)]
	Prandtl      float64 // ν over thermal diffusivity [–]
}

// Air returns the properties of dry air at sea level that free convection needs.
//
//	t  temperature [K], 233.15 to 673.15
//
// Equation: Sutherland: µ = 1.458e-6 T^1.5/(T + 110.4); k = 0.0241 (T/273.15)^1.5 (467.15/(T + 194)); ρ = p/(R T).
// Holds for: −40 to 400 °C within about 1 to 2 %; convection at altitude is weaker.
// Source: from memory.
// Errors: RangeError for t outside −40 to 400 °C.
// Checks: Film rows of checks.csv (4 second library), through the coefficients they give.
func Air(t float64) (AirState, error) {
	if err := process.Within("air temperature", t, coldest, hottest, "K", "judgement"); err != nil {
		return AirState{}, err
	}
	mu := 1.458e-6 * math.Pow(t, 1.5) / (t + 110.4)
	k := 0.0241 * math.Pow(t/273.15, 1.5) * (273.15 + 194) / (t + 194)
	rho := seaLevel / (gasConstantAir * t)
	a := AirState{Viscosity: mu / rho, Diffusivity: k / (rho * specificHeatAir), Conductivity: k}
	a.Prandtl = a.Viscosity / a.Diffusivity
	return a, nil
}

// Rayleigh returns the Rayleigh number of a warm surface in air [–].
//
//	surface  temperature of the surface [K], 233.15 to 673.15
//	room     temperature of the air [K], 233.15 to 673.15
//	length   characteristic length [m], above 0 to 10
//
// Equation: Ra = g |T_s − T_∞| L³/(T_f ν a), properties at the film temperature T_f = (T_s + T_∞)/2.
// Holds for: ideal gas, expansion coefficient 1/T_f.
// Source: from memory.
// Errors: RangeError for an argument out of range.
// Checks: Film rows of checks.csv (4 second library).
func Rayleigh(surface, room, length float64) (float64, error) {
	if err := process.Within("surface temperature", surface, coldest, hottest, "K", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Within("air temperature", room, coldest, hottest, "K", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Within("characteristic length", length, 1e-4, 10, "m", "judgement"); err != nil {
		return 0, err
	}
	film := (surface + room) / 2
	a, err := Air(film)
	return gravity * math.Abs(surface-room) * length * length * length / (film * a.Viscosity * a.Diffusivity), err
}

// RadiationCoefficient returns the heat-transfer coefficient of radiation [W/(m² K)].
//
//	surface     temperature of the surface [K], above 0
//	room        temperature of what it sees [K], above 0
//	emissivity  emissivity of the surface [–], 0 to 1; painted 0.9, bright metal 0.1–0.3 (judgement)
//
// Equation: h = ε σ (T_s² + T_a²)(T_s + T_a), which is ε σ (T_s⁴ − T_a⁴)/(T_s − T_a).
// Holds for: a small body in a large room.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: Radiation rows of checks.csv (8 own derivation).
func RadiationCoefficient(surface, room, emissivity float64) (float64, error) {
	if err := process.Within("surface temperature", surface, coldest, hottest, "K", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Within("room temperature", room, coldest, hottest, "K", "judgement"); err != nil {
		return 0, err
	}
	if err := process.Within("emissivity", emissivity, 0, 1, "", "own derivation"); err != nil {
		return 0, err
	}
	return emissivity * stefanBoltzmann * (surface*surface + room*room) * (surface + room), nil
}
