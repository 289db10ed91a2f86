package sieving_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/sieving"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What the room makes of busy shops is as approved: go test ./plan/sieving -run AsApproved
// -update keeps what has been looked at.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	for _, luck := range []uint64{1, 2} {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck, 1)))
		lot := []shop.LotID{"R1", "R3"}[luck-1]
		a, err := sieving.OfRecord(s, s.Sievings(lot)[0].ID, sieving.Options{})
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprintf("stack%d", luck), a)
		screen, err := sieving.Screen(s, shoptest.Mill().Name)
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprintf("screen%d", luck), screen)
		beside, err := sieving.OfRecord(s, s.Sievings(lot)[0].ID, sieving.Options{With: []shop.LotID{"R2"}, Coarse: 2.5e-3, Fines: 0.8e-3, Equal: true, Books: true})
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprintf("beside%d", luck), beside)
	}
}

// A stack reckoned from pictures, one of two sieves, and one into which a run of the mill is
// told to have gone.
func TestOtherStacksAreAsApproved(t *testing.T) {
	t.Parallel()
	s := shoptest.Busy(t, rand.New(rand.NewPCG(1, 1)))
	photo := woven(0.1, []float64{4e-3, 2.8e-3, 2e-3, 1e-3, 0.5e-3}, 0.001, 0.01, 0.03, 0.04, 0.015, 0.004)
	photo.Lot, photo.Photo = "R2", &shop.Photographed{Pictures: 3, Grains: 800, Effective: 240, Shape: 0.9, Spread: 0.06, Seen: 0.3e-3}
	two := woven(0.1, []float64{2e-3, 1e-3}, 0.05, 0.04, 0.0099)
	two.Hole = shoptest.P(3e-3)
	one := woven(0.08, []float64{2e-3}, 0.04, 0.0385)
	run := woven(0.1, []float64{2.8e-3, 2e-3, 1e-3, 0.5e-3}, 0, 0.04, 0.04, 0.012, 0.007)
	run.Lot, run.Run = "R1", s.Records.At(10).ID
	for name, st := range map[string]sieving.Stack{"photo": photo, "two": two, "one": one, "run": run} {
		a, err := sieving.Of(s, st, sieving.Options{Books: true})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		checkrow.Approved(t, name, a)
	}
}
