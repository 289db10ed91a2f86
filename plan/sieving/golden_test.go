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
	}
}
