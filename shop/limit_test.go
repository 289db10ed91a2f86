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
