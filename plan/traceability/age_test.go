package traceability_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func aged(t testing.TB, s *shop.State, id shop.LotID) traceability.LotAge {
	t.Helper()
	a, err := traceability.AgeOf(s, id)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, x := range a.Shares {
		sum += x
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("%s: shares add up to %g", id, sum)
	}
	for _, f := range a.Figures {
		if err := figure.Check(f); err != nil {
			t.Errorf("%s: %v", id, err)
		}
	}
	if _, err := json.Marshal(a); err != nil {
		t.Error(err)
	}
	return a
}

// A print of bought granulate has one pass, what is blended of it and new
// granulate the mean by mass (own derivation, counting).
func TestAgesAreCounted(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 1},
		&shop.Printed{From: "V1", Into: "P1", Print: "vase", Mass: 0.3},
		&shop.Sorted{From: "P1", Into: []shop.Part{{Lot: "S1", Mass: 0.3}}},
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.3, Product: shoptest.P(0.29), Run: 120},
		&shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.1}, {Lot: "V1", Mass: 0.3}}, Into: "B1"},
		&shop.Printed{From: "B1", Into: "P2", Print: "vase", Mass: 0.3})
	for _, c := range []struct {
		lot    shop.LotID
		mean   float64
		shares []float64
	}{
		{"V1", 0, []float64{1}}, {"P1", 1, []float64{0, 1}}, {"S1", 1, []float64{0, 1}}, {"R1", 1, []float64{0, 1}},
		{"B1", 0.25, []float64{0.75, 0.25}}, {"P2", 1.25, []float64{0, 0.75, 0.25}},
	} {
		a := aged(t, s, c.lot)
		if !a.Known || math.Abs(a.Mean.Value-c.mean) > 1e-9 || a.Mean.Low != a.Mean.High {
			t.Errorf("%s: mean %g (%g to %g), want %g", c.lot, a.Mean.Value, a.Mean.Low, a.Mean.High, c.mean)
		}
		for i, want := range c.shares {
			if i >= len(a.Shares) || math.Abs(a.Shares[i]-want) > 1e-9 {
				t.Errorf("%s: shares %v, want %v", c.lot, a.Shares, c.shares)
				break
			}
		}
	}
}

func TestScrapFromOutsideHasAtLeastOnePass(t *testing.T) {
	t.Parallel()
	a := aged(t, family(t), "S1")
	if a.Known || a.Judged.Value != 1 || a.Mean.Low != 1 || a.Mean.High <= a.Mean.Value || a.Shares[0] != 0 {
		t.Errorf("got %+v", a)
	}
}

// A measured melt flow stands before the forecast: ten seconds' cuts of 0.2 g
// are 12 g/10 min (own derivation).
func TestMeasuredFlowOverridesTheForecast(t *testing.T) {
	t.Parallel()
	before := aged(t, family(t), "R1")
	if before.MeltFlow == nil || before.MeltFlow.Basis != figure.Reckoned {
		t.Fatalf("got %+v", before.MeltFlow)
	}
	after := aged(t, family(t, &shop.FlowTested{Lot: "R1", Temperature: shoptest.P(463.15), Load: shoptest.P(2.16), CutTime: shoptest.P(10), Cuts: []float64{0.0002, 0.0002}}), "R1")
	if f := after.MeltFlow; f == nil || f.Basis != figure.Measured || math.Abs(f.Value*6e5-12) > 1e-9 || len(f.Records) != 1 {
		t.Errorf("got %+v", f)
	}
}

// What water-free passes take from PLA grows with age and never adds strength
// beyond a new print's at the median (studies pooled in package ageing).
func TestOlderLotsAreForecastWeaker(t *testing.T) {
	t.Parallel()
	s := family(t)
	fresh, old := aged(t, s, "V1"), aged(t, s, "P1")
	if fresh.Strength == nil || fresh.Strength.Value != 1 || old.Strength.Value >= 1 || old.Strength.Low > old.Strength.Value {
		t.Errorf("fresh %+v, old %+v", fresh.Strength, old.Strength)
	}
}

func TestUnknownPolymerHasNoForecast(t *testing.T) {
	t.Parallel()
	a := aged(t, shoptest.Bin(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Mass: 1}), "S1")
	if a.MeltFlow != nil || a.Strength != nil || len(a.Tables[0].Notes) == 0 {
		t.Errorf("got %+v", a)
	}
}

// The order in which parents are named makes no difference, and shares add up in
// any shop.
func TestAgesOfRandomShops(t *testing.T) {
	t.Parallel()
	for seed := range uint64(20) {
		s := tangled(t, rand.New(rand.NewPCG(seed, 3)), 40)
		for _, id := range s.Order {
			aged(t, s, id)
		}
	}
	one := family(t, &shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.1}, {Lot: "V1", Mass: 0.2}, {Lot: "B1", Mass: 0.1}}, Into: "B9"})
	two := family(t, &shop.Blended{From: []shop.Portion{{Lot: "B1", Mass: 0.1}, {Lot: "V1", Mass: 0.2}, {Lot: "R1", Mass: 0.1}}, Into: "B9"})
	if a, b := aged(t, one, "B9").Mean.Value, aged(t, two, "B9").Mean.Value; math.Abs(a-b) > 1e-12 {
		t.Errorf("%g and %g passes", a, b)
	}
}

func TestAgeRefusesALotThatIsNotThere(t *testing.T) {
	t.Parallel()
	if _, err := traceability.AgeOf(family(t), "R99"); err == nil {
		t.Error("no error")
	}
}
