package metal

// From mass of metal to number of chips.

import (
	"math"

	"hopperful/process"
)

// Spectrum is a log-normal distribution of chip sizes by mass.
type Spectrum struct {
	Median float64 // half of the metal by mass is in smaller chips [m], 1e-6 to 0.02
	Spread float64 // standard deviation of ln size [–], 0.05 to 2
}

// WearSpectrum is what chips of a bench mill are taken to be before any were
// measured; judgement, the median known to a factor of 2.
var WearSpectrum = Spectrum{Median: 0.0002, Spread: 0.8}

// Check refuses a spectrum outside the ranges of its fields with a RangeError.
func (s Spectrum) Check() error {
	if err := process.Within("median size of the chips", s.Median, 1e-6, 0.02, "m", judged); err != nil {
		return err
	}
	return process.Within("spread of the chip sizes", s.Spread, 0.05, 2, "", judged)
}

// Window is the sizes that count: too large for the nozzle, small enough for the
// screen.
type Window struct {
	From float64 // smallest chip that counts [m], 1e-6 to 1
	To   float64 // largest chip that comes through the screen [m], 1e-6 to 1
}

// Check refuses a window outside the ranges of its fields with a RangeError.
func (w Window) Check() error {
	if err := process.Within("smallest chip that counts", w.From, 1e-6, 1, "m", judged); err != nil {
		return err
	}
	return process.Within("largest chip that passes the screen", w.To, 1e-6, 1, "m", judged)
}

// Blockers returns how many chips in a window of sizes a mass of metal is, per
// mass of metal [1/kg]; 0 when the screen is finer than what blocks.
//
//	s        sizes of the chips before the screen, see its fields
//	w        the window, see its fields
//	density  of the metal [kg/m³], 1000 to 25000
//
// Equation: ∫ q3(x)/(ρ π x³/6) dx = 6/(π ρ) exp(−3µ + 4.5σ²) [Φ((ln To − µ + 3σ²)/σ) − Φ((ln From − µ + 3σ²)/σ)], µ = ln median.
// Holds for: round chips, cut sharply by the screen. Slivers pass a hole end-on and turn in a nozzle: give the window their longer side.
// Source: own derivation.
// Errors: RangeError for fields out of range.
// Checks: Blockers rows of checks.csv (second library, own derivation).
func Blockers(s Spectrum, w Window, density float64) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	if err := w.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("density of the metal", density, 1000, 25000, "kg/m³", judged); err != nil {
		return 0, err
	}
	if w.To <= w.From {
		return 0, nil
	}
	mu, v := math.Log(s.Median), s.Spread*s.Spread
	lo := (math.Log(w.From) - mu + 3*v) / s.Spread
	hi := (math.Log(w.To) - mu + 3*v) / s.Spread
	share := (math.Erfc(lo/math.Sqrt2) - math.Erfc(hi/math.Sqrt2)) / 2
	return 6 / (math.Pi * density) * math.Exp(-3*mu+4.5*v) * share, nil
}
