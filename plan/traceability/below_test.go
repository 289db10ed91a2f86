package traceability

import (
	"math"
	"testing"

	"hopperful/shop"
)

// Of 100 g with 30 g on a sieve of 0.4 mm, 50 g on 0.2 mm and 20 g in the pan, below 0.5 mm lie the 70 g that passed the coarsest at the
// least, below 0.4 mm 70 g, below 0.2 mm 20 g, and below 0.1 mm the pan's 20 g at the most.
func TestBelowBeyondTheStack(t *testing.T) {
	t.Parallel()
	a, err := Analysis(&shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.02, Sieves: []shop.OnSieve{{Opening: 0.4e-3, Mass: 0.03}, {Opening: 0.2e-3, Mass: 0.05}}})
	if err != nil {
		t.Fatal(err)
	}
	for size, want := range map[float64]float64{0.5e-3: 0.7, 0.4e-3: 0.7, 0.2e-3: 0.2, 0.1e-3: 0.2} {
		if got, err := below(a, size); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("below %g m lies %g, by hand %g (%v)", size, got, want, err)
		}
	}
}
