package traceability_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// All that is told of every lot of six busy shops, and of the loops of one: a line each, as approved, in which no
// number or word moves unseen.
func TestEveryLotIsAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	loop := append([]shop.Body{pp("V1"), tested("V1", 12)}, loops("V1", 4)...)
	loop = append(loop, tested("P1", 14), tested("P2", 15), tested("P3", 19), tested("P3", 21),
		&shop.TakenIn{Lot: "V5", Class: shop.Virgin, Polymer: "PET", Mass: 4, Price: shoptest.P(22)}, &shop.Printed{From: "V5", Into: "P5", Print: "cup", Mass: 1, Moisture: shoptest.P(0.004), Good: shop.Yes},
		&shop.Blended{From: []shop.Portion{{Lot: "P5", Mass: 0.3}, {Lot: "V5", Mass: 0.3}, {Lot: "P3", Mass: 0.02}}, Into: "B5"}, &shop.Printed{From: "B5", Into: "P6", Print: "cup", Mass: 0.4, Good: shop.No, Why: "brittle"})
	shops := []*shop.State{shoptest.Bin(t, loop...)}
	for luck := range uint64(6) {
		shops = append(shops, shoptest.Busy(t, rand.New(rand.NewPCG(luck+3, 1))))
	}
	for i, s := range shops {
		ager, made := ok(traceability.NewAger(s)), traceability.NewMadeOf(s)
		fmt.Fprintf(&out, "shop %d %s\n", i, checkrow.Whole(t, traceability.DustBorneBy(s)))
		for _, id := range s.Order {
			lot, _ := s.Lot(id)
			traced := ok(traceability.Trace(s, id))
			tint := ok(traceability.ColourOf(s, id))
			age := ok(traceability.AgeOf(s, id))
			fmt.Fprintf(&out, "%s %s\n", id, checkrow.Whole(t, []any{traced, tint, age}))
			strength := ok(ager.StrengthOf(lot))
			var kept []float64
			for _, x := range [][3]float64{{0, 0.9, 0.2}, {0.5, 0.95, 0.3}, {-1, 1, 0.1}, {1.2, 0.8, 0.4}} {
				kept = append(kept, ok(strength.Kept(x[0], x[1], x[2])))
			}
			fmt.Fprintf(&out, "  %.8g %.8g %s\n", kept, made.Price(lot), checkrow.Whole(t, []any{ok(strength.Chains()), ok(ager.Flow(lot)), traceability.StraysIn(s, lot), made.Strays(lot, "PLA")}))
		}
		for _, name := range []string{"PLA", "PETG", "PP"} {
			factor, studies, f, err := traceability.FlowPass(s, name)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&out, "%s %.8g %.8g %.8g %d %s\n", name, factor.Median, factor.Low, factor.High, len(studies), checkrow.Whole(t, f))
		}
	}
	checkrow.ApprovedText(t, "shops", strings.NewReplacer("[", "", "]", "").Replace(out.String()))
}

// ok gives what was answered, or ends the test.
func ok[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
