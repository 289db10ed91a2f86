package plan_test

import (
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A product written down ten times too large is asked about; while it is, a plan that
// takes what lies there for granulate says first that it rests on that record.
func TestWhatCountsAsReadyOnARecordAskedAboutIsSaidFirst(t *testing.T) {
	t.Parallel()
	for product, asked := range map[float64]bool{0.115: false, 1.15: true} {
		s := noted(t, kettle(), 4, func(i int, b *shop.Ground) {
			if i == 3 {
				b.Product = shoptest.P(product)
			}
		})
		for _, need := range []float64{0.3, 2} { // enough is ready, and more is wanted
			g := grind(t, s, bracket(need, "PLA"))
			first := len(g.Spoilers) > 0 && g.Spoilers[0].Code == "plan.ready_asked"
			if first != asked || asked && g.Spoilers[0].Remedies[0].Code != "do.answer_question" {
				t.Errorf("%g kg out at the last, %g kg wanted: said first: %v, of %+v", product, need, first, g.Spoilers)
			}
		}
	}
}

// Three charges of which next to nothing came out, and what was found inside is not on record:
// each is asked about. That they were run, and how warm they came out, is known all the same:
// as long as nobody answers, too, forecasts rest on it.
func TestAChargeOfLittleProductIsNotForgotten(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 6, func(i int, b *shop.Ground) {
		b.Left = nil
		if i >= 3 {
			b.Charge, b.Product, b.ChargeAfter, b.WallAfter = 0.12, shoptest.P(0.002), shoptest.P(273.15+65), shoptest.P(273.15+40)
		}
	})
	if asked := s.Asks(); len(asked) != 3 {
		t.Fatalf("asked is %+v", asked)
	}
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	if hot := chargeOf(t, grind(t, s, req)) - 273.15; hot < 50 {
		t.Errorf("after three charges at 65 °C the hottest is expected at %.0f °C", hot)
	}
}
