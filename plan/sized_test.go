package plan_test

import (
	"testing"
	"time"

	"hopperful/figure"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Runs that nobody sieved say nothing of how large grains are, and no figure says that
// they did; a stack of one of them does. Temperatures are from the runs either way.
func TestSizesAreFromRunsOnceOneWasSieved(t *testing.T) {
	t.Parallel()
	bare := noted(t, kettle(), 3, nil)
	at := shoptest.Noon.Add(-time.Hour)
	sieved, err := bare.With(shop.Record{At: at, NotedAt: at, Body: &shop.Sieved{Lot: "R9", Run: 6, Charge: 0.05, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.01,
		Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.02}, {Opening: 1e-3, Mass: 0.02}}}})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		s    *shop.State
		want figure.Basis
	}{"unsieved": {bare, figure.Books}, "sieved": {sieved, figure.Learned}} {
		told := map[string]figure.Figure{}
		for _, f := range grind(t, c.s, bracket(0.5, "PLA")).Figures {
			told[f.Key] = f
		}
		for _, key := range []string{"d10", "d50", "d90", "fines"} {
			if f := told[key]; f.Basis != c.want || (f.Runs > 0) != (c.want == figure.Learned) {
				t.Errorf("%s: %s is %s, of %d runs", name, key, f.Basis, f.Runs)
			}
		}
		if f := told["energy"]; f.Basis != figure.Learned {
			t.Errorf("%s: energy is %s", name, f.Basis)
		}
	}
}
