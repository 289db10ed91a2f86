package heat

// The classical bodies: one lumped, one with a source, two exchanging heat.

import (
	"math"

	"hopperful/process"
)

func positive(name string, value float64, unit string) error {
	return process.Above(name, value, 0, unit, "own derivation")
}

func notNegative(name string, value float64, unit string) error {
	return process.Within(name, value, 0, math.MaxFloat64, unit, "own derivation")
}

// firstError returns the first error that is one.
func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// TimeConstant returns how fast a lumped body follows its surroundings [s].
//
//	capacity     heat capacity of the body [J/K], above 0
//	conductance  conductance to the surroundings [W/K], above 0
//
// Equation: τ = C/UA; an excess temperature falls as e^(−t/τ).
// Holds for: a Biot number below 0.1, so that the inside is even.
// Source: Cengel2003.
// Errors: RangeError for an argument not above 0.
// Checks: TimeConstant rows of checks.csv (1 published, 1 from memory).
func TimeConstant(capacity, conductance float64) (float64, error) {
	if err := firstError(positive("heat capacity", capacity, "J/K"), positive("conductance", conductance, "W/K")); err != nil {
		return 0, err
	}
	return capacity / conductance, nil
}

// Biot returns the Biot number of a body [–].
//
//	h             heat-transfer coefficient [W/(m² K)], above 0
//	length        volume over surface [m], above 0
//	conductivity  of the body [W/(m K)], above 0
//
// Equation: Bi = h L/k.
// Holds for: any body; below 0.1 it may be lumped.
// Source: Cengel2003.
// Errors: RangeError for an argument not above 0.
// Checks: Biot row of checks.csv (1 published).
func Biot(h, length, conductivity float64) (float64, error) {
	if err := firstError(positive("heat-transfer coefficient", h, "W/(m² K)"), positive("length", length, "m"), positive("conductivity", conductivity, "W/(m K)")); err != nil {
		return 0, err
	}
	return h * length / conductivity, nil
}

// Rise returns how far a heated body is above its surroundings [K].
//
//	power        heat source [W], 0 or above
//	capacity     heat capacity [J/K], above 0
//	conductance  conductance to the surroundings [W/K], above 0
//	start        excess at time 0 [K]
//	time         time [s], 0 or above
//
// Equation: ΔT = (P/UA)(1 − e^(−t/τ)) + ΔT0 e^(−t/τ), τ = C/UA.
// Holds for: one lumped body at constant coefficients.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: Rise rows of checks.csv (4 own derivation).
func Rise(power, capacity, conductance, start, time float64) (float64, error) {
	tau, err := TimeConstant(capacity, conductance)
	if err = firstError(err, notNegative("power", power, "W"), process.Within("excess at the start", start, -1e4, 1e4, "K", "judgement"), notNegative("time", time, "s")); err != nil {
		return 0, err
	}
	return -power/conductance*math.Expm1(-time/tau) + start*math.Exp(-time/tau), nil
}

// TimeToRise returns how long a body takes to another excess temperature [s].
//
//	power        heat source [W], 0 or above
//	capacity     heat capacity [J/K], above 0
//	conductance  conductance to the surroundings [W/K], above 0
//	start        excess at time 0 [K]
//	target       excess to reach [K], between start and P/UA, not P/UA itself
//
// Equation: t = τ ln((P/UA − ΔT0)/(P/UA − ΔT)).
// Holds for: one lumped body at constant coefficients, warming or cooling.
// Source: own derivation.
// Errors: RangeError for an argument out of range or a target never reached.
// Checks: TimeToRise rows of checks.csv (2 own derivation, 2 refusal).
func TimeToRise(power, capacity, conductance, start, target float64) (float64, error) {
	tau, err := TimeConstant(capacity, conductance)
	if err = firstError(err, notNegative("power", power, "W"), process.Within("excess at the start", start, -1e4, 1e4, "K", "judgement")); err != nil {
		return 0, err
	}
	end := power / conductance
	left := (end - start) / (end - target)
	if !(left >= 1) || math.IsInf(left, 0) {
		return 0, &process.RangeError{Name: "excess to reach", Value: target, Lo: min(start, end), Hi: max(start, end), Unit: "K", Source: "own derivation"}
	}
	return tau * math.Log(left), nil
}

// PeriodicRise returns highest and lowest excess temperature of a body that is
// heated and rests in turn, once every cycle is like the last [K].
//
//	power        heat source while on [W], 0 or above
//	capacity     heat capacity [J/K], above 0
//	conductance  conductance to the surroundings [W/K], above 0
//	on, off      how long it is heated and rests [s], 0 or above, not both 0
//
// Equation: peak = (P/UA)(1 − e^(−on/τ))/(1 − e^(−(on+off)/τ)), trough = peak e^(−off/τ).
// Holds for: one lumped body at constant coefficients.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: PeriodicRise rows of checks.csv (2 own derivation).
func PeriodicRise(power, capacity, conductance, on, off float64) (peak, trough float64, err error) {
	tau, err := TimeConstant(capacity, conductance)
	if err = firstError(err, notNegative("power", power, "W"), notNegative("time on", on, "s"), notNegative("time off", off, "s"), positive("cycle", on+off, "s")); err != nil {
		return 0, 0, err
	}
	peak = power / conductance * math.Expm1(-on/tau) / math.Expm1(-(on+off)/tau)
	return peak, peak * math.Exp(-off/tau), nil
}

// TwoBodies returns the temperatures of two bodies that exchange heat with each
// other alone [K].
//
//	c1, c2       their heat capacities [J/K], above 0
//	t1, t2       their temperatures at time 0, in any unit of equal steps [K]
//	conductance  between them [W/K], above 0
//	time         time [s], 0 or above
//
// Equation: T1 = T1_0 − (T1_0 − T2_0)(1 − e^(−nt))/(1 + C1/C2), T2 alike, n = K (1/C1 + 1/C2).
// Holds for: two lumped bodies without loss.
// Source: BejanKraus2003, eq. 3.287 and 3.288; the second is garbled in the copy seen and was put right by the energy balance.
// Errors: RangeError for an argument out of range.
// Checks: TwoBodies rows of checks.csv (3 own derivation).
func TwoBodies(c1, c2, t1, t2, conductance, time float64) (end1, end2 float64, err error) {
	if err = firstError(positive("first heat capacity", c1, "J/K"), positive("second heat capacity", c2, "J/K"),
		positive("conductance", conductance, "W/K"), notNegative("time", time, "s"),
		process.Within("first temperature", t1, -1e4, 1e4, "K", "judgement"), process.Within("second temperature", t2, -1e4, 1e4, "K", "judgement")); err != nil {
		return 0, 0, err
	}
	gone := -math.Expm1(-conductance * (1/c1 + 1/c2) * time)
	return t1 - (t1-t2)/(1+c1/c2)*gone, t2 + (t1-t2)/(1+c2/c1)*gone, nil
}

// FreeCooling returns the share of an excess temperature that is left under a
// coefficient that falls with the excess [–].
//
//	n        exponent of the excess in h = C ΔT^n [–], 0 to 1; ¼ laminar, ⅓ turbulent
//	elapsed  h0 A t/C, with h0 at the start [–], 0 or above
//
// Equation: θ = (1 + n h0 A t/C)^(−1/n); e^(−h0 A t/C) for n = 0.
// Holds for: a lumped body cooling by free convection.
// Source: BejanKraus2003, eq. 3.286.
// Errors: RangeError for an argument out of range.
// Checks: FreeCooling rows of checks.csv (5 own derivation).
func FreeCooling(n, elapsed float64) (float64, error) {
	if err := firstError(process.Within("exponent", n, 0, 1, "", "own derivation"), notNegative("elapsed", elapsed, "")); err != nil {
		return 0, err
	}
	if n*elapsed < 1e-12 {
		return math.Exp(-elapsed), nil
	}
	return math.Exp(-math.Log1p(n*elapsed) / n), nil
}
