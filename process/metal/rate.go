package metal

// A rate of chips that learns from records.

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"hopperful/process"
)

// Rate is what is believed of chips (or blocked prints) per mass: a gamma
// distribution.
type Rate struct {
	Shape    float64 // as if that many had been found [–], 1e-6 to 1e9
	Exposure float64 // in that mass [kg], 0 to 1e9; 0 says nothing until something was looked at
}

// Check refuses a rate outside the ranges of its fields, or one that says nothing
// yet, with a RangeError.
func (r Rate) Check() error {
	if err := process.Within("shape of the rate", r.Shape, 1e-6, 1e9, "", judged); err != nil {
		return err
	}
	return process.Within("mass behind the rate", r.Exposure, 1e-9, 1e9, "kg", derived)
}

// Quantile is the rate below which the truth lies with a chance of p [1/kg]; p in
// 1e-9 to 1 − 1e-9.
func (r Rate) Quantile(p float64) (float64, error) {
	if err := r.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("chance", p, 1e-9, 1-1e-9, "", derived); err != nil {
		return 0, err
	}
	return mathext.GammaIncRegInv(r.Shape, p) / r.Exposure, nil
}

// Clean is the chance that the next mass holds none [–]; mass [kg] 0 to 1e6.
func (r Rate) Clean(mass float64) (float64, error) {
	if err := r.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("mass", mass, 0, mostKg, "kg", judged); err != nil {
		return 0, err
	}
	return math.Exp(-r.Shape * math.Log1p(mass/r.Exposure)), nil
}

// Learn returns what is believed of a rate after a record.
//
//	r      what was believed, see its fields
//	found  chips (or blocked prints) in it, 0 to 1e9
//	mass   looked through or printed [kg], 0 to 1e6
//
// Equation: Gamma(a, b) with k in m → Gamma(a + k, b + m).
// Holds for: one rate for all records; a new blade or screen is a new rate.
// Source: Aprender2026, the update of a Gamma-Poisson pair.
// Errors: RangeError for arguments out of range.
// Checks: Learn rows of checks.csv (published, second library).
func Learn(r Rate, found int, mass float64) (Rate, error) {
	if err := process.Within("shape of the rate", r.Shape, 1e-6, 1e9, "", judged); err != nil {
		return Rate{}, err
	}
	if err := process.Within("mass behind the rate", r.Exposure, 0, 1e9, "kg", judged); err != nil {
		return Rate{}, err
	}
	if err := process.Within("chips found", float64(found), 0, 1e9, "", judged); err != nil {
		return Rate{}, err
	}
	if err := process.Within("mass looked through", mass, 0, mostKg, "kg", judged); err != nil {
		return Rate{}, err
	}
	return Rate{r.Shape + float64(found), r.Exposure + mass}, nil
}
