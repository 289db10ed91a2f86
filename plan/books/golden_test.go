package books_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/books"
	"hopperful/shop/shoptest"
)

// What the room makes of busy shops is as approved: go test ./plan/books -run AsApproved
// -update keeps what has been looked at.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	for _, luck := range []uint64{1, 2} {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck, 1)))
		for name, o := range map[string]books.Options{
			"month": books.Month(shoptest.Noon.AddDate(0, 0, -20)),
			"weeks": {From: shoptest.Noon.AddDate(0, 0, -35), To: shoptest.Noon.AddDate(0, 0, -10), Granulate: shoptest.P(9), Filament: shoptest.P(22), Hour: shoptest.P(20.0 / 3600), Grid: shoptest.P(1e-7)},
		} {
			b, err := books.Of(s, o)
			if err != nil {
				t.Fatal(err)
			}
			checkrow.Approved(t, fmt.Sprintf("%s%d", name, luck), b)
		}
		lot, err := books.OfLot(s, "B2")
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprintf("lot%d", luck), lot)
	}
}
