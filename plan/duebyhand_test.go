package plan

import (
	"math"
	"testing"

	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// A break rate that falls by so much a kilogram has fallen to a share of e^(−x) after x over that: told up to 500 kg, and not
// beyond; the upper end ends there as well.
func TestWhenABladeIsDue(t *testing.T) {
	t.Parallel()
	f := pressed(t, func(*shop.Mill, *Request) {}).known.fitted
	low, mid, high := f.Until(math.Exp(-1))
	if math.IsInf(mid, 1) || !math.IsInf(high, 1) {
		t.Fatalf("%g to %g kg: this tests nothing", low, high)
	}
	of := func(kg float64, told bool) *Wear {
		w := &Wear{Longer: math.Exp(-kg / mid), Ground: figure.Exact("ground_since", "learn.ground_since", quantity.Mass, 3, figure.Reckoned)}
		w.judge(estimate.Drift{Told: told, Slope: -0.01}, f)
		return w
	}
	for kg, due := range map[float64]bool{100: true, 499: true, 501: false} {
		w := of(kg, true)
		if (w.Left != nil) != due || (w.Verdict.Code == "learn.wears") != due || !due && w.Verdict.Code != "learn.no_wear" {
			t.Errorf("%g kg: %s", kg, w.Verdict.Code)
		}
		if w.Left == nil {
			continue
		}
		near(t, "left", w.Left.Value, kg)
		near(t, "at the least", w.Left.Low, low*kg/mid)
		near(t, "at the most", w.Left.High, 500)
		slope, _ := w.Verdict.Fact("slope")
		near(t, "a kilogram takes", slope.Value, math.Expm1(-0.01))
	}
	if w := of(100, false); w.Left != nil || w.Verdict.Code != "learn.no_wear_yet" {
		t.Errorf("nothing is told: %s", w.Verdict.Code)
	}
}
