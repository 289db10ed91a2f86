package melt

// Entrance loss and flow curve from pressures measured on dies.

import (
	"math"

	"hopperful/process"
)

// Entrance is what dies of one bore and several lengths say about the loss at
// their mouth.
type Entrance struct {
	Pressure   float64 // loss at the mouth [Pa]
	WallStress float64 // true stress at the wall [Pa]
	Radii      float64 // the loss in die radii of length [–]
}

// Bagley returns the entrance loss and the true wall stress from the pressures
// of dies of the same bore at the same flow.
//
//	slenderness  length over bore of each die [–], 0 to 1000, not all alike
//	pressure     of each die [Pa], above 0 to 1e9
//
// Equation: p = p_e + 4 τ_w L/D, least squares; e = p_e/(2 τ_w).
// Holds for: dies too short for the pressure to stiffen or the shear to heat the melt.
// Source: own derivation.
// Errors: RangeError for lists of unlike length, fewer than 2 dies, or pressures that do not rise with length.
// Checks: Bagley rows of checks.csv (1 second library, 1 own derivation, 3 refusals).
func Bagley(slenderness, pressure []float64) (Entrance, error) {
	for i := range slenderness {
		if err := within(quantityIn{"length over bore", slenderness[i], 0, 1000, ""}); err != nil {
			return Entrance{}, err
		}
	}
	for i := range pressure {
		if err := within(quantityIn{"pressure", pressure[i], 1, mostPressure, "Pa"}); err != nil {
			return Entrance{}, err
		}
	}
	offset, slope, err := line(slenderness, pressure)
	if err != nil {
		return Entrance{}, err
	}
	if err := process.Above("rise of pressure with die length", slope, 0, "Pa", "own derivation"); err != nil {
		return Entrance{}, err
	}
	if err := process.Within("entrance loss", offset, 0, mostPressure, "Pa", "own derivation"); err != nil {
		return Entrance{}, err
	}
	return Entrance{offset, slope / 4, 2 * offset / slope}, nil
}

// FitTube returns the power law of a melt from flows and pressures of one tube:
// consistency [Pa sⁿ] and flow exponent [–].
//
//	t      the tube, its Flow unused; see its fields
//	flow   volume flows [m³/s], above 0 to 1e-2, not all alike
//	press  pressure at each flow, less any entrance loss [Pa], above 0 to 1e9
//
// Equation: ln Δp against ln Q by least squares; n is the slope, K = Δp R/(2L) / [(3n+1)/n · Q/(πR³)]ⁿ.
// Holds for: the rates measured.
// Source: own derivation.
// Errors: RangeError for lists of unlike length, fewer than 2 pairs, or pressures that do not rise with flow.
// Checks: FitTube rows of checks.csv (1 second library, 1 identity, 2 refusals).
func FitTube(t Tube, flow, press []float64) (consistency, exponent float64, err error) {
	if err := within(quantityIn{"radius", t.Radius, 1e-5, 0.1, "m"}, quantityIn{"length", t.Length, 1e-6, 10, "m"}); err != nil {
		return 0, 0, err
	}
	x, y := make([]float64, len(flow)), make([]float64, len(press))
	for i := range flow {
		if err := within(quantityIn{"volume flow", flow[i], 1e-18, mostFlow, "m³/s"}); err != nil {
			return 0, 0, err
		}
		x[i] = math.Log(flow[i])
	}
	for i := range press {
		if err := within(quantityIn{"pressure", press[i], 1e-3, mostPressure, "Pa"}); err != nil {
			return 0, 0, err
		}
		y[i] = math.Log(press[i])
	}
	offset, n, err := line(x, y)
	if err != nil {
		return 0, 0, err
	}
	if err := within(quantityIn{"flow exponent", n, leastN, mostN, ""}); err != nil {
		return 0, 0, err
	}
	unit := (3*n + 1) / n / (math.Pi * math.Pow(t.Radius, 3))
	return math.Exp(offset-n*math.Log(unit)) * t.Radius / (2 * t.Length), n, nil
}

// line fits y = offset + slope x by least squares.
func line(x, y []float64) (offset, slope float64, err error) {
	n := float64(len(x))
	if err := process.Within("number of pairs", n, 2, mostRepeats, "", "own derivation"); err != nil {
		return 0, 0, err
	}
	if err := process.Within("number of pressures", float64(len(y)), n, n, "", "own derivation"); err != nil {
		return 0, 0, err
	}
	mx, my := 0.0, 0.0
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	sxx, sxy := 0.0, 0.0
	for i := range x {
		sxx += (x[i] - mx) * (x[i] - mx)
		sxy += (x[i] - mx) * (y[i] - my)
	}
	if err := process.Above("spread of the settings", sxx, 0, "", "own derivation"); err != nil {
		return 0, 0, err
	}
	return my - sxy/sxx*mx, sxy / sxx, nil
}
