package ageing

// Chains that water cuts in the melt.

import (
	"math"

	"hopperful/process"
)

const (
	waterMolar = 0.01801528 // [kg/mol], from memory of the standard atomic weights

	// FlowPower is the exponent of the melt viscosity in the molar mass [–]: 3.4,
	// for linear chains 3.2 to 3.9 (Azom2026).
	FlowPower = 3.4

	// ExtentMedian, ExtentLow and ExtentHigh are the share of the water that cuts
	// a chain before the melt leaves the nozzle [–], median and 10 to 90 %.
	// Judgement: the published fall of bottle PET dried to 50 ppm needs all of it,
	// while PLA printed air-damp would become water-thin; learn it with [Extent].
	ExtentMedian, ExtentLow, ExtentHigh = 0.2, 0.05, 1.0
)

func checkMolar(name string, mn float64) error {
	return process.Within(name, mn, 0.5, 1e4, "kg/mol", judged)
}

func checkPower(power float64) error {
	return process.Within("power of the molar mass", power, 1, 5, "", "Azom2026")
}

// CutsBy returns the chains that water cuts in a pass [mol/kg].
//
//	water   water in the plastic as it is melted, beyond what is usual for dried plastic [kg/kg], 0 to 0.1
//	extent  share of it that reacts [–], 0 to 1; 1 is the bound
//
// Equation: x w/M_w.
// Holds for: polyesters and polycarbonate; for polyamides, where chains also join again, it is a bound.
// Source: from memory of the stoichiometry of hydrolysis.
// Errors: RangeError for water or extent out of range.
// Checks: MolarMass rows of checks.csv (own derivation).
func CutsBy(water, extent float64) (float64, error) {
	if err := process.Within("water in the plastic", water, 0, 0.1, "kg/kg", judged); err != nil {
		return 0, err
	}
	if err := process.Within("share of the water that reacts", extent, 0, 1, "", derived); err != nil {
		return 0, err
	}
	return extent * water / waterMolar, nil
}

// MolarMass returns the number-average molar mass that is left [kg/mol].
//
//	fresh  that of the fresh plastic, Mn0 [kg/mol], 0.5 to 1e4
//	cuts   chains cut so far [mol/kg], 0 to 10
//
// Equation: 1/Mn = 1/Mn0 + cuts.
// Holds for: linear chains cut anywhere; the order of passes and blends does not matter, because chains are counted.
// Source: from memory of the stoichiometry of hydrolysis.
// Errors: RangeError for an argument out of range.
// Checks: MolarMass rows of checks.csv (own derivation).
func MolarMass(fresh, cuts float64) (float64, error) {
	if err := checkMolar("molar mass of the fresh plastic", fresh); err != nil {
		return 0, err
	}
	if err := process.Within("chains cut by water", cuts, 0, mostCuts, "mol/kg", judged); err != nil {
		return 0, err
	}
	return 1 / (1/fresh + cuts), nil
}

// FlowGain returns by what factor cut chains raise the melt flow [–].
//
//	fresh  molar mass of the fresh plastic, Mn0 [kg/mol], 0.5 to 1e4
//	cuts   chains cut [mol/kg], 0 to 10
//	power  power of the viscosity in the molar mass [–], 1 to 5; FlowPower where nothing is known
//
// Equation: (Mn0/Mn)^power = (1 + Mn0 cuts)^power.
// Holds for: melts of entangled linear chains whose spread of lengths stays; at the loads of a melt flow test the plastic shear-thins and the factor reads high.
// Source: Azom2026 for the power.
// Errors: RangeError for an argument out of range.
// Checks: FlowGain rows of checks.csv (own derivation).
func FlowGain(fresh, cuts, power float64) (float64, error) {
	left, err := MolarMass(fresh, cuts)
	if err != nil {
		return 0, err
	}
	if err := checkPower(power); err != nil {
		return 0, err
	}
	return math.Pow(fresh/left, power), nil
}
