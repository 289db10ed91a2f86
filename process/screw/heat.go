package screw

// The heat to melt: heaters, work of the shaft, barrel length.

import (
	"math"

	"hopperful/process"
)

// MeltPower returns the power that melting a flow takes [W].
//
//	flow  mass flow [kg/s], 0 to 1
//	heat  to warm and melt a kilogram to the wanted temperature [J/kg], above 0 to 5e6
//
// Equation: P = ṁ Δh.
// Holds for: steady running; what the barrel loses to the room comes on top.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: MeltPower rows of checks.csv (2 own derivation, 1 refusal).
func MeltPower(flow, heat float64) (float64, error) {
	if err := within(limit{"mass flow", flow, 0, 1, "kg/s"}, limit{"heat to melt", heat, 1, 5e6, "J/kg"}); err != nil {
		return 0, err
	}
	return flow * heat, nil
}

// Heating is what warms the plastic.
type Heating struct {
	Heaters    float64 // rated power of all heaters [W], 0 to 1e5
	Efficiency float64 // share of it that gets into the barrel [–], above 0 to 1
	Loss       float64 // what the hot barrel gives to the room all the time [W], 0 to 1e4
	Shaft      float64 // work of the screw that ends as heat [W], 0 to 1e5; see ShaftPower
	Heat       float64 // to warm and melt a kilogram [J/kg], above 0 to 5e6
}

func (h Heating) check() error {
	return within(limit{"heater power", h.Heaters, 0, 1e5, "W"}, limit{"share of it that reaches the plastic", h.Efficiency, 1e-3, 1, ""},
		limit{"loss of the barrel", h.Loss, 0, 1e4, "W"}, limit{"work of the shaft", h.Shaft, 0, 1e5, "W"}, limit{"heat to melt", h.Heat, 1, 5e6, "J/kg"})
}

// The loss of a bare barrel of 16 to 25 mm bore, some 20 mm thick and 250 mm long, at
// 200 °C [W], median and 10 to 90 %: 0.0157 m² × 20 W/(m² K), half by air and half by
// radiation, × 175 K (own derivation). A measured extruder is a check row.
const (
	UsualBarrelLoss, LeastBarrelLoss, MostBarrelLoss = 55.0, 35.0, 90.0
	BarrelLossOver                                   = 175.0 // height above the room at which they hold [K]
)

// BarrelLoss returns what a hot barrel gives to the room [W].
//
//	known   loss at another height above the room [W], 0 to 1e4
//	at      that height [K], 10 to 500
//	height  of the barrel above the room now [K], 0 to 500
//
// Equation: loss × height/at.
// Holds for: bare and lagged barrels alike; radiation makes the true one fall a little faster.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: BarrelLoss rows of checks.csv (1 own derivation, 1 refusal).
func BarrelLoss(known, at, height float64) (float64, error) {
	if err := within(limit{"loss of the barrel", known, 0, 1e4, "W"}, limit{"height above the room", at, 10, 500, "K"}, limit{"height above the room", height, 0, 500, "K"}); err != nil {
		return 0, err
	}
	return known * height / at, nil
}

// HeaterFlow returns the largest mass flow the heat can melt [kg/s].
//
//	h  see its fields
//
// Equation: ṁ = (heaters × efficiency − loss + shaft)/Δh, 0 where the loss takes it all.
// Holds for: the balance over a long time; a short barrel melts less than its heaters could, see MeltingLength.
// Source: own derivation.
// Errors: RangeError for a field out of range.
// Checks: HeaterFlow rows of checks.csv (1 identity, 2 own derivation, 1 refusal).
func HeaterFlow(h Heating) (float64, error) {
	if err := h.check(); err != nil {
		return 0, err
	}
	return max(0, h.Heaters*h.Efficiency-h.Loss+h.Shaft) / h.Heat, nil
}

// HeaterDuty returns the share of the time the heaters are on at a flow [–];
// above 1 they cannot keep up.
//
//	h     see its fields, Heaters above 0
//	flow  mass flow [kg/s], 0 to 1
//
// Equation: duty = (ṁ Δh + loss − shaft)/(heaters × efficiency), 0 where the shaft alone does it: then the melt runs hotter than set.
// Holds for: as HeaterFlow.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: HeaterDuty rows of checks.csv (1 measurement, 2 identity, 1 refusal).
func HeaterDuty(h Heating, flow float64) (float64, error) {
	if err := h.check(); err != nil {
		return 0, err
	}
	if err := process.Above("heater power", h.Heaters, 0, "W", "own derivation"); err != nil {
		return 0, err
	}
	need, err := MeltPower(flow, h.Heat)
	if err != nil {
		return 0, err
	}
	return max(0, (need+h.Loss-h.Shaft)/(h.Heaters*h.Efficiency)), nil
}

// ShaftPower returns the work the pumping turns take from the drive [W].
//
//	s      see its fields
//	omega  speed of the screw [rad/s], above 0 to 62.9
//	a      see its fields; Pressure is that before the nozzle
//
// Equation: P = η v² (W L/(h sin φ)) (cos² φ + 4 sin² φ) + Q_d Δp + η_gap v² e L/(δ sin φ), v = π D N, h the mean depth.
// Holds for: full pumping turns; what the feed and melting turns take is not in it, so the drive needs more: often two to four times (judgement).
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: ShaftPower rows of checks.csv (2 second library, 1 refusal).
func ShaftPower(s Screw, omega float64, a Against) (float64, error) {
	drag, err := DragFlow(s, omega)
	if err != nil {
		return 0, err
	}
	if err := a.check(s.Clearance > 0); err != nil {
		return 0, err
	}
	v, sin := omega*s.Diameter/2, math.Sin(s.helix())
	channel := a.Channel * v * v * s.width() * s.Pump / sin / ((s.DepthIn + s.DepthOut) / 2) * (1 + 3*sin*sin)
	gap := 0.0
	if s.Clearance > 0 {
		gap = a.Gap * v * v * s.Flight * s.Pump / (s.Clearance * sin)
	}
	return channel + drag*a.Pressure + gap, nil
}
