package answer

import (
	"math"
	"testing"
)

// Nine in ten is what a plan asks for; the other two bounds are judgement.
func TestLimitsAreSaidByTheShareOfDraws(t *testing.T) {
	t.Parallel()
	for share, want := range map[float64]Verdict{1: "fits", 0.9: "fits", 0.89: "likely", 0.5: "likely", 0.49: "unlikely", 0.1: "unlikely", 0.09: "no", 0: "no"} {
		if got := Held(share); got != want {
			t.Errorf("%g is %q, want %q", share, got, want)
		}
	}
	if got := Held(math.NaN()); got != "not known yet" {
		t.Errorf("what was not drawn is %q", got)
	}
}
