package books

import (
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What a kilogram costs is told with its drying where anything was dried, however little that costs.
func TestWhatACostFollowsFrom(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	scrap := shoptest.Scrap("PLA", "black", 2)
	scrap.Lot = "S1"
	ground := []shop.Body{scrap, &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.2, Product: p(0.19), Run: 90, Energy: p(4e4)}}
	dried := append(ground[:2:2], &shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 320, Time: 3600, In: p(0.19), Energy: p(1e4)})
	for want, of := range map[string][]shop.Body{"e·p + t·w": ground, "(e + e_dry)·p + t·w": dried} {
		o := always
		o.Granulate = p(9)
		b, err := Of(shoptest.Bin(t, of...), o)
		if err != nil {
			t.Fatal(err)
		}
		how := ""
		for _, f := range b.Document.Figures {
			if f.Key == "cost" {
				how = f.How
			}
		}
		if how != want {
			t.Errorf("a cost by %q, wanted %q", how, want)
		}
		saves := ""
		for _, s := range b.Document.Reasons {
			for _, f := range s.Figures {
				if f.Key == "granulate_saves" {
					saves = f.How
				}
			}
		}
		if (saves == "p_buy + e_dry·p − c") != (len(of) > 2) || saves == "" {
			t.Errorf("saved by %q", saves)
		}
	}
}
