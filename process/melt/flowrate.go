package melt

// Melt flow rate: the arithmetic of ISO 1133 and ASTM D1238, and the stress and
// rate that stand behind a number. A rate is kg/s here; 1 g/10 min is 1/600000 kg/s.

import (
	"math"

	"hopperful/process"
)

// The plastometer of ISO 1133 and ASTM D1238, all from memory.
const (
	DieRadius    = 1.0475e-3 // [m]
	DieLength    = 8.000e-3  // [m]
	BarrelBore   = 9.550e-3  // [m]
	PistonBore   = 9.474e-3  // [m]
	gravity      = 9.80665   // standard acceleration of free fall [m/s²], BIPM2019
	pistonArea   = math.Pi * PistonBore * PistonBore / 4
	barrelArea   = math.Pi * BarrelBore * BarrelBore / 4
	unevenSpread = 0.15 // spread of cuts above which ISO 1133 throws a test away; from memory
)

// CutRate returns the melt flow rate of one timed cut [kg/s].
//
//	mass  of the cut [kg], above 0 to 1
//	time  it ran [s], above 0 to 1e5
//
// Equation: MFR = m/t; the usual 600 m/t in g/10 min.
// Holds for: a cut without bubbles, of a melt that has warmed through.
// Source: from memory of ISO 1133.
// Errors: RangeError for an argument out of range.
// Checks: CutRate rows of checks.csv (1 own derivation, 1 refusal).
func CutRate(mass, time float64) (float64, error) {
	if err := within(quantityIn{"mass of the cut", mass, 1e-9, 1, "kg"}, quantityIn{"time of the cut", time, 1e-3, 1e5, "s"}); err != nil {
		return 0, err
	}
	return mass / time, nil
}

// Cut is one piece of extrudate.
type Cut struct {
	Mass float64 // [kg], above 0 to 1
	Time float64 // it ran [s], above 0 to 1e5
}

// FlowRate is a melt flow rate from several cuts.
type FlowRate struct {
	Mean          // [kg/s]
	Uneven   bool // the cuts spread by more than 15 % of their mean: ISO 1133 wants the test repeated (from memory)
	Coarse   bool // the scale's step alone is more than 1 % of a cut
	StepFrom Span // what the mean would be if every cut were half a scale step lighter or heavier [kg/s]
}

// TimedCuts returns the melt flow rate of a series of cuts.
//
//	cuts  2 to 1000 of them, see their fields; 3 or more are usual
//	step  smallest step the scale shows [kg], 0 to 0.1
//
// Equation: mean of m/t with Student's interval; half a step on every cut as a shared error.
// Holds for: as CutRate.
// Source: from memory of ISO 1133.
// Errors: RangeError for a cut or step out of range, or fewer than 2 cuts.
// Checks: TimedCuts rows of checks.csv (1 second library, 1 own derivation, 2 refusals).
func TimedCuts(cuts []Cut, step float64) (FlowRate, error) {
	if err := within(quantityIn{"scale step", step, 0, 0.1, "kg"}, quantityIn{"number of cuts", float64(len(cuts)), 2, mostRepeats, ""}); err != nil {
		return FlowRate{}, err
	}
	rates := make([]float64, len(cuts))
	lightest, shift := math.Inf(1), 0.0
	for i, c := range cuts {
		var err error
		if rates[i], err = CutRate(c.Mass, c.Time); err != nil {
			return FlowRate{}, err
		}
		lightest = min(lightest, c.Mass)
		shift += step / 2 / c.Time / float64(len(cuts))
	}
	mean, err := Average(rates)
	if err != nil {
		return FlowRate{}, err
	}
	return FlowRate{mean, mean.Spread > unevenSpread, step > 0.01*lightest, Span{mean.Value - shift, mean.Value + shift}}, nil
}

// LoadPressure returns the pressure under the piston of a plastometer [Pa].
//
//	load  mass on the die, with the piston [kg], 0.1 to 50
//
// Equation: p = M g/A_piston.
// Holds for: a free piston; friction takes some of it.
// Source: own derivation; geometry from memory of ISO 1133.
// Errors: RangeError for a load out of range.
// Checks: LoadPressure rows of checks.csv (4 own derivation, 1 refusal).
func LoadPressure(load float64) (float64, error) {
	if err := process.Within("load", load, 0.1, 50, "kg", "judgement"); err != nil {
		return 0, err
	}
	return load * gravity / pistonArea, nil
}
