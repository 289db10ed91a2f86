package dose

import (
	"math"
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// The share of dust by hand, from what lay on each sieve: below half a millimetre (ISO/IEC
// 80079-20-2's size of dust), and where no sieve is so fine, as if the pan's grains were
// spread evenly up to the finest.
func TestFinerByHand(t *testing.T) {
	t.Parallel()
	sieves := func(pan float64, rest ...float64) *shop.Sieved {
		b := &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: pan}
		for i := 0; i < len(rest); i += 2 {
			b.Sieves = append(b.Sieves, shop.OnSieve{Opening: rest[i], Mass: rest[i+1]})
		}
		return b
	}
	for name, c := range map[string]struct {
		sieved *shop.Sieved
		want   float64
		known  bool
	}{
		"a sieve of that size":  {sieves(0.02, 2e-3, 0.03, 0.5e-3, 0.05), 0.2, true},
		"finer ones below it":   {sieves(0.01, 2e-3, 0.03, 0.5e-3, 0.05, 0.25e-3, 0.01), 0.2, true},
		"finest 1 mm":           {sieves(0.02, 2e-3, 0.03, 1e-3, 0.05), 0.1, true},
		"finest 1 mm, no pan":   {sieves(0, 2e-3, 0.05, 1e-3, 0.05), 0, true},
		"between 0.4 and 2 mm":  {sieves(0.02, 2e-3, 0.05, 0.4e-3, 0.03), 0.05 * 0.25 / 0.1, true},
		"all finer than dust":   {sieves(0.05, 0.4e-3, 0.05), 0, false},
		"a hair off the size":   {sieves(0.02, 2e-3, 0.03, 0.5e-3*(1+1e-7), 0.05), 0.2, true},
		"a hair below the size": {sieves(0.02, 2e-3, 0.03, 0.5e-3*(1-1e-7), 0.05), 0.2, true},
	} {
		s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, c.sieved)
		got, known := finer(s, "R1")
		if known != c.known || math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%s: %g, %t; by hand %g, %t", name, got, known, c.want, c.known)
		}
	}
	if _, known := finer(shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}), "R1"); known {
		t.Error("a lot nobody sieved has its dust known")
	}
}
