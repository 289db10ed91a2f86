package screw

// What stops a printer from running faster, and the speed for a wanted flow.

import (
	"cmp"
	"math"
	"slices"

	"hopperful/process"
	"hopperful/process/melt"
	"hopperful/process/melt/root"
)

// Line is a whole line from hopper to nozzle.
type Line struct {
	Head         Head
	Feed         Feed
	Density      float64 // of the melt [kg/m³], 300 to 5000
	MostSpeed    float64 // fastest the drive turns the screw [rad/s], above 0 to 62.9
	MostPressure float64 // bearable before the nozzle [Pa], 1e3 to 1e9; the maker's figure, not ours
	Heating      Heating // its Shaft is unused: it is reckoned
}

func (l Line) check() error {
	if err := l.Head.check(); err != nil {
		return err
	}
	if err := l.Heating.check(); err != nil {
		return err
	}
	return within(limit{"melt density", l.Density, 300, 5000, "kg/m³"}, limit{"fastest speed", l.MostSpeed, 1e-6, mostSpeed, "rad/s"},
		limit{"bearable pressure", l.MostPressure, 1e3, 1e9, "Pa"})
}

// Cause names a limit of flow.
type Cause string

// The causes.
const (
	Starve   Cause = "starve"   // the screw takes no more in
	Flood    Cause = "flood"    // it takes in more than its last turns pump against the nozzle
	Pressure Cause = "pressure" // the nozzle would ask more pressure than the head bears
	Heater   Cause = "heater"   // the heat does not melt more
)

// Bound is the largest flow one cause allows.
type Bound struct {
	By   Cause
	Flow float64 // mass flow [kg/s]
	Open bool    // the limit lies above Flow, which is as far as was looked
}

// farthest is how many times the flood flow the pressure limit is looked for; a
// limit beyond it never binds.
const farthest = 20

// LargestFlows returns the largest mass flow by each limit, lowest first: the
// first one binds [kg/s].
//
//	l  see its fields
//
// Equation: starve = intake at the fastest speed; flood = pump against nozzle there; pressure = nozzle flow at the bearable pressure;
// heater = (heaters × efficiency + shaft)/Δh, the shaft's work that at the flow of the heaters alone, or at the fastest speed.
// Holds for: as the parts. The heater limit reads a little low, for at its own flow the shaft adds more.
// Source: own derivation.
// Errors: RangeError for a field out of range, or a nozzle through which the melt does not move.
// Checks: LargestFlows rows of checks.csv (4 second library, 1 refusal).
func LargestFlows(l Line) ([]Bound, error) {
	if err := l.check(); err != nil {
		return nil, err
	}
	starve, err := IntakeFlow(l.Head.Screw, l.Feed, l.MostSpeed)
	if err != nil {
		return nil, err
	}
	flood, err := Operating(l.Head, l.MostSpeed)
	if err != nil {
		return nil, err
	}
	pressed, err := l.pressed(flood.Flow)
	if err != nil {
		return nil, err
	}
	heated, err := l.heated(flood)
	if err != nil {
		return nil, err
	}
	all := []Bound{{Starve, starve, false}, {Flood, flood.Flow * l.Density, false}, pressed, {Heater, heated, false}}
	slices.SortStableFunc(all, func(a, b Bound) int { return cmp.Compare(a.Flow, b.Flow) })
	return all, nil
}

// pressed is the flow at the bearable pressure, looked for around the flood flow.
func (l Line) pressed(flood float64) (Bound, error) {
	var failed error
	over := func(log float64) float64 {
		p, err := l.Head.drop(math.Exp(log))
		if err != nil {
			failed = err
			return math.NaN()
		}
		return math.Log(p / l.MostPressure)
	}
	lo, hi := math.Log(flood/1e4), math.Log(farthest*flood)
	if over(hi) < 0 {
		return Bound{Pressure, farthest * flood * l.Density, true}, nil
	}
	if failed != nil {
		return Bound{}, failed
	}
	log, err := root.Between(over, lo, hi, 1e-13)
	if failed != nil {
		err = failed
	} else if err != nil {
		// Even a ten-thousandth of the flood flow asks more than the head bears.
		least, _ := l.Head.drop(flood / 1e4)
		err = process.Within("bearable pressure", l.MostPressure, least, 1e9, "Pa", "own derivation")
	}
	return Bound{Pressure, math.Exp(log) * l.Density, false}, err
}

// heated is the mass flow the heat melts.
func (l Line) heated(flood Point) (float64, error) {
	h := l.Heating
	h.Shaft = 0
	alone, err := HeaterFlow(h)
	if err != nil {
		return 0, err
	}
	omega, pressure := l.MostSpeed, flood.Pressure
	if alone > 0 && alone/l.Density < flood.Flow {
		if omega, err = SpeedFor(l.Head, alone/l.Density, l.MostSpeed); err != nil {
			return 0, err
		}
		if pressure, err = l.Head.drop(alone / l.Density); err != nil {
			return 0, err
		}
	}
	if h.Shaft, err = l.Head.shaft(omega, pressure); err != nil {
		return 0, err
	}
	return HeaterFlow(h)
}

// shaft is the work of the pumping turns at a speed and pressure.
func (h Head) shaft(omega, pressure float64) (float64, error) {
	s := h.Screw
	a := Against{Pressure: pressure, Gap: 1}
	var err error
	if a.Channel, err = h.InScrew.Viscosity(omega * s.Diameter / (s.DepthIn + s.DepthOut)); err != nil {
		return 0, err
	}
	if s.Clearance > 0 {
		if a.Gap, err = h.InScrew.Viscosity(omega * s.Diameter / (2 * s.Clearance)); err != nil {
			return 0, err
		}
	}
	return ShaftPower(s, omega, a)
}

// Setting is how to run a screw for a flow.
type Setting struct {
	Omega    float64 // speed of the screw [rad/s]
	Starved  bool    // the intake decides: the pumping turns run part full
	Pressure float64 // before the nozzle [Pa]
	Shaft    float64 // work of the pumping turns [W]; high for a starved screw
	Duty     float64 // share of the time the heaters are on [–]; above 1 they cannot keep up
}

// RunAt returns speed, pressure and heater duty for a mass flow.
//
//	l     see its fields
//	flow  wanted mass flow [kg/s], above 0 to 1
//
// Equation: the larger of the speed that takes the flow in and the speed that pumps it.
// Holds for: as SpeedFor and IntakeFlow.
// Source: own derivation.
// Errors: RangeError for an argument out of range or a flow the drive does not reach.
// Checks: RunAt rows of checks.csv (1 second library, 1 own derivation, 1 refusal).
func RunAt(l Line, flow float64) (Setting, error) {
	if err := l.check(); err != nil {
		return Setting{}, err
	}
	most, err := IntakeFlow(l.Head.Screw, l.Feed, l.MostSpeed)
	if err != nil {
		return Setting{}, err
	}
	if err := within(limit{"mass flow the screw takes in", flow, 1e-12, most, "kg/s"}); err != nil {
		return Setting{}, err
	}
	var s Setting
	if s.Omega, err = SpeedFor(l.Head, flow/l.Density, l.MostSpeed); err != nil {
		return Setting{}, err
	}
	if feeding := l.MostSpeed * flow / most; feeding > s.Omega {
		s.Omega, s.Starved = feeding, true
	}
	if s.Pressure, err = l.Head.drop(flow / l.Density); err != nil {
		return Setting{}, err
	}
	if s.Shaft, err = l.Head.shaft(s.Omega, s.Pressure); err != nil {
		return Setting{}, err
	}
	heating := l.Heating
	heating.Shaft = s.Shaft
	s.Duty, err = HeaterDuty(heating, flow)
	return s, err
}

// UsualLoss is one entrance loss for a line of which nothing is known: the
// geometric middle of the melt package's range.
var UsualLoss = math.Sqrt(melt.UsualLosses.Low * melt.UsualLosses.High)
