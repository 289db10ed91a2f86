package process

import (
	"math"
	"testing"

	"hopperful/quantity"
)

// A kelvin is a temperature where the range begins at 100 K or, open below, ends there, and the name says so; a difference else.
func TestWhatAnArgumentMeasures(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, c := range []struct {
		e    RangeError
		want quantity.Kind
		ok   bool
	}{
		{RangeError{Name: "air temperature", Unit: "K", Lo: 100, Hi: 400}, quantity.Temperature, true}, {RangeError{Name: "air temperature", Unit: "K", Lo: 99, Hi: 400}, 0, false},
		{RangeError{Name: "dew point", Unit: "K", Lo: -inf, Hi: 100}, quantity.Temperature, true}, {RangeError{Name: "wet bulb", Unit: "K", Lo: -inf, Hi: 99}, 0, false}, {RangeError{Name: "rise", Unit: "K", Lo: 200, Hi: 400}, 0, false},
		{RangeError{Name: "air temperature", Unit: "m", Lo: 100, Hi: 400}, quantity.Length, true}, {RangeError{Name: "share", Lo: 0, Hi: 1}, quantity.Share, true}, {RangeError{Name: "level", Lo: 0, Hi: 1}, 0, false}, {RangeError{Name: "share", Unit: "kg"}, quantity.Mass, true},
	} {
		if got, ok := c.e.Quantity(); ok != c.ok || ok && got != c.want {
			t.Errorf("%+v measures %v, %t", c.e, got, ok)
		}
	}
	for want, e := range map[string]RangeError{
		"n 3 is below 3.5": {Name: "n", Value: 3, Lo: 3.5, Hi: inf}, "n 3 is not above 3": {Name: "n", Value: 3, Lo: 3, Hi: inf}, "n 4 is above 3": {Name: "n", Value: 4, Lo: -inf, Hi: 3}, "n 4 is outside 1 to 3": {Name: "n", Value: 4, Lo: 1, Hi: 3},
		"n 5 is below 3": {Name: "n", Value: 5, Lo: 3, Hi: inf}, "n +Inf is not finite": {Name: "n", Value: inf, Lo: -inf, Hi: inf}, "n is not a number": {Name: "n", Value: math.NaN(), Lo: 1, Hi: 3},
	} {
		if got := e.Error(); got != want {
			t.Errorf("got %q, wanted %q", got, want)
		}
	}
	for v, in := range map[float64]bool{1: true, 3: true, 0.999: false, 3.001: false, inf: false} {
		if (Within("n", v, 1, 3, "", "") == nil) != in || (Above("n", v, 0.9995, "", "") == nil) != (v > 0.9995 && !math.IsInf(v, 0)) {
			t.Errorf("%g", v)
		}
	}
	if Within("n", inf, 1, inf, "", "") == nil || Within("n", -inf, -inf, 1, "", "") == nil || Above("n", inf, 1, "", "") == nil {
		t.Error("what is without end is taken")
	}
}
