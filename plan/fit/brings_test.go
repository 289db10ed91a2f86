package fit_test

import (
	"math"
	"testing"
	"time"

	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What a lot brings into a blend is what the check of the lot alone says of its
// water and metal: the medians lie within a tenth, the ends within a quarter, for
// the check draws (here 240 times) and the blend reckons, or draws less.
func TestBringsAgreesWithTheCheck(t *testing.T) {
	t.Parallel()
	for name, more := range map[string][]shop.Body{
		"as ground": nil,
		"magnet":    {&shop.PassedMagnet{Lot: "R1", Metal: 0.05e-3, Passed: shoptest.P(0.5)}, &shop.PassedMagnet{Lot: "R1", Metal: 0.002, Passed: shoptest.P(0.5)}},
		"dried":     {&shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 318.15, Time: 2 * 3600}},
	} {
		s := ground(t, "PETG", more...)
		checked := judge(t, s, fit.Request{Lot: "R1", Need: vase(0.3, "PETG"), Draws: 240})
		b, err := fit.NewBrings(s, shoptest.Noon)
		if err != nil {
			t.Fatal(err)
		}
		water, err := b.Water(s.Lots.At("R1"))
		if err != nil {
			t.Fatal(err)
		}
		metal, err := b.Metal(s.Lots.At("R1"))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			what      string
			got, want figure.Figure
		}{{"water", water.Now, *itemOf(t, checked, "dry").Figure}, {"metal", *metal, *itemOf(t, checked, "metal").Figure}} {
			if err := figure.Check(c.got); err != nil {
				t.Error(err)
			}
			for _, x := range []struct {
				end       string
				got, want float64
				within    float64
			}{{"median", c.got.Value, c.want.Value, 0.1}, {"low end", c.got.Low, c.want.Low, 0.25}, {"high end", c.got.High, c.want.High, 0.25}} {
				if math.Abs(x.got/x.want-1) > x.within {
					t.Errorf("%s, %s: the %s is %g in a blend and %g by itself", name, c.what, x.end, x.got, x.want)
				}
			}
		}
		if water.Dried.Value > water.Now.Value || water.Dried.High > water.Now.High || figure.Check(water.Dried) != nil {
			t.Errorf("%s: dried %+v, now %+v", name, water.Dried, water.Now)
		}
	}
}

// Drying never adds water, however damp the room; and standing in the open after
// a drying never takes any out.
func TestDriedLotsOnlyTakeUpWater(t *testing.T) {
	t.Parallel()
	s := ground(t, "PLA", &shop.Dried{Lot: "R1", Way: shop.DryAir, Temperature: 320.65, Time: 12 * 3600})
	dried, _ := s.DriedLast("R1")
	last := 0.0
	for _, days := range []int{1, 2, 7, 60, 400} {
		b, err := fit.NewBrings(s, dried.At.Add(time.Duration(days)*24*time.Hour))
		if err != nil {
			t.Fatal(err)
		}
		w, err := b.Water(s.Lots.At("R1"))
		if err != nil {
			t.Fatal(err)
		}
		if w.Now.Value < last-1e-9 {
			t.Errorf("after %d days %g, before %g", days, w.Now.Value, last)
		}
		last = w.Now.Value
		if w.Dried.Value > w.Now.Value+1e-12 || w.Dried.Value > w.Wants+1e-12 && w.Dried.Value > w.Rest+1e-12 {
			t.Errorf("after %d days: now %g, dried %g, wants %g, rest %g", days, w.Now.Value, w.Dried.Value, w.Wants, w.Rest)
		}
	}
}
