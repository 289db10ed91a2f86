package screw

// Flow a turn from weighings, and the number to enter on the printer.

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/process"
	"hopperful/process/melt"
)

// Weighing is one run of the screw into a cup, at the speed and nozzle of the
// print: output a turn falls with back pressure.
type Weighing struct {
	Mass  float64 // what came out [kg], above 0 to 10
	Turns float64 // of the screw, above 0 to 1e5
}

// TurnMass is what a screw gives in a turn.
type TurnMass struct {
	melt.Mean      // [kg a turn]
	Coarse    bool // the scale's step is more than 1 % of a weighing: turn longer
}

// PerTurn returns the mass a screw gives in one turn, with scatter and interval.
//
//	runs  2 to 1000 weighings, see their fields
//	step  smallest step the scale shows [kg], 0 to 1
//
// Equation: mean of m/turns ± t(0.975, n−1) s/√n.
// Holds for: one lot, temperature, speed and nozzle. A new lot has another bulk density and viscosity: weigh again.
// Source: from memory; Student's t against Scipy2020.
// Errors: RangeError for a weighing or step out of range, or fewer than 2.
// Checks: PerTurn rows of checks.csv (1 second library, 3 own derivation, 2 refusals).
func PerTurn(runs []Weighing, step float64) (TurnMass, error) {
	if err := within(limit{"number of weighings", float64(len(runs)), 2, 1000, ""}, limit{"scale step", step, 0, 1, "kg"}); err != nil {
		return TurnMass{}, err
	}
	each, lightest := make([]float64, len(runs)), math.Inf(1)
	for i, r := range runs {
		if err := within(limit{"mass of the weighing", r.Mass, 1e-9, 10, "kg"}, limit{"turns of the weighing", r.Turns, 1e-6, 1e5, ""}); err != nil {
			return TurnMass{}, err
		}
		each[i], lightest = r.Mass/r.Turns, min(lightest, r.Mass)
	}
	mean, err := melt.Average(each)
	return TurnMass{mean, step > 0.01*lightest}, err
}

// FlowFactor returns the factor to enter on a printer so that it gives what it
// should, as value and interval [–].
//
//	now       factor in force while weighing [–], 0.01 to 100
//	wanted    mass a turn, or of the run, the printer reckoned with [kg], above 0 to 10
//	measured  mean and interval of the same, weighed [kg]
//
// Equation: new = now × wanted/measured.
// Holds for: small corrections, about ±20 %; a larger one moves the back pressure too, so weigh again after entering it.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or an interval that reaches 0.
// Checks: FlowFactor rows of checks.csv (1 second library, 1 own derivation, 1 refusal).
func FlowFactor(now, wanted float64, measured melt.Mean) (value float64, interval melt.Span, err error) {
	if err := within(limit{"flow factor in force", now, 0.01, 100, ""}, limit{"wanted mass", wanted, 1e-12, 10, "kg"},
		limit{"least of the weighed mass", measured.Range.Low, 1e-12, 10, "kg"},
		limit{"weighed mass", measured.Value, measured.Range.Low, 10, "kg"},
		limit{"most of the weighed mass", measured.Range.High, measured.Value, 20, "kg"}); err != nil {
		return 0, melt.Span{}, err
	}
	full := now * wanted
	return full / measured.Value, melt.Span{Low: full / measured.Range.High, High: full / measured.Range.Low}, nil
}

// WeighingsFor returns how many weighings pin a mean down to a tolerance.
//
//	scatter    standard deviation of one over the mean [–], 0 to 1
//	tolerance  half width of the 95 % interval over the mean [–], 1e-4 to 1
//
// Equation: the least n with t(0.975, n−1) scatter/√n ≤ tolerance.
// Holds for: independent weighings; at least 2, for without a second there is no scatter.
// Source: own derivation; Student's t against Scipy2020.
// Errors: RangeError for an argument out of range, or more than 1000 weighings.
// Checks: WeighingsFor rows of checks.csv (3 second library, 1 refusal).
func WeighingsFor(scatter, tolerance float64) (int, error) {
	if err := within(limit{"scatter", scatter, 0, 1, ""}, limit{"tolerance", tolerance, 1e-4, 1, ""}); err != nil {
		return 0, err
	}
	half := math.Inf(1)
	for n := 2; n <= 1000; n++ {
		half = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 1)}.Quantile(0.975) * scatter / math.Sqrt(float64(n))
		if half <= tolerance {
			return n, nil
		}
	}
	return 0, process.Within("tolerance", tolerance, half, 1, "", "own derivation")
}

// Change is how a new lot's flow a turn differs from the old one's.
type Change struct {
	Ratio    float64 // new over old [–]
	Distinct bool    // beyond chance at 95 %, Welch's test
}

// Changed returns whether a new lot needs a new flow factor.
//
//	old, fresh  weighings of both lots, by PerTurn or Average [kg a turn], 2 or more each
//
// Equation: Welch's t = (x̄₂ − x̄₁)/√(s₁²/n₁ + s₂²/n₂) against t(0.975, ν), ν after Satterthwaite.
// Holds for: few weighings of about normal scatter.
// Source: from memory; against Scipy2020.
// Errors: RangeError for fewer than 2 weighings or a mean not above 0.
// Checks: Changed rows of checks.csv (3 second library, 1 identity, 1 refusal).
func Changed(old, fresh melt.Mean) (Change, error) {
	for _, m := range []melt.Mean{old, fresh} {
		if err := within(limit{"number of weighings", float64(m.Count), 2, 1000, ""}, limit{"weighed mass", m.Value, 1e-12, 10, "kg"},
			limit{"scatter", m.Scatter, 0, 10, "kg"}); err != nil {
			return Change{}, err
		}
	}
	c := Change{Ratio: fresh.Value / old.Value}
	a := old.Scatter * old.Scatter / float64(old.Count)
	b := fresh.Scatter * fresh.Scatter / float64(fresh.Count)
	gap := math.Abs(fresh.Value - old.Value)
	if a+b == 0 {
		c.Distinct = gap > 0
		return c, nil
	}
	free := (a + b) * (a + b) / (a*a/float64(old.Count-1) + b*b/float64(fresh.Count-1))
	c.Distinct = gap > distuv.StudentsT{Mu: 0, Sigma: 1, Nu: free}.Quantile(0.975)*math.Sqrt(a+b)
	return c, nil
}
