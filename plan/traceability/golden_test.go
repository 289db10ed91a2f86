package traceability_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What the room makes of busy shops is as approved: go test ./plan/traceability -run AsApproved
// -update keeps what has been looked at.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	for _, luck := range []uint64{1, 2} {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck, 1)))
		var all []any
		for _, id := range []shop.LotID{"R2", "B1", "B4", "P2", "S12"} {
			traced, err := traceability.Trace(s, id)
			if err != nil {
				t.Fatal(err)
			}
			tint, err := traceability.ColourOf(s, id)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, traced, tint)
		}
		checkrow.Approved(t, fmt.Sprintf("lots%d", luck), all)
	}
}

// The ages of lots whose passes, water, drying and melt flow are partly on record, their flow and
// strength, what the shop's own prints and colours taught: as approved, to notice that
// something moved.
func TestAgesAreAsApproved(t *testing.T) {
	t.Parallel()
	bodies := append([]shop.Body{pp("V1"), tested("V1", 12)}, loops("V1", 3)...)
	bodies = append(bodies, tested("P1", 13.5), tested("P2", 15), &shop.Blended{From: []shop.Portion{{Lot: "P1", Mass: 0.2}, {Lot: "V1", Mass: 0.6}}, Into: "B1"},
		&shop.TakenIn{Lot: "V2", Class: shop.Virgin, Polymer: "PETG", Mass: 4}, &shop.Dried{Lot: "V2", Way: shop.Oven, Temperature: 330, Time: 4 * 3600},
		&shop.Printed{From: "V2", Into: "P8", Print: "cup", Mass: 1, Moisture: shoptest.P(0.003), Good: shop.Yes}, &shop.Printed{From: "V2", Into: "P9", Print: "cup", Mass: 1},
		&shop.TakenIn{Lot: "S8", Class: shop.Scrap, Polymer: "PLA", Mass: 2}, &shop.TakenIn{Lot: "R8", Class: shop.Regrind, Polymer: "PET", Mass: 2})
	states := []*shop.State{shoptest.Bin(t, bodies...), shoptest.Busy(t, rand.New(rand.NewPCG(1, 1)))}
	for i, s := range states {
		w, err := traceability.NewAger(s)
		if err != nil {
			t.Fatal(err)
		}
		var all []any
		for _, id := range s.Order {
			age, err := traceability.AgeOf(s, id)
			if err != nil {
				t.Fatal(err)
			}
			lot, _ := s.Lot(id)
			strength, err := w.StrengthOf(lot)
			if err != nil {
				t.Fatal(err)
			}
			chains, err := strength.Chains()
			if err != nil {
				t.Fatal(err)
			}
			kept, err := strength.Kept(0.5, 0.95, 0.3)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, id, age.Mean, age.Oldest, age.Strength, age.MeltFlow, chains, kept)
		}
		checkrow.Approved(t, fmt.Sprint("ages", i), append(all, traceability.DustBorneBy(s)))
	}
}
