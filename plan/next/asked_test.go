package next_test

import (
	"testing"

	"hopperful/plan/next"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Of three records that wait for an answer each is named; of four the fourth is counted.
func TestHowManyQuestionsAreNamed(t *testing.T) {
	t.Parallel()
	for slips, more := range map[int]float64{1: 0, 3: 0, 4: 1, 6: 3} {
		s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 9))
		for range slips {
			var err error
			if s, err = s.Admit(shoptest.Noon, shop.Record{At: shoptest.Noon, Body: &shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.9, Run: 120, Product: shoptest.P(0.89), Left: shoptest.P(0.005)}}); err != nil {
				t.Fatal(err)
			}
		}
		named, counted := 0, 0.0
		for _, a := range next.Of(s).Steps {
			switch a.Do.Code {
			case "do.answer_question":
				named++
			case "do.answer_questions":
				f, _ := a.Do.Fact("n")
				counted = f.Value
			}
		}
		if named != min(slips, 3) || counted != more {
			t.Errorf("of %d are named %d, and %g counted", slips, named, counted)
		}
	}
}
