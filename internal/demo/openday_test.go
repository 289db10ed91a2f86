package demo

import (
	"testing"

	"hopperful/plan/blend"
	"hopperful/plan/plausibility"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

// What the open day measured leads back to the values it was made with.
func TestTheOpenDayTeachesWhatIsTrue(t *testing.T) {
	t.Parallel()
	held, tinted := 0, 0
	const seeds = 10
	for seed := range uint64(seeds) {
		s, err := shop.Fold(records(t, seed))
		if err != nil {
			t.Fatal(err)
		}
		age, err := traceability.AgeOf(s, "R8")
		if err != nil {
			t.Fatal(err)
		}
		if age.PerPass == nil || age.Taught != 2 || !age.Known {
			t.Fatalf("seed %d: no pass was taught: %s", seed, age.Head.Code)
		}
		if age.PerPass.Low <= flowOfPass && flowOfPass <= age.PerPass.High {
			held++
		}
		c, err := traceability.ColourOf(s, "V1")
		if err != nil {
			t.Fatal(err)
		}
		if c.Parts[0].Scatter.Value < 1 { // natural granulate tints least
			tinted++
		}
		wet, err := traceability.AgeOf(s, "P19")
		if err != nil {
			t.Fatal(err)
		}
		if wet.Chains == nil || wet.Chains.Value > 0.97 {
			t.Errorf("seed %d: the damp print shows no water: %s", seed, wet.Head.Code)
		}
		for _, r := range s.Records.All() {
			if _, ok := r.Body.(*shop.Coloured); !ok {
				continue
			}
			if d := plausibility.Of(s, r.ID); len(d) > 0 {
				t.Errorf("seed %d: record %d is in doubt: %v", seed, r.ID, d)
			}
		}
	}
	if held < 0.8*seeds || tinted < 0.8*seeds {
		t.Errorf("of %d shops %d hold the factor of a pass in their range, %d found natural granulate to tint least", seeds, held, tinted)
	}
}

// The part of a wanted colour has a recipe of several lots under every limit, and
// something binds.
func TestThereIsARecipeWorthLookingAt(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		s, err := shop.Fold(records(t, seed))
		if err != nil {
			t.Fatal(err)
		}
		dust, water, metal, passes := 0.22, 0.001, 12e-6, 1.5
		b, err := blend.Find(s, blend.Request{Need: Wanted(), Fines: &dust, Moisture: &water, Metal: &metal, MeanAge: &passes, Now: today})
		if err != nil {
			t.Fatal(err)
		}
		if !b.Possible || len(b.Recipes[0].Portions) < 3 {
			t.Fatalf("seed %d: %s", seed, b.Says.Code)
		}
		binds := false
		total := 0.0
		for _, l := range b.Limits {
			binds = binds || l.Binds
		}
		for _, p := range b.Recipes[0].Portions {
			total += p.Mass.Value
		}
		if !binds || total < 0.130 || total > 0.2 { // of 130 g, and what nine of ten prints purge
			t.Errorf("seed %d: nothing binds, or %g kg: %s", seed, total, b.Says.Code)
		}
		for _, a := range b.Aside { // five lots of PLA are known well enough for every limit
			for _, known := range []shop.LotID{"R1", "R2", "R4", "R5", "V1"} {
				if a.Lot == known {
					t.Errorf("seed %d: %s is left aside: %s", seed, a.Lot, a.Why.Code)
				}
			}
		}
	}
}
