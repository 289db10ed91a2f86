package screw

// Where screw and nozzle meet, for melts that thin.

import (
	"math"

	"hopperful/process"
	"hopperful/process/melt"
	"hopperful/process/melt/root"
)

// Head is a screw with a melt in it and a nozzle before it.
type Head struct {
	Screw    Screw
	Nozzle   melt.Nozzle // its Losses are unused, see Loss
	InScrew  melt.Curve  // flow curve at the temperature of the pumping turns
	InNozzle melt.Curve  // flow curve at the temperature of the nozzle
	Loss     float64     // entrance loss in land radii [–], 0 to 50: one value out of the nozzle's range
}

func (h Head) check() error {
	if err := h.Screw.Check(); err != nil {
		return err
	}
	return h.nozzle().Check()
}

func (h Head) nozzle() melt.Nozzle {
	z := h.Nozzle
	z.Losses = melt.Span{Low: h.Loss, High: h.Loss}
	return z
}

// drop is the pressure the nozzle asks for a flow.
func (h Head) drop(flow float64) (float64, error) {
	d, err := melt.NozzleDrop(h.InNozzle, h.nozzle(), flow)
	return d.Total.High, err
}

// fluidity is back and leakage flow at 1 Pa, with the viscosities of a speed.
func (h Head) fluidity(omega float64) (back, leak float64, err error) {
	s := h.Screw
	eta, err := h.InScrew.Viscosity(omega * s.Diameter / (s.DepthIn + s.DepthOut))
	if err != nil || s.Clearance == 0 {
		return s.back() / eta, 0, err
	}
	gap, err := h.InScrew.Viscosity(omega * s.Diameter / (2 * s.Clearance))
	return s.back() / eta, s.leak() / gap, err
}

// Point is what a screw does at a speed.
type Point struct {
	Flow     float64 // of melt through the nozzle [m³/s]
	Pressure float64 // before the nozzle [Pa]
	Drag     float64 // drag flow [m³/s]
	Back     float64 // back along the channel [m³/s]
	Leak     float64 // back over the flights [m³/s]
}

// Operating returns flow and pressure at which a full screw meets its nozzle.
//
//	h      see its fields
//	omega  speed of the screw [rad/s], above 0 to 62.9
//
// Equation: Q = Q_d − (Q_p + Q_l)(Δp), Δp = nozzle drop of Q, viscosities at π D N/h and π D N/δ; bracketed search to 1e-12.
// Holds for: full pumping turns, at or below the intake of the screw; a starved screw gives its intake instead.
// A melt as thick in screw as in nozzle gives nearly the same flow whatever its viscosity; its pressure follows the viscosity.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or a nozzle so tight that the melt does not move.
// Checks: Operating rows of checks.csv (2 second library, 2 identity, 1 own derivation, 1 refusal).
func Operating(h Head, omega float64) (Point, error) {
	if err := h.check(); err != nil {
		return Point{}, err
	}
	drag, err := DragFlow(h.Screw, omega)
	if err != nil {
		return Point{}, err
	}
	back, leak, err := h.fluidity(omega)
	if err != nil {
		return Point{}, err
	}
	var failed error
	short := func(share float64) float64 {
		p, err := h.drop(share * drag)
		if err != nil {
			failed = err
			return math.NaN()
		}
		return 1 - share - (back+leak)*p/drag
	}
	share, err := root.Between(short, 1e-4, 1, 1e-13)
	if failed != nil {
		return Point{}, failed
	}
	if err != nil {
		// Even a ten-thousandth of the drag flow asks more than the screw builds.
		p, _ := h.drop(1e-4 * drag)
		return Point{}, process.Within("pressure the nozzle asks", p, 0, (1-1e-4)*drag/(back+leak), "Pa", "own derivation")
	}
	p, err := h.drop(share * drag)
	return Point{share * drag, p, drag, back * p, leak * p}, err
}

// SpeedFor returns the speed a screw needs for a flow [rad/s].
//
//	h     see its fields
//	flow  of melt through the nozzle [m³/s], above 0 to 1e-3
//	most  fastest the drive turns [rad/s], above 0 to 62.9
//
// Equation: the N at which Q_d − (Q_p + Q_l)(Δp(Q)) = Q; Δp is fixed by the flow, so only the viscosity in the screw moves.
// Holds for: as Operating. One speed only: drag grows in proportion to N, the fluidity of a thinning melt less.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or a flow above what the drive reaches; its Hi is that flow.
// Checks: SpeedFor rows of checks.csv (1 second library, 1 identity, 1 refusal).
func SpeedFor(h Head, flow, most float64) (float64, error) {
	if err := h.check(); err != nil {
		return 0, err
	}
	if err := within(limit{"flow", flow, 1e-15, 1e-3, "m³/s"}, limit{"fastest speed", most, 1e-6, mostSpeed, "rad/s"}); err != nil {
		return 0, err
	}
	pressure, err := h.drop(flow)
	if err != nil {
		return 0, err
	}
	var failed error
	over := func(omega float64) float64 {
		back, leak, err := h.fluidity(omega)
		if err != nil {
			failed = err
		}
		return h.Screw.drag()*omega - (back+leak)*pressure - flow
	}
	least := flow / h.Screw.drag() // back flow only adds to it
	if least < most && over(most) >= 0 && failed == nil {
		omega, err := root.Between(over, least, most, 1e-13)
		if failed != nil {
			err = failed
		}
		return omega, err
	}
	if failed != nil {
		return 0, failed
	}
	reach, err := Operating(h, most)
	if err != nil {
		return 0, err
	}
	return 0, process.Within("flow", flow, 0, min(reach.Flow, flow*(1-1e-12)), "m³/s", "own derivation")
}
