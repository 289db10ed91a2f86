package process

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hopperful/quantity"
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

// Error renders the argument, its value and the valid range, in the units people
// write: "hole size 0 µm is outside 20 µm to 125 mm".
func (e *RangeError) Error() string {
	given := e.shown(e.Value)
	switch {
	case math.IsNaN(e.Value):
		return fmt.Sprintf("%s is not a number", e.Name)
	case math.IsInf(e.Hi, 1) && math.IsInf(e.Lo, -1):
		return fmt.Sprintf("%s %s is not finite", e.Name, given)
	case math.IsInf(e.Hi, 1) && e.Value <= e.Lo && given == e.shown(e.Lo):
		return fmt.Sprintf("%s %s is not above %s", e.Name, given, e.shown(e.Lo))
	case math.IsInf(e.Hi, 1):
		return fmt.Sprintf("%s %s is below %s", e.Name, given, e.shown(e.Lo))
	case math.IsInf(e.Lo, -1):
		return fmt.Sprintf("%s %s is above %s", e.Name, given, e.shown(e.Hi))
	}
	return fmt.Sprintf("%s %s is outside %s to %s", e.Name, given, e.shown(e.Lo), e.shown(e.Hi))
}

// kinds are the kinds of quantity by their SI unit, where the unit alone says
// which; a kelvin may be a temperature or a difference, no unit a share or a
// plain number.
var kinds = map[string]quantity.Kind{
	"m": quantity.Length, "m²": quantity.Area, "m³": quantity.Volume, "kg": quantity.Mass, "s": quantity.Duration,
	"W": quantity.Power, "J": quantity.Energy, "J/kg": quantity.SpecificEnergy, "Pa": quantity.Pressure, "kg/m³": quantity.Density,
	"m/s": quantity.Speed, "kg/s": quantity.MassFlow, "m³/s": quantity.VolumeFlow, "J/m²": quantity.ImpactStrength, "dB(A)": quantity.SoundLevel,
}

// coldestNamed parts temperatures from differences [K]: no range of a temperature
// here begins below it.
const coldestNamed = 100

// Quantity is what the argument measures, where its unit or its name tells.
func (e *RangeError) Quantity() (quantity.Kind, bool) {
	named := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(e.Name, w) })
	}
	switch {
	case e.Unit == "K" && named("temperature", "bulb", "dew point") && (e.Lo >= coldestNamed || math.IsInf(e.Lo, -1) && e.Hi >= coldestNamed):
		return quantity.Temperature, true
	case e.Unit == "" && named("share", "strength", "limit", "chance"):
		return quantity.Share, true
	}
	k, ok := kinds[e.Unit]
	return k, ok
}

// shown is a number in a unit people write.
func (e *RangeError) shown(si float64) string {
	if k, ok := e.Quantity(); ok && !math.IsInf(si, 0) {
		return k.Plain(si)
	}
	return strings.TrimSpace(fmt.Sprintf("%g %s", si, e.Unit))
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
