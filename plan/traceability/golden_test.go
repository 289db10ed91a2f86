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
