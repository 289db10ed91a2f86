package screw

// The number to enter on the printer after a weighing.

import "hopperful/process/melt"

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
