package screw

// Drag, back and leakage flow of the pumping turns.

import (
	"math"
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

// back is the back flow at 1 Pa and 1 Pa s.
func (s Screw) back() float64 {
	return s.width() * s.cubicDepth() * math.Sin(s.helix()) / (12 * s.Pump)
}

// leak is the leakage flow at 1 Pa and 1 Pa s.
func (s Screw) leak() float64 {
	if s.Clearance == 0 {
		return 0
	}
	d := math.Pi * s.Diameter
	return d * d * math.Pow(s.Clearance, 3) * math.Tan(s.helix()) / (12 * s.Flight * s.Pump)
}
