package screw

// What a change of colour or material costs, and how long a stopped print may
// sit hot.

import (
	"math"

	"hopperful/process"
	"hopperful/process/melt"
)

// deadCorners is how many times more than the screw alone a head with dead
// corners takes: 5 to 10 volumes for 99 % where the screw takes 3.3. Common
// practice, no source.
const deadCorners = 3

// PurgeMass returns the mass to run out until a share of the old colour is left,
// as a range [kg].
//
//	volume   room the melt fills [m³], above 0 to 1e-2
//	density  of the melt [kg/m³], 300 to 5000
//	left     share of the old that may remain [–], 1e-9 to below 1; 0.01 is usual
//
// Equation: m = ρ V t(left)/t_m, by AgedTime; the high end is three times that.
// Holds for: low, the screw alone; high, heads with dead corners. A dark colour before white takes more, and the tail is long: 99.9 % takes three times 99 %.
// Source: PintoTadmor1970; the high end common practice, no source.
// Errors: RangeError for an argument out of range.
// Checks: PurgeMass rows of checks.csv (1 own derivation, 1 refusal).
func PurgeMass(volume, density, left float64) (melt.Span, error) {
	if err := within(limit{"melt volume", volume, 1e-12, 1e-2, "m³"}, limit{"melt density", density, 300, 5000, "kg/m³"}); err != nil {
		return melt.Span{}, err
	}
	times, err := AgedTime(left)
	if err != nil {
		return melt.Span{}, err
	}
	mass := volume * density * times
	return melt.Span{Low: mass, High: deadCorners * mass}, nil
}

// Hot is a melt that ages.
type Hot struct {
	Degrade float64 // time after which it is spoilt at the set temperature [s], above 0 to 1e7
	Volume  float64 // room it fills [m³], above 0 to 1e-2
	Flow    float64 // volume flow while printing [m³/s], above 0 to 1e-3
	Oldest  float64 // share of the melt that may be older than reckoned [–], 1e-9 to 0.5; 0.05 is usual
}

// age is how old all but the oldest share of the melt is when it leaves.
func (h Hot) age() (float64, error) {
	if err := within(limit{"time until spoilt", h.Degrade, 1e-3, 1e7, "s"}, limit{"melt volume", h.Volume, 1e-12, 1e-2, "m³"},
		limit{"volume flow", h.Flow, 1e-15, 1e-3, "m³/s"}, limit{"oldest share", h.Oldest, 1e-9, 0.5, ""}); err != nil {
		return 0, err
	}
	times, err := AgedTime(h.Oldest)
	return times * h.Volume / h.Flow, err
}

// HoldTime returns how long a stopped print may sit hot [s].
//
//	h  see its fields
//
// Equation: t = t_degrade − t_m · t(oldest)/t_m: what is left of its life when the oldest share was about to leave.
// Holds for: the temperature of the degradation time. After it, cool down or purge; PVC and other halogenated plastics must never sit hot.
// Source: own derivation.
// Errors: RangeError for a field out of range; for a flow so slow that the melt is spoilt while printing, see LeastFlow.
// Checks: HoldTime rows of checks.csv (1 own derivation, 1 refusal).
func HoldTime(h Hot) (float64, error) {
	age, err := h.age()
	if err != nil {
		return 0, err
	}
	if err := process.Within("age of the oldest melt", age, 0, h.Degrade, "s", "own derivation"); err != nil {
		return 0, err
	}
	return h.Degrade - age, nil
}

// LeastFlow returns the slowest flow at which melt leaves before it is spoilt [m³/s].
//
//	h  see its fields; its Flow is unused
//
// Equation: Q = V t(oldest)/(t_m t_degrade).
// Holds for: as HoldTime.
// Source: own derivation.
// Errors: RangeError for a field out of range.
// Checks: LeastFlow rows of checks.csv (1 own derivation, 1 refusal).
func LeastFlow(h Hot) (float64, error) {
	h.Flow = 1e-6 // any: age times flow does not depend on it
	age, err := h.age()
	return age * h.Flow / h.Degrade, err
}

// Ageing is a degradation time and how it changes with temperature.
type Ageing struct {
	Time   float64 // until spoilt at At [s], above 0 to 1e7
	At     float64 // temperature of that time [K], 250 to 800
	Energy float64 // activation energy [J/mol], 0 to 1e6; 1e5 to 2e5 is usual, from memory
}

// gasConstant is R [J/(mol K)], exact since 2019 (BIPM2019).
const gasConstant = 8.31446261815324

// DegradeTime returns the time until a melt is spoilt at another temperature [s].
//
//	a            see its fields
//	temperature  of the melt [K], 250 to 800
//
// Equation: t = t_0 exp((E/R)(1/T − 1/T_0)).
// Holds for: one slow reaction, some tens of kelvin; moisture in polyesters is another and much faster one.
// Source: own derivation from Arrhenius's law.
// Errors: RangeError for an argument out of range.
// Checks: DegradeTime rows of checks.csv (2 identity, 1 own derivation, 1 refusal).
func DegradeTime(a Ageing, temperature float64) (float64, error) {
	if err := within(limit{"time until spoilt", a.Time, 1e-3, 1e7, "s"}, limit{"its temperature", a.At, 250, 800, "K"},
		limit{"activation energy", a.Energy, 0, 1e6, "J/mol"}, limit{"melt temperature", temperature, 250, 800, "K"}); err != nil {
		return 0, err
	}
	time := a.Time * math.Exp(a.Energy/gasConstant*(1/temperature-1/a.At))
	return time, within(limit{"time until spoilt", time, 0, 1e12, "s"})
}
