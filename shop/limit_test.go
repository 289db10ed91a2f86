package shop_test

import (
	"testing"

	"hopperful/shop"
)

// TestLimits: each limit has our default until the shop sets its own, and none is
// another's.
func TestLimits(t *testing.T) {
	t.Parallel()
	v := 0.5
	set := map[shop.Limit]shop.ShopSet{
		shop.MostDust: {MostDust: &v}, shop.MostMetal: {MostMetal: &v}, shop.ChipShare: {ChipShare: &v}, shop.LeastStrength: {LeastStrength: &v},
		shop.MostPressure: {MostPressure: &v}, shop.MostBlocked: {MostBlocked: &v}, shop.LeastSure: {LeastSure: &v},
	}
	if len(set) != len(shop.Limits()) {
		t.Fatalf("%d of %d limits are tried", len(set), len(shop.Limits()))
	}
	for name, said := range set {
		for _, l := range shop.Limits() {
			got, own := said.Limit(l.Limit)
			want := l.Usual
			if l.Limit == name {
				want = v
			}
			if got != want || own != (l.Limit == name) {
				t.Errorf("%s set: %s is %g, own %v", name, l.Limit, got, own)
			}
		}
	}
}

// The defaults are told to people (docs/use/cli.md, the page of the shop); each stands for
// a verdict and is not moved by itself. Judgement throughout.
func TestDefaultLimits(t *testing.T) {
	t.Parallel()
	for limit, want := range map[shop.Limit]float64{
		shop.MostDust: 0.10, shop.MostMetal: 10e-6, shop.ChipShare: 1.0 / 3, shop.LeastStrength: 0.8, shop.MostPressure: 12e6, shop.MostBlocked: 0.05, shop.LeastSure: 0.9,
	} {
		if got, own := new(shop.ShopSet).Limit(limit); got != want || own {
			t.Errorf("%s is %g by default, told as %g", limit, got, want)
		}
	}
}
