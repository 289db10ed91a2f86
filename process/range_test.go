package process

import (
	"errors"
	"math"
	"testing"
)

func TestRangeErrorNamesValueAndRange(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		err  error
		want string
	}{
		{Within("grain diameter", -1, 0, 0.1, "m", "own derivation"), "grain diameter -1 m is outside 0 mm to 100 mm"},
		{Within("hole size", 0, 2e-5, 0.125, "m", ""), "hole size 0 mm is outside 20 µm to 125 mm"},
		{Within("air temperature", 400, 233.15, 333.15, "K", ""), "air temperature 127 °C is outside -40 °C to 60 °C"},
		{Within("rise of temperature", 400, 0, 300, "K", ""), "rise of temperature 400 K is outside 0 K to 300 K"},
		{Within("share of metal", 0.2, 0, 0.01, "", ""), "share of metal 20 % is outside 0 % to 1 %"},
		{Within("level", 9, 1, 5, "", ""), "level 9 is outside 1 to 5"},
		{Above("mass", -0.001, 0, "kg", ""), "mass -1 g is below 0 g"},
		{Within("level", math.NaN(), 1, 5, "", ""), "level is not a number"},
		{Above("mass", 0, 0, "kg", ""), "mass 0 g is not above 0 g"},
		{Within("share", math.Inf(1), math.Inf(-1), math.Inf(1), "", ""), "share +Inf is not finite"},
	} {
		var re *RangeError
		if !errors.As(c.err, &re) {
			t.Fatalf("%v is no RangeError", c.err)
		}
		if c.err.Error() != c.want {
			t.Errorf("got %q, want %q", c.err, c.want)
		}
	}
	if Within("x", 1, 1, 1, "", "") != nil || Above("x", 1, 0, "", "") != nil {
		t.Error("a value inside its range is no error")
	}
}
