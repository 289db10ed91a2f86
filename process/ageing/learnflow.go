package ageing

// What all melt-flow tests of a shop teach of a pass.

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"hopperful/process"
)

// FlowTest is a melt flow rate measured on a lot, beside what is thought of the
// lot without it.
type FlowTest struct {
	Rate      float64   // [kg/s], 1e-12 to 1
	Doubt     float64   // standard error of its logarithm, the lot's own luck included [–], 1e-3 to 3
	Passes    float64   // mean passes of the lot [–], 0 to 1000
	Gain      float64   // factor of water in them [–], 1 to 1e6
	GainDoubt float64   // standard error of its logarithm, which all tests share [–], 0 to 20
	Grades    []float64 // share by mass of each grade of fresh plastic it goes back to [–], together 1
}

// FreshFlow is what the books say of the melt flow rate of fresh plastic.
type FreshFlow struct {
	Rate  float64 // [kg/s], 1e-12 to 1
	Grade float64 // standard error of its logarithm, each grade by itself [–], 1e-3 to 3
	Shift float64 // and all grades together, where the books were measured otherwise [–], 0 to 3
}

func (f FreshFlow) check() error {
	if err := process.Within("melt flow rate", f.Rate, leastFlow, mostFlow, "kg/s", judged); err != nil {
		return err
	}
	if err := process.Within("error of a grade", f.Grade, 1e-3, 3, "", judged); err != nil {
		return err
	}
	return process.Within("error of all grades", f.Shift, 0, 3, "", judged)
}

// mostTests bounds what is solved at once.
const mostTests = 1000

func (t FlowTest) check(grades int) error {
	for _, err := range [...]error{
		process.Within("melt flow rate", t.Rate, leastFlow, mostFlow, "kg/s", judged),
		process.Within("error of the melt flow", t.Doubt, 1e-3, 3, "", judged),
		process.Within("passes", t.Passes, 0, mostPasses, "", judged),
		process.Within("gain of the melt flow by water", t.Gain, 1, 1e6, "", judged),
		process.Within("error of the gain", t.GainDoubt, 0, 20, "", judged),
		process.Within("grades of a test", float64(len(t.Grades)), float64(grades), float64(grades), "", derived),
	} {
		if err != nil {
			return err
		}
	}
	sum := 0.0
	for _, s := range t.Grades {
		if err := process.Within("share of a grade", s, 0, 1+closes, "", derived); err != nil {
			return err
		}
		sum += s
	}
	return process.Within("sum of the shares of the grades", sum, 1-closes, 1+closes, "", derived)
}

// LearnFlow returns the factor of a pass after melt-flow tests of several lots
// under one load and temperature. Tests of fresh plastic tell where its lots
// begin; where there is none, the book's rate does, with its doubt.
//
//	prior  the factor as known before, see its fields
//	fresh  the book's rate of fresh plastic, see its fields
//	tests  the tests, see their fields, 1 to 1000
//
// Equation: ln MFR = Σ s_g b_g + h + n ln f + ln gain + u d + e with b_g, h, u and e normal; ln f by generalised least squares beside its prior.
// Holds for: one plastic under one load and temperature; passes that all do the same. Water all lots share in error tells nothing of the pass.
// Source: own derivation from the normal distribution with known errors.
// Errors: RangeError for an argument out of range.
// Checks: LearnFlow rows of checks.csv (second library, identity).
func LearnFlow(prior Factor, fresh FreshFlow, tests []FlowTest) (Factor, error) {
	for _, err := range [...]error{
		prior.Check(),
		fresh.check(),
		process.Within("tests", float64(len(tests)), 1, mostTests, "", judged),
	} {
		if err != nil {
			return Factor{}, err
		}
	}
	n, passes := len(tests), 0.0
	for _, t := range tests {
		if err := t.check(len(tests[0].Grades)); err != nil {
			return Factor{}, err
		}
		passes = max(passes, t.Passes)
	}
	s := prior.spread()
	if s == 0 || passes == 0 {
		return prior, nil
	}
	cov := mat.NewSymDense(n, nil)
	seen, counts := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i, t := range tests {
		seen.SetVec(i, math.Log(t.Rate/fresh.Rate/t.Gain))
		counts.SetVec(i, t.Passes)
		for k := i; k < n; k++ {
			o := tests[k]
			v := fresh.Shift*fresh.Shift + t.GainDoubt*o.GainDoubt
			for g, share := range t.Grades {
				v += fresh.Grade * fresh.Grade * share * o.Grades[g]
			}
			if k == i {
				v += t.Doubt * t.Doubt
			}
			cov.SetSym(i, k, v)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(cov) { // never, for every test has an error of its own
		return Factor{}, process.Above("spread of the tests", 0, 0, "", derived)
	}
	var weights mat.VecDense
	if err := chol.SolveVecTo(&weights, counts); err != nil {
		return Factor{}, err
	}
	known, told := 1/(s*s), mat.Dot(&weights, counts)
	mean := (math.Log(prior.Median)*known + mat.Dot(&weights, seen)) / (known + told)
	out := factorOf(mean, 1/math.Sqrt(known+told))
	return out, out.Check()
}
