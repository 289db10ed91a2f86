package plan_test

import (
	"testing"

	"hopperful/plan"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// chargeOf is how hot a plan expects its hottest charge in half of the draws [K].
func chargeOf(t *testing.T, g plan.Grinding) float64 {
	t.Helper()
	for _, l := range g.Limits {
		if l.Figure.Key == "charge_temperature" {
			return l.Figure.Value
		}
	}
	t.Fatalf("no charge is held against its limit: %s", shown(g))
	return 0
}

// A charge that was read warmer than the draws make it is believed for the limits: one
// reading in six runs, some ten kelvin over what is expected, lifts what is expected of
// the charges to come by a good part of that, and one as expected by next to nothing.
func TestAChargeReadWarmIsBelieved(t *testing.T) {
	t.Parallel()
	expected := func(read float64) float64 {
		s := noted(t, kettle(), 6, func(i int, b *shop.Ground) {
			b.Product, b.Left = shoptest.P(0.09), shoptest.P(0.03) // enough stays to hold a probe into
			if i == 4 && read > 0 {
				b.ChargeAfter = shoptest.P(273.15 + read)
			}
		})
		req := bracket(0.5, "PLA")
		req.Lots = []shop.LotID{"S1"}
		return chargeOf(t, grind(t, s, req))
	}
	unread := expected(0)
	if more := expected(50) - unread; more < 3 {
		t.Errorf("50 °C read lifts the hottest charge by %.1f K", more)
	}
	if more := expected(38) - unread; more > 2 {
		t.Errorf("38 °C read lifts the hottest charge by %.1f K", more)
	}
}
