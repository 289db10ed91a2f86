package sensing

import (
	"math"
	"testing"

	"hopperful/process/trace"
)

// A wall that rises by 0.01 K/s from 300 K passes 310 K after 1000 s, however long its run may last.
func TestHeadingOfALongRun(t *testing.T) {
	t.Parallel()
	var rising []trace.Reading
	for at := 0.0; at <= 60; at += 10 {
		rising = append(rising, trace.Reading{At: at, Value: 300 + at/100})
	}
	for _, end := range []float64{1800, 3660, 7200, 80000} {
		if _, passes, ok := heading(rising, 0, end, 310); !ok || math.Abs(passes-1000) > 0.1 {
			t.Errorf("with %g s to the end it is told to pass after %g s, wanted 1000 s", end, passes)
		}
	}
}
