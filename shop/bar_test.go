package shop_test

import (
	"testing"

	"hopperful/shop"
)

// What must not be ground, dried or melted, by what is known of it. PVC gives
// off hydrogen chloride when hot (Novista2026, in polymer/cautions.csv); the
// rest is judgement on the side of care.
func TestBar(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		lot  shop.Lot
		code shop.BarCode // empty: nothing bars it
		says string
	}{
		{"cleared", shop.Lot{Polymer: "PLA", Halogen: shop.No}, "", ""},
		{"nobody said", shop.Lot{Polymer: "PLA"}, "", ""},
		{"suspected", shop.Lot{Polymer: "ABS", Halogen: shop.Yes}, shop.BarHalogen, "bar.halogen"},
		{"PVC", shop.Lot{Polymer: "PVC", Halogen: shop.No}, shop.BarPlastic, "bar.plastic"},
		{"PVC by another spelling", shop.Lot{Polymer: "pvc"}, shop.BarPlastic, "bar.plastic"},
		{"suspected PVC", shop.Lot{Polymer: "PVC", Halogen: shop.Yes}, shop.BarPlastic, "bar.plastic"},
		{"no name", shop.Lot{}, shop.BarUnknown, "bar.unknown"},
		{"unknown", shop.Lot{Polymer: "unknown"}, shop.BarUnknown, "bar.unknown"},
		{"unknown and suspected", shop.Lot{Halogen: shop.Yes}, shop.BarHalogen, "bar.halogen"},
		{"a name of the shop's own", shop.Lot{Polymer: "glow filament"}, "", ""},
	} {
		c.lot.ID = "S1"
		b := c.lot.Bar()
		switch {
		case c.code == "" && b != nil:
			t.Errorf("%s: barred: %s", c.name, b.Code)
		case c.code == "":
		case b == nil:
			t.Errorf("%s: not barred", c.name)
		case b.Code != c.code || b.Lot != "S1" || why(b) != c.says || b.Because().Empty():
			t.Errorf("%s: %+v %q", c.name, b, why(b))
		}
	}
}

func why(b *shop.Bar) string {
	why, _ := b.Says()
	return why.Code
}
