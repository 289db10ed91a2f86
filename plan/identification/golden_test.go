package identification_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What the room makes of pieces, of mixed lots and of liquids is as approved: the numbers only
// notice that something moved. -run AsApproved -update keeps what has been looked at.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	found := func(all ...identify.Finding) []identify.Finding { return all }
	for i, c := range []struct {
		s   *shop.State
		opt identification.Options
	}{
		{emptyShop(t), identification.Options{}},
		{emptyShop(t), identification.Options{Findings: found(identify.Finding{Test: "limp70", Yes: true}), Label: "PETG"}},
		{emptyShop(t), identification.Options{Findings: found(identify.Finding{Test: "acetone", Yes: true}, identify.Finding{Test: "whitens"})}},
		{shoptest.Busy(t, rand.New(rand.NewPCG(1, 1))), identification.Options{Lot: "S2", Findings: found(identify.Finding{Test: "snaps", Yes: true})}},
	} {
		out, err := identification.Identify(c.s, c.opt)
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprint("piece", i), out)
	}
	for i, r := range []identification.MixedRequest{
		{Host: "PLA", Stray: "PETG", Pieces: 60, Wrong: 3}, {Host: "PETG", Stray: "PP", Liquid: 998, Floated: 0.046, Sank: 0.354, Piece: 0.002},
		{Host: "PLA", Stray: "PETG", Pieces: 1000, Wrong: 42}, {Host: "ABS", Stray: "ASA", Pieces: 30, Wrong: 2}, {Host: "PLA", Stray: "PVC", Pieces: 1000},
	} {
		out, err := identification.MixedShare(emptyShop(t), r)
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprint("mixed", i), out)
	}
	for i, r := range []identification.LiquidRequest{
		{Liquid: identify.Brine, Density: 1080}, {Liquid: identify.Water, Temperature: 288.15}, {Liquid: identify.Sugar, Strength: 0.5}, {Liquid: identify.Ethanol, Strength: 0.4, Temperature: 298.15},
		{Liquid: identify.Propanol, Density: 950}, {Liquid: identify.Chloride, Density: 1250},
	} {
		out, err := identification.Liquid(r)
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprint("liquid", i), out)
	}
}
