package estimate

import (
	"math"
	"testing"
)

// Sizes from a picture may all be off together, which sieves are not: at each sieve the
// variance of the log odds grows by (2 s)², 2 being how steep the log odds of usual
// granulate are over ln x (own derivation).
func TestPicturesAreTrustedLess(t *testing.T) {
	t.Parallel()
	sieves := &Sieved{Openings: []float64{1e-3, 2e-3, 3e-3}, Passing: []float64{0.2, 0.6, 0.95}, Mass: 0.02}
	photo := *sieves
	photo.Spread = 0.11
	for i := range 2 {
		a, b := sieves.spread(i), photo.spread(i)
		if got, want := b*b-a*a, 0.22*0.22; math.Abs(got/want-1) > 1e-9 {
			t.Errorf("sieve %d: the variance grows by %g, wanted %g", i, got, want)
		}
	}
}
