package screw

// The measures of a screw, and which cannot be.

import (
	"math"

	"hopperful/process"
)

// Screw is a single-start screw in its barrel.
type Screw struct {
	Diameter  float64 // bore of the barrel D [m], 4 mm to 0.3 m
	Lead      float64 // way along the axis in one turn [m], 0.3 D to 2.5 D
	Flight    float64 // width of the flight across it e [m], 0 to a third of the lead; 0 is a thin one
	Clearance float64 // between flight and barrel δ [m], 0 to a third of DepthOut; above 0 only with a Flight
	FeedDepth float64 // depth of the channel under the hopper [m], DepthIn to 0.45 D
	DepthIn   float64 // depth where the pumping turns begin [m], DepthOut to FeedDepth
	DepthOut  float64 // depth at the tip h [m], above 0, a tenth of FeedDepth or more
	Pump      float64 // length of the pumping turns L [m], half a lead to 100 D
	Heated    float64 // length of the barrel that melts, pumping turns included [m], Pump to 200 D
}

// limit is one measure with its range.
type limit struct {
	name          string
	value, lo, hi float64
	unit          string
}

func within(all ...limit) error {
	for _, l := range all {
		if err := process.Within(l.name, l.value, l.lo, l.hi, l.unit, "judgement"); err != nil {
			return err
		}
	}
	return nil
}

// Check refuses a screw that cannot be, with a RangeError that names the first
// measure at fault.
func (s Screw) Check() error {
	if err := within(
		limit{"bore of the barrel", s.Diameter, 0.004, 0.3, "m"},
		limit{"lead of the screw", s.Lead, 0.3 * s.Diameter, 2.5 * s.Diameter, "m"},
		limit{"flight width", s.Flight, 0, s.Lead / 3, "m"},
		limit{"depth of the feed channel", s.FeedDepth, 1e-4, 0.45 * s.Diameter, "m"},
		limit{"depth at the tip", s.DepthOut, s.FeedDepth / 10, s.FeedDepth, "m"},
		limit{"depth where pumping begins", s.DepthIn, s.DepthOut, s.FeedDepth, "m"},
		limit{"clearance of the flight", s.Clearance, 0, s.DepthOut / 3, "m"},
		limit{"length of the pumping turns", s.Pump, s.Lead / 2, 100 * s.Diameter, "m"},
		limit{"heated length", s.Heated, s.Pump, 200 * s.Diameter, "m"},
	); err != nil {
		return err
	}
	if s.Clearance > 0 {
		return process.Above("flight width of a screw with clearance", s.Flight, 0, "m", "own derivation")
	}
	return nil
}

// helix is the angle of the flight at the barrel.
func (s Screw) helix() float64 { return math.Atan(s.Lead / (math.Pi * s.Diameter)) }

// width is that of the channel across the flight.
func (s Screw) width() float64 { return s.Lead*math.Cos(s.helix()) - s.Flight }

// dragDepth and cubicDepth are what a channel that tapers evenly counts for in
// drag and in back flow: ∫h⁻²/∫h⁻³ and 1/(mean of h⁻³).
func (s Screw) dragDepth() float64 {
	return 2 * s.DepthIn * s.DepthOut / (s.DepthIn + s.DepthOut)
}

func (s Screw) cubicDepth() float64 {
	p := s.DepthIn * s.DepthOut
	return 2 * p * p / (s.DepthIn + s.DepthOut)
}

// TurnVolume returns the room in one turn of the feed channel [m³].
//
//	s  see its fields
//
// Equation: V = π H (D − H) lead (1 − e/(lead cos φ)).
// Holds for: straight-sided channels; rounded roots hold a few per cent less.
// Source: own derivation.
// Errors: RangeError for a screw that cannot be.
// Checks: TurnVolume rows of checks.csv (2 own derivation).
func TurnVolume(s Screw) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	return s.ring(s.FeedDepth) * s.Lead, nil
}

// ring is the open cross-section at a depth.
func (s Screw) ring(depth float64) float64 {
	return math.Pi * depth * (s.Diameter - depth) * (1 - s.Flight/(s.Lead*math.Cos(s.helix())))
}

// MeltVolume returns the room for melt in the pumping turns and in what lies
// between them and the nozzle's opening [m³].
//
//	s     see its fields
//	head  room in adapter and nozzle [m³], 0 to 1e-3
//
// Equation: V = ring at the mean depth × L + head.
// Holds for: full pumping turns. A starved screw holds less; turns where the bed still melts hold melt too, so residence reads short.
// Source: own derivation.
// Errors: RangeError for a screw that cannot be or a room out of range.
// Checks: MeltVolume rows of checks.csv (2 own derivation, 1 refusal).
func MeltVolume(s Screw, head float64) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	if err := within(limit{"room in adapter and nozzle", head, 0, 1e-3, "m³"}); err != nil {
		return 0, err
	}
	return s.ring((s.DepthIn+s.DepthOut)/2)*s.Pump + head, nil
}
