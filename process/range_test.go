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
		{Within("grain diameter", -1, 0, 0.1, "m", "own derivation"), "grain diameter -1 m is outside 0 to 0.1 m"},
		{Within("level", math.NaN(), 1, 5, "", ""), "level is not a number"},
		{Above("mass", 0, 0, "kg", ""), "mass 0 kg is below 0 kg"},
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
