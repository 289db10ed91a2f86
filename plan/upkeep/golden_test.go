package upkeep_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/upkeep"
	"hopperful/shop/shoptest"
)

// What the room makes of busy shops is as approved: go test ./plan/upkeep -run AsApproved
// -update keeps what has been looked at.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	for _, luck := range []uint64{1, 2} {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck, 1)))
		d, err := upkeep.Of(s, "", upkeep.Options{Look: float64(luck-1) * 240})
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprintf("mill%d", luck), []any{d, upkeep.Advice(s), upkeep.Suspects(s)})
	}
}
