package screw

// What the screw takes in from the hopper.

import (
	"math"

	"hopperful/process/melt"
)

// UsualFilling is how full the turns under the hopper are, as a share of their
// room moved on in a turn. Judgement; the outputs of a 20 mm screw in
// ScrewOutput2025 fit 0.15 to 0.2 of a 3.5 mm channel. Weighings replace it.
var UsualFilling = melt.Span{Low: 0.1, High: 0.45}

// mostSpeed is the fastest a screw is reckoned with [rad/s], 600 a minute; judgement.
const mostSpeed = 62.9

// Feed is what comes to the screw.
type Feed struct {
	Bulk    float64 // bulk density of the granulate, loose [kg/m³], 50 to 5000
	Filling float64 // share of a turn's room that moves on in a turn [–], above 0 to 1
}

// IntakeFlow returns the mass flow a screw takes in [kg/s].
//
//	s      see its fields
//	f      see its fields
//	omega  speed of the screw [rad/s], above 0 to 62.9
//
// Equation: ṁ = ρ_b V_turn ψ ω/(2π).
// Holds for: flood feeding from a hopper that runs. In proportion to bulk density: fluffy regrind of thin walls gives half of what pellets give.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: IntakeFlow rows of checks.csv (2 own derivation, 1 refusal).
func IntakeFlow(s Screw, f Feed, omega float64) (float64, error) {
	turn, err := TurnVolume(s)
	if err != nil {
		return 0, err
	}
	if err := within(limit{"bulk density", f.Bulk, 50, 5000, "kg/m³"}, limit{"filling of the feed turns", f.Filling, 1e-3, 1, ""},
		limit{"screw speed", omega, 1e-6, mostSpeed, "rad/s"}); err != nil {
		return 0, err
	}
	return f.Bulk * turn * f.Filling * omega / (2 * math.Pi), nil
}
