package melt

// Viscosity laws with temperature, and the window outside which they refuse.

import (
	"fmt"
	"math"

	"hopperful/process"
)

// Window is the span of temperatures in which a polymer is molten and whole;
// the caller takes it from what is known about the material.
type Window struct {
	Low     float64 // coldest at which it flows [K], 250 to 800
	Ceiling float64 // hottest before it breaks down [K], Low to 800
}

// TooHotError says that a melt would be hotter than its polymer bears.
type TooHotError struct {
	Temperature, Ceiling float64 // [K]
}

// Error says it with the usual caution.
func (e *TooHotError) Error() string {
	return fmt.Sprintf("melt temperature %.0f °C is above %.0f °C, where this polymer breaks down and gives off fumes: set it lower",
		e.Temperature-273.15, e.Ceiling-273.15)
}

// Unwrap gives the bare range.
func (e *TooHotError) Unwrap() error {
	return &process.RangeError{Name: "melt temperature", Value: e.Temperature, Lo: 0, Hi: e.Ceiling, Unit: "K", Source: "judgement"}
}

func (w Window) check(temperature float64) error {
	if err := within(quantityIn{"lowest melt temperature", w.Low, coldest, hottest, "K"},
		quantityIn{"ceiling of melt temperature", w.Ceiling, w.Low, hottest, "K"}); err != nil {
		return err
	}
	if temperature > w.Ceiling && !math.IsInf(temperature, 1) {
		return &TooHotError{temperature, w.Ceiling}
	}
	return process.Within("melt temperature", temperature, w.Low, w.Ceiling, "K", "judgement")
}

// CrossWLF is a Cross law whose zero-shear viscosity follows the WLF form.
type CrossWLF struct {
	N      float64 // flow exponent [–], 0.01 to 1
	Stress float64 // τ*, critical stress [Pa], above 0 to 1e9; 0 where a set does not give it, then only ZeroShear answers
	D1     float64 // viscosity at D2 [Pa s], above 0 to 1e30
	D2     float64 // reference temperature [K], 200 to 800
	A1     float64 // [–], above 0 to 1e7
	A2     float64 // [K], above 0 to 1e9
}

// ZeroShear returns the viscosity at rest of a Cross–WLF set [Pa s].
//
//	m            see its fields
//	temperature  melt temperature [K], 250 to 800 and above D2 − A2
//
// Equation: η0 = D1 exp(−A1 (T − D2)/(A2 + T − D2)).
// Holds for: the temperatures of a set's fit, at the pressure of the air; extrapolated tens of kelvin it can be off by several times.
// Source: AutodeskCross2026 for the form.
// Errors: RangeError for a set or temperature out of range, or a viscosity above 1e12 Pa s, which does not flow.
// Checks: ZeroShear rows of checks.csv (1 identity, 11 own derivation, 4 from memory, 2 refusals).
func ZeroShear(m CrossWLF, temperature float64) (float64, error) {
	if err := within(quantityIn{"D1", m.D1, leastEta, 1e30, "Pa s"}, quantityIn{"D2", m.D2, 200, 800, "K"},
		quantityIn{"A1", m.A1, 1e-9, 1e7, ""}, quantityIn{"A2", m.A2, 1e-9, 1e9, "K"},
		quantityIn{"melt temperature", temperature, max(coldest, m.D2-0.9*m.A2), hottest, "K"}); err != nil {
		return 0, err
	}
	over := temperature - m.D2
	zero := m.D1 * math.Exp(-m.A1*over/(m.A2+over))
	return zero, within(quantityIn{"zero-shear viscosity", zero, leastEta, mostEta, "Pa s"})
}

// At gives the flow curve at a temperature inside the window.
func (m CrossWLF) At(temperature float64, w Window) (Curve, error) {
	if err := w.check(temperature); err != nil {
		return Curve{}, err
	}
	zero, err := ZeroShear(m, temperature)
	if err != nil {
		return Curve{}, err
	}
	return NewCross(CrossSet{zero, m.Stress, m.N})
}

// Thinned is the law of a lot that flows factor times as fast at every stress
// and temperature: shorter chains lower η0 and leave τ* alone.
func (m CrossWLF) Thinned(factor float64) (CrossWLF, error) {
	if err := checkThinning(factor); err != nil {
		return m, err
	}
	m.D1 /= factor
	return m, nil
}

// PowerLaw is a power law whose consistency falls exponentially with temperature.
type PowerLaw struct {
	K    float64 // consistency at T0 [Pa sⁿ], 1e-6 to 1e12
	N    float64 // flow exponent [–], 0.01 to 1.5
	Fold float64 // heating that thins it by a factor e, 1/|a| of exp(a (T − T0)) [K], 5 to 1e4
	T0   float64 // temperature of K [K], 250 to 800
}

// Consistency returns the K of a power law at a temperature [Pa sⁿ].
//
//	m            see its fields
//	temperature  melt temperature [K], 250 to 800
//
// Equation: K = K0 exp(−(T − T0)/ΔT_e).
// Holds for: some tens of kelvin around T0.
// Source: from memory.
// Errors: RangeError for a set or temperature out of range.
// Checks: PowerLawAt rows of checks.csv (4 from memory).
func Consistency(m PowerLaw, temperature float64) (float64, error) {
	if err := within(quantityIn{"consistency", m.K, leastEta, mostEta, "Pa sⁿ"}, quantityIn{"flow exponent", m.N, leastN, mostN, ""},
		quantityIn{"heating per factor e", m.Fold, 5, 1e4, "K"}, quantityIn{"temperature of the set", m.T0, coldest, hottest, "K"},
		quantityIn{"melt temperature", temperature, coldest, hottest, "K"}); err != nil {
		return 0, err
	}
	k := m.K * math.Exp(-(temperature-m.T0)/m.Fold)
	return k, within(quantityIn{"consistency", k, leastEta, mostEta, "Pa sⁿ"})
}

// At gives the flow curve at a temperature inside the window.
func (m PowerLaw) At(temperature float64, w Window) (Curve, error) {
	if err := w.check(temperature); err != nil {
		return Curve{}, err
	}
	k, err := Consistency(m, temperature)
	if err != nil {
		return Curve{}, err
	}
	return NewPower(k, m.N)
}

// Thinned is the law of a lot that flows factor times as fast at every stress.
func (m PowerLaw) Thinned(factor float64) (PowerLaw, error) {
	if err := checkThinning(factor); err != nil {
		return m, err
	}
	m.K *= math.Pow(factor, -m.N)
	return m, nil
}

// mostThinning bounds how far a lot may lie from its textbook curve; beyond, the
// set belongs to another material. Judgement.
const mostThinning = 1000

func checkThinning(factor float64) error {
	return within(quantityIn{"flow against the textbook curve", factor, 1.0 / mostThinning, mostThinning, ""})
}
