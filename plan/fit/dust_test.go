package fit_test

import (
	"math"
	"testing"

	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Of 1100 g a tenth is below half a millimetre and three tenths below one: what
// stays is worked by hand, and does not change as the lot is used up.
func TestDustTakenOffCountsAgainstWhatTheLotHeldThen(t *testing.T) {
	t.Parallel()
	sieved := &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire,
		Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.02}, {Opening: 1e-3, Mass: 0.05}, {Opening: 0.5e-3, Mass: 0.02}}, Pan: 0.01}
	for _, c := range []struct {
		name    string
		dust    float64
		opening *float64
		want    float64
	}{
		{"fine sieve", 0.055, shoptest.P(0.25e-3), (0.110 - 0.055) / 1.045},
		{"not said", 0.055, nil, (0.110 - 0.055) / 1.045},
		{"coarse sieve", 0.060, shoptest.P(1e-3), (0.110 - 0.020) / 1.040},
		{"more than there was", 0.2, shoptest.P(0.5e-3), 0},
	} {
		for _, used := range []bool{false, true} {
			bodies := []shop.Body{sieved, &shop.Dedusted{Lot: "R1", Dust: c.dust, Opening: c.opening}}
			if used {
				bodies = append(bodies, &shop.Printed{From: "R1", Print: "vase", Mass: 0.7})
			}
			s := ground(t, "PLA", bodies...)
			got, err := traceability.DustLeft(s.Lots.At("R1"), s.Sievings("R1")[0])
			if err != nil || math.Abs(got-c.want) > 1e-9 {
				t.Errorf("%s, used %t: got %g, %v, want %g", c.name, used, got, err, c.want)
			}
		}
	}
}
