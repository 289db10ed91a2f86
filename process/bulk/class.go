package bulk

// Flow classes: compressibility index and Hausner ratio.

import (
	"math"

	"hopperful/process"
)

// Flow is a class of flow, best first.
type Flow int

// The classes.
const (
	Excellent Flow = iota
	Good
	Fair
	Passable
	Poor
	VeryPoor
	VeryVeryPoor
)

// String is the class in the table's words.
func (f Flow) String() string {
	names := [...]string{"excellent", "good", "fair", "passable", "poor", "very poor", "very, very poor"}
	if f < 0 || int(f) >= len(names) {
		return "unknown"
	}
	return names[f]
}

// The last value of each class as printed; what lies above belongs to the next.
var (
	carrEnds    = [...]float64{10, 15, 20, 25, 31, 37}
	hausnerEnds = [...]float64{1.11, 1.18, 1.25, 1.34, 1.45, 1.59}
)

// classOf rounds to the digits printed, so that no value falls into the gaps
// between the printed classes, and finds the class.
func classOf(v, digit float64, ends []float64) Flow {
	// Half a digit stays half a digit whatever the last bits say.
	v = math.Floor(v/digit+0.5+1e-9) * digit
	for i, end := range ends {
		if v <= end+digit/1000 {
			return Flow(i)
		}
	}
	return VeryVeryPoor
}

func checkPair(bulk, tapped float64) error {
	if err := checkDensity("bulk density", bulk); err != nil {
		return err
	}
	return process.Within("tapped density", tapped, bulk, 5000, "kg/m³", derived)
}

// Carr returns the compressibility index [–]: 0.13 is 13 %.
//
//	bulk    poured density [kg/m³], 10 to tapped
//	tapped  tapped density [kg/m³], to 5000
//
// Equation: C = (ρ_t − ρ_b)/ρ_t.
// Holds for: powders and granules; blunt for chips of some millimetres.
// Source: Usp2006, <1174>.
// Errors: RangeError for densities out of range or a tapped density below the poured one.
// Checks: Carr rows of checks.csv (own derivation).
func Carr(bulk, tapped float64) (float64, error) {
	if err := checkPair(bulk, tapped); err != nil {
		return 0, err
	}
	return (tapped - bulk) / tapped, nil
}

// Hausner returns tapped over poured density [–].
//
//	bulk    poured density [kg/m³], 10 to tapped
//	tapped  tapped density [kg/m³], to 5000
//
// Equation: H = ρ_t/ρ_b = 1/(1 − C).
// Holds for: as Carr.
// Source: Usp2006, <1174>.
// Errors: RangeError for densities out of range or a tapped density below the poured one.
// Checks: Hausner rows of checks.csv (own derivation).
func Hausner(bulk, tapped float64) (float64, error) {
	if err := checkPair(bulk, tapped); err != nil {
		return 0, err
	}
	return tapped / bulk, nil
}

// ClassFlow returns the class of flow from poured and tapped density.
//
//	bulk    poured density [kg/m³], 10 to tapped
//	tapped  tapped density [kg/m³], to 5000
//
// Equation: the worse of the class of C in whole percent and that of H in hundredths.
// Holds for: as Carr. The printed classes have gaps and the two indices can fall on different sides of one; values are rounded to the printed digits first, halves up, and the worse class counts.
// Source: Usp2006, <1174>, table 2.
// Errors: RangeError for densities out of range or a tapped density below the poured one.
// Checks: ClassFlow rows of checks.csv (published).
func ClassFlow(bulk, tapped float64) (Flow, error) {
	c, err := Carr(bulk, tapped)
	if err != nil {
		return 0, err
	}
	return max(classOf(100*c, 1, carrEnds[:]), classOf(tapped/bulk, 0.01, hausnerEnds[:])), nil
}
