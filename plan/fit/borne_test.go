package fit_test

import (
	"fmt"
	"strings"
	"testing"

	"hopperful/plan/fit"
	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// withDust is a sieving with so much dust.
func withDust(share float64) *shop.Sieved {
	return &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire,
		Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.02}, {Opening: 0.5e-3, Mass: 0.08 - 0.1*share}}, Pan: 0.1 * share}
}

// Prints of dusty lots teach how much dust the printer bears: good ones raise it, bad
// ones lower it, clean ones that went well teach next to nothing (own derivation:
// the signs of a posterior).
func TestPrintsTeachHowMuchDustIsBorne(t *testing.T) {
	t.Parallel()
	good := &shop.Printed{From: "R1", Print: "cup", Mass: 0.02, Good: shop.Yes}
	bad := &shop.Printed{From: "R1", Print: "cup", Mass: 0.02, Good: shop.No, Why: "bridged"}
	of := func(bodies ...shop.Body) traceability.DustBorne {
		return traceability.DustBorneBy(ground(t, "PLA", bodies...))
	}
	none := of()
	if none.Median != 0.10 || none.Prints != 0 || none.Own {
		t.Errorf("nothing on record: %+v", none)
	}
	raised := of(withDust(0.18), good, good, good, good)
	if raised.Median < 0.14 || raised.Prints != 4 || len(raised.Records) != 4 || raised.High-raised.Low > none.High-none.Low+0.1 {
		t.Errorf("four good prints with 18 %%: %+v", raised)
	}
	lowered := of(withDust(0.06), bad, bad, bad, bad)
	if lowered.Median > 0.095 || !(lowered.Low < lowered.Median && lowered.Median < lowered.High) {
		t.Errorf("four failed prints with 6 %%: %+v", lowered)
	}
	if clean := of(withDust(0.01), good, good, good); clean.Median < 0.099 || clean.Median > 0.102 {
		t.Errorf("clean prints taught %+v", clean)
	}
	if unsieved := of(good, good); unsieved.Prints != 0 {
		t.Errorf("prints of a lot nobody sieved taught %+v", unsieved)
	}
	own := of(&shop.ShopSet{Name: "s", MostDust: shoptest.P(0.2)})
	if own.Median != 0.2 || !own.Own || own.High > 0.26 {
		t.Errorf("the shop's own limit: %+v", own)
	}
}

// A limit of the shop's own decides, and the verdict says whose it is.
func TestLimitsAreTheShopsOwn(t *testing.T) {
	t.Parallel()
	verdicts := func(set ...shop.Body) (float64, string) {
		s := ground(t, "PLA", append(set, withDust(0.16))...)
		x := itemOf(t, judge(t, s, fit.Request{Lot: "R1", Need: vase(0.1, "PLA")}), "sizes")
		return x.Chance, fmt.Sprintf("%+v", x.Says)
	}
	strict, ours := verdicts()
	loose, yours := verdicts(&shop.ShopSet{Name: "s", MostDust: shoptest.P(0.4)})
	if !(loose > strict+0.2) {
		t.Errorf("with 16 %% dust: %g by our default, %g where the shop bears 40 %%", strict, loose)
	}
	if !strings.Contains(ours, "fit.by_our_limit") || !strings.Contains(yours, "fit.by_your_limit") {
		t.Errorf("said %q and %q", ours, yours)
	}
}
