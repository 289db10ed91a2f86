package traceability_test

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func coloured(t testing.TB, s *shop.State, id shop.LotID) traceability.LotColour {
	t.Helper()
	c, err := traceability.ColourOf(s, id)
	if err != nil {
		t.Fatal(err)
	}
	if (c.Basis == traceability.ColourUnknown) != (c.Mixed == nil) || c.Head.Code == "" {
		t.Errorf("%s: got %+v", id, c)
	}
	if _, err := json.Marshal(c); err != nil {
		t.Error(err)
	}
	return c
}

func TestColourPickedIsShownAsPicked(t *testing.T) {
	t.Parallel()
	c := coloured(t, shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#c0402a", 1)), "R1")
	if c.Basis != traceability.ColourPicked || c.Mixed.RGB != "#c0402a" || c.Apart.Value > 1e-9 {
		t.Errorf("got %+v", c)
	}
}

// A little black ruins white in the melt, far less side by side (package
// colour; common practice, no source).
func TestBlackRuinsWhite(t *testing.T) {
	t.Parallel()
	c := coloured(t, shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 1), shoptest.Painted("R2", shop.Regrind, "#1c1c1c", 1),
		shoptest.Blended("B1", shop.Portion{Lot: "R1", Mass: 0.95}, shop.Portion{Lot: "R2", Mass: 0.05})), "B1")
	if c.Basis != traceability.ColourParents || c.Mixed.Lab[0] > c.Unmixed.Lab[0]-20 || c.Apart.Value < 10 {
		t.Errorf("got %+v", c)
	}
}

// Mixing in two steps, or in another order, gives the same colour.
func TestColoursMixInAnyOrder(t *testing.T) {
	t.Parallel()
	lots := []shop.Body{shoptest.Painted("R1", shop.Regrind, "#f5c400", 1), shoptest.Painted("R2", shop.Regrind, "#1e5aa8", 1), shoptest.Painted("R3", shop.Regrind, "#c0402a", 1)}
	por := func(id shop.LotID, kg float64) shop.Portion { return shop.Portion{Lot: id, Mass: kg} }
	var all []traceability.LotColour
	for _, steps := range [][]shop.Body{
		{shoptest.Blended("B2", por("R1", 0.1), por("R2", 0.2), por("R3", 0.3))},
		{shoptest.Blended("B2", por("R3", 0.3), por("R1", 0.1), por("R2", 0.2))},
		{shoptest.Blended("B1", por("R1", 0.2), por("R2", 0.4)), shoptest.Blended("B2", por("B1", 0.3), por("R3", 0.3))},
	} {
		all = append(all, coloured(t, shoptest.Bin(t, append(slices.Clone(lots), steps...)...), "B2"))
	}
	for _, c := range all[1:] {
		for i, v := range c.Mixed.Curve {
			if math.Abs(v-all[0].Mixed.Curve[i]) > 1e-9 || math.Abs(c.Unmixed.Curve[i]-all[0].Unmixed.Curve[i]) > 1e-9 {
				t.Fatalf("band %d: %g and %g", i, v, all[0].Mixed.Curve[i])
			}
		}
	}
}

func TestUnknownColourStaysUnknown(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#f2f2ee", 1), &shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "PLA", Colour: "white", Mass: 1},
		shoptest.Blended("B1", shop.Portion{Lot: "R1", Mass: 0.999}, shop.Portion{Lot: "R2", Mass: 0.001}))
	for _, id := range []shop.LotID{"R2", "B1"} {
		if c := coloured(t, s, id); c.Basis != traceability.ColourUnknown || !slices.Equal(c.Missing, []shop.LotID{"R2"}) {
			t.Errorf("%s: got %+v", id, c)
		}
	}
	if _, err := traceability.ColourOf(s, "R99"); err == nil {
		t.Error("no error")
	}
}
