package answer

import (
	"math"
	"testing"
)

// Every step of the scale from both sides (Mastrandrea2010, table 1).
func TestTheScaleOfWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		chance float64
		known  bool
		want   Verdict
	}{
		{1, true, Yes}, {0.9, true, Yes}, {0.8999, true, Likely}, {0.667, true, Likely}, {0.666, true, Open}, {0.34, true, Open},
		{0.333, true, Unlikely}, {0.1, true, Unlikely}, {0.0999, true, No}, {0, true, No},
		{1, false, Likely}, {0.667, false, Likely}, {0.666, false, Unknown}, {0.34, false, Unknown}, {0.333, false, Unlikely}, {0, false, Unlikely},
		{math.NaN(), true, Unknown},
	} {
		if got := Judge(c.chance, c.known); got != c.want {
			t.Errorf("Judge(%g, %v) = %s, want %s", c.chance, c.known, got, c.want)
		}
		want := c.want
		if want == Yes {
			want = Fits
		}
		if got := Held(c.chance); c.known && got != want {
			t.Errorf("a limit kept in %g is %q, want %q", c.chance, got, want)
		}
	}
}
