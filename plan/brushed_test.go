package plan_test

import (
	"testing"

	"hopperful/plan"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// TestWhatIsBrushedOutWasLeft: a maker who empties the mill writes that nothing is
// left in it and how much was thrown away. The next run then leaves as much as such
// a run leaves, and not nothing.
func TestWhatIsBrushedOutWasLeft(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.MillSet{Mill: converted()}, shoptest.Scrap("PLA", "black", 40))
	run := func(left, swept *float64) {
		level := 12
		next, err := s.With(shop.Record{At: s.Last, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R1", Charge: 0.09, Product: shoptest.P(0.068),
			Left: left, Swept: swept, Run: 60, Level: &level}})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	for range 4 {
		run(shoptest.P(0), shoptest.P(0.02))
	}
	run(shoptest.P(0.02), nil)
	c, err := plan.Compare(s, s.Newest().ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range c.Read {
		if r.Forecast.Key == "left" && (r.Forecast.Value < 0.01 || r.Forecast.Value > 0.03) {
			t.Errorf("after four runs that left 20 g it foretells %s (%s)", r.Forecast.Shown(), r.Forecast.ShownRange())
		}
	}
	if len(c.Read) == 0 {
		t.Error("nothing is foretold")
	}
}
