package dose_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/dose"
	"hopperful/shop/shoptest"
)

// What the room makes of busy shops is as approved: go test ./plan/dose -run AsApproved
// -update keeps what has been looked at.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	for _, luck := range []uint64{1, 2} {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck, 1)))
		for day := range 3 {
			d, err := dose.Of(s, dose.Options{Day: shoptest.Noon.AddDate(0, 0, 7*day-40), Level: []float64{0, 92, 97}[day], Background: []float64{0, 0, 80}[day], Beside: []float64{0, 75, 0}[day], Floor: 12, Height: []float64{0, 2.4, 3}[day]})
			if err != nil {
				t.Fatal(err)
			}
			checkrow.Approved(t, fmt.Sprintf("day%d-%d", luck, day), d)
		}
	}
}
