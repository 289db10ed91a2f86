package reckon

import (
	"math"
	"testing"
)

// A settled loop with the share r of regrind holds r^n (1 − r) of plastic with n passes behind it: 1/(1 − r)
// passes on the mean that began in a mill, r/(1 − r) before the last. By hand for r = 1/2, chains of 50 kg/mol
// and a hundredth of a mole of cuts a kilogram a pass: two passes cut 0.02 mol/kg, so that the melt runs
// (1 + 1)/(1 + 1/2) to the power 3.4 faster than after one, and 1.2 times as fast for one pass of heat.
func TestSettledMeltByHand(t *testing.T) {
	t.Parallel()
	h := history{factor: 1.2, molar: 50, cuts: 0.01, brittle: 0.5}
	wet := loop{flow: true, cut: true, water: 1e-3}
	if got, want := wet.settled(0.5, h), 1.2*math.Pow(4./3, 3.4); math.Abs(got-want) > 1e-12*want {
		t.Errorf("wet half and half %g, wanted %g", got, want)
	}
	dry := loop{flow: true}
	for r, want := range map[float64]float64{0: 1, 0.5: 1.2, 2. / 3: 1.44, 0.75: 1.728} {
		if got := dry.settled(r, h); math.Abs(got-want) > 1e-12 {
			t.Errorf("dry with %g of regrind %g, wanted %g", r, got, want)
		}
	}
	if got := wet.settled(0, h); math.Abs(got-1) > 1e-12 {
		t.Errorf("without regrind %g, wanted 1", got)
	}
}
