package campaign

import (
	"math"
	"testing"

	"hopperful/figure"
	"hopperful/plan"
	"hopperful/shop"
)

// A charge gives no more than goes in, and its share of what all give; nothing is expected where nothing is planned. Half a charge counts.
func TestWhatAChargeGives(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		charge, product, charges float64
		want                     float64 // -1: nothing
	}{{0.1, 0.36, 4, 0.09}, {0.1, 0.5, 4, 0.1}, {0.1, 0.04, 0.5, 0.08}, {0.1, 0, 4, -1}, {0.1, 0.36, 0, -1}, {2, 0.5, 1, 0.5}} {
		var g plan.Grinding
		g.Setting.Charge.Value, g.Setting.Charges.Value, g.Product = c.charge, c.charges, figure.Figure{Value: c.product}
		got := cycleOf(g)
		if (got.Expect == nil) != (c.want < 0) || got.Expect != nil && math.Abs(*got.Expect-c.want) > 1e-12 || got.Charge != c.charge {
			t.Errorf("case %d: %+v", i, got)
		}
	}
}

// Charges are told where there are any and the shop is at hand; a forecast where it was read.
func TestWhenChargesAreTold(t *testing.T) {
	t.Parallel()
	s, c := of(t, 0.5)
	for i, k := range []*told{{state: s, c: c}, {c: c}, {}, {c: shop.Campaign{Runs: []shop.RecordID{7}}}} {
		if k.charges(); len(k.doc.Tables) != 0 {
			t.Errorf("case %d: %+v", i, k.doc.Tables)
		}
	}
	v := 0.09
	s, c = of(t, 0.5, &v)
	k := &told{state: s, c: c}
	if k.charges(); len(k.doc.Tables) != 1 || len(k.doc.Tables[0].Rows) != 1 {
		t.Errorf("%+v", k.doc.Tables)
	}
	for i, a := range []*Ahead{nil, {}, {Last: &plan.Compared{}}} {
		k := &told{state: s, c: c, a: a}
		if k.forecast(); len(k.doc.Tables)+len(k.doc.Reasons)+len(k.doc.Figures) != 0 {
			t.Errorf("case %d: %+v", i, k.doc)
		}
	}
}
