package process

import (
	"fmt"
	"math"
)

// RangeError says that an argument lies outside the range in which a formula
// holds. Edges turn it into a sentence; they never parse its text.
type RangeError struct {
	Name   string  // the argument, in words: "grain diameter"
	Value  float64 // what was given, in Unit
	Lo, Hi float64 // the valid range, in Unit; ±Inf where it is open
	Unit   string  // SI unit symbol, "" for a pure number
	Source string  // whose range it is: a key of package source, or words
}

// Error renders the argument, its value and the valid range.
func (e *RangeError) Error() string {
	unit := ""
	if e.Unit != "" {
		unit = " " + e.Unit
	}
	switch {
	case math.IsNaN(e.Value):
		return fmt.Sprintf("%s is not a number", e.Name)
	case math.IsInf(e.Hi, 1) && math.IsInf(e.Lo, -1):
		return fmt.Sprintf("%s %g%s is not finite", e.Name, e.Value, unit)
	case math.IsInf(e.Hi, 1):
		return fmt.Sprintf("%s %g%s is below %g%s", e.Name, e.Value, unit, e.Lo, unit)
	case math.IsInf(e.Lo, -1):
		return fmt.Sprintf("%s %g%s is above %g%s", e.Name, e.Value, unit, e.Hi, unit)
	}
	return fmt.Sprintf("%s %g%s is outside %g to %g%s", e.Name, e.Value, unit, e.Lo, e.Hi, unit)
}

// Within returns nil when lo ≤ value ≤ hi and value is finite, else a
// *RangeError. Use [Above] where the lower end itself is excluded.
func Within(name string, value, lo, hi float64, unit, source string) error {
	if value >= lo && value <= hi && !math.IsInf(value, 0) {
		return nil
	}
	return &RangeError{Name: name, Value: value, Lo: lo, Hi: hi, Unit: unit, Source: source}
}

// Above returns nil when value > lo and value is finite, else a *RangeError.
func Above(name string, value, lo float64, unit, source string) error {
	if value > lo && !math.IsInf(value, 0) {
		return nil
	}
	return &RangeError{Name: name, Value: value, Lo: lo, Hi: math.Inf(1), Unit: unit, Source: source}
}
