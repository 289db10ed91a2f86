package screw

// Drag, back and leakage flow of the pumping turns, and the Newtonian textbook
// case in which screw and die meet in closed form.

import (
	"math"

	"hopperful/process/melt"
)

// DragFlow returns what the pumping turns drag forward without back pressure [m³/s].
//
//	s      see its fields
//	omega  speed of the screw [rad/s], above 0 to 62.9
//
// Equation: Q_d = ½ W H π D N cos φ, W = lead cos φ − e; with a thin flight ½ π² D² N h sin φ cos φ. H = 2 h₀h₁/(h₀ + h₁) in a taper.
// Holds for: full, shallow channels of melt that sticks to both walls; reads a few per cent high in narrow ones.
// Source: Groover2010, equation and number from memory; taper ChannelCode2026.
// Errors: RangeError for an argument out of range.
// Checks: DragFlow rows of checks.csv (1 own derivation, 1 from memory, 1 refusal).
func DragFlow(s Screw, omega float64) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	if err := within(limit{"screw speed", omega, 1e-6, mostSpeed, "rad/s"}); err != nil {
		return 0, err
	}
	return s.drag() * omega, nil
}

// drag is the drag flow at 1 rad/s.
func (s Screw) drag() float64 {
	return s.width() * s.dragDepth() * s.Diameter * math.Cos(s.helix()) / 4
}

// Against is what drives melt back along the screw.
type Against struct {
	Pressure float64 // built up over the pumping turns [Pa], 0 to 1e9
	Channel  float64 // viscosity in the channel, at the rate π D N/h [Pa s], above 0 to 1e12
	Gap      float64 // viscosity over the flight, at the rate π D N/δ [Pa s], above 0 to 1e12; unused without clearance
}

func (a Against) check(gap bool) error {
	if err := within(limit{"pressure", a.Pressure, 0, 1e9, "Pa"}, limit{"viscosity in the channel", a.Channel, 1e-6, 1e12, "Pa s"}); err != nil || !gap {
		return err
	}
	return within(limit{"viscosity over the flight", a.Gap, 1e-6, 1e12, "Pa s"})
}

// BackFlow returns what the pressure drives back along the channel [m³/s].
//
//	s  see its fields
//	a  see its fields
//
// Equation: Q_p = W h³ sin φ Δp/(12 η L); with a thin flight π D h³ sin² φ Δp/(12 η L). h³ = 2 (h₀h₁)²/(h₀ + h₁) in a taper.
// Holds for: as DragFlow, with one viscosity for the whole channel.
// Source: Groover2010, equation and number from memory; taper ChannelCode2026.
// Errors: RangeError for an argument out of range.
// Checks: BackFlow rows of checks.csv (1 identity, 1 own derivation, 1 from memory, 1 refusal).
func BackFlow(s Screw, a Against) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	if err := a.check(false); err != nil {
		return 0, err
	}
	return s.back() * a.Pressure / a.Channel, nil
}

// back is the back flow at 1 Pa and 1 Pa s.
func (s Screw) back() float64 {
	return s.width() * s.cubicDepth() * math.Sin(s.helix()) / (12 * s.Pump)
}

// LeakFlow returns what the pressure drives back over the flights [m³/s].
//
//	s  see its fields
//	a  see its fields
//
// Equation: Q_l = π² D² δ³ tan φ Δp/(12 η e L).
// Holds for: a worn screw is one with a large δ: the leak grows with its cube. Up to a tenth low for wide helix angles.
// Source: from memory, form of Crawford.
// Errors: RangeError for an argument out of range.
// Checks: LeakFlow rows of checks.csv (2 identity, 1 from memory).
func LeakFlow(s Screw, a Against) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	if s.Clearance == 0 {
		return 0, a.check(false)
	}
	if err := a.check(true); err != nil {
		return 0, err
	}
	return s.leak() * a.Pressure / a.Gap, nil
}

// leak is the leakage flow at 1 Pa and 1 Pa s.
func (s Screw) leak() float64 {
	if s.Clearance == 0 {
		return 0
	}
	d := math.Pi * s.Diameter
	return d * d * math.Pow(s.Clearance, 3) * math.Tan(s.helix()) / (12 * s.Flight * s.Pump)
}

// ShutOffPressure returns the pressure at which nothing comes out any more [Pa].
//
//	s          see its fields
//	omega      speed of the screw [rad/s], above 0 to 62.9
//	viscosity  of the melt [Pa s], above 0 to 1e12
//
// Equation: p_max = Q_d η/(Q_p + Q_l at 1 Pa and 1 Pa s); without leakage 6 π D N L η cot φ/h².
// Holds for: one viscosity in channel and gap. A shut nozzle can reach it: never run a screw against a closed one.
// Source: Groover2010, equation from memory.
// Errors: RangeError for an argument out of range.
// Checks: DiePoint rows of checks.csv (3 own derivation, 1 refusal).
func ShutOffPressure(s Screw, omega, viscosity float64) (float64, error) {
	drag, err := DragFlow(s, omega)
	if err != nil {
		return 0, err
	}
	if err := within(limit{"viscosity", viscosity, 1e-6, 1e12, "Pa s"}); err != nil {
		return 0, err
	}
	return drag * viscosity / (s.back() + s.leak()), nil
}

// DieConstant returns the flow a round die gives at 1 Pa [m³/(Pa s)].
//
//	t          bore and length, its Flow unused; see its fields
//	viscosity  of the melt [Pa s], above 0 to 1e12
//
// Equation: K_s = π d⁴/(128 η L).
// Holds for: Newtonian melts.
// Source: Groover2010, equation from memory.
// Errors: RangeError for an argument out of range.
// Checks: DiePoint rows of checks.csv (3 own derivation, 1 refusal).
func DieConstant(t melt.Tube, viscosity float64) (float64, error) {
	if err := within(limit{"radius of the die", t.Radius, 1e-5, 0.1, "m"}, limit{"length of the die", t.Length, 1e-6, 10, "m"},
		limit{"viscosity", viscosity, 1e-6, 1e12, "Pa s"}); err != nil {
		return 0, err
	}
	return math.Pi * math.Pow(t.Radius, 4) / (8 * viscosity * t.Length), nil
}

// DiePoint returns flow [m³/s] and pressure [Pa] at which a screw with a
// Newtonian melt meets its die.
//
//	most     drag flow Q_max [m³/s], above 0 to 1
//	shutOff  pressure without flow p_max [Pa], above 0 to 1e12
//	die      die constant K_s [m³/(Pa s)], above 0 to 1
//
// Equation: p = Q_max/(K_s + Q_max/p_max), Q = K_s p.
// Holds for: the straight lines of the textbook; [Operating] is for real melts.
// Source: Groover2010, equation from memory.
// Errors: RangeError for an argument out of range.
// Checks: DiePoint rows of checks.csv (3 own derivation, 1 refusal).
func DiePoint(most, shutOff, die float64) (flow, pressure float64, err error) {
	if err := within(limit{"drag flow", most, 1e-15, 1, "m³/s"}, limit{"pressure without flow", shutOff, 1e-3, 1e12, "Pa"},
		limit{"die constant", die, 1e-21, 1, "m³/(Pa s)"}); err != nil {
		return 0, 0, err
	}
	pressure = most / (die + most/shutOff)
	return die * pressure, pressure, nil
}
