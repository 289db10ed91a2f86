package upkeep_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/upkeep"
	"hopperful/shop"
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

// Twenty looks and repairs are listed, the newest first, of however many; what was done is told
// of each; blades weighed twice tell what they lost.
func TestLooksAreAsApproved(t *testing.T) {
	t.Parallel()
	all := []shop.Body{}
	for i := range 8 {
		all = append(all, run("R1"), service(shop.ScreenPart, shop.Inspected, shop.Yes), run("R1"), service(shop.BladePart, shop.Inspected, []shop.YesNo{shop.No, shop.Unknown}[i%2]),
			run("R2"), service([]shop.MillPart{shop.BladePart, shop.ScreenPart, shop.SealPart, shop.MagnetPart, shop.BearingPart}[i%5], []shop.Upkeep{shop.Replaced, shop.Repaired, shop.Sharpened, shop.FoundDamaged}[i%4], shop.No))
	}
	s := bin(t, all...)
	d, err := upkeep.Of(s, "Rattle", upkeep.Options{Spoilt: 900})
	if err != nil {
		t.Fatal(err)
	}
	found := d.Tables[len(d.Tables)-1]
	if len(found.Rows) != 20 || found.Rows[0][0].Value <= found.Rows[19][0].Value {
		t.Errorf("%d looks are listed, from %g to %g", len(found.Rows), found.Rows[0][0].Value, found.Rows[len(found.Rows)-1][0].Value)
	}
	checkrow.Approved(t, "looks", []any{d, upkeep.Advice(s), upkeep.Suspects(s)})
	none, err := upkeep.Of(bin(t), "Rattle", upkeep.Options{})
	if err != nil {
		t.Fatal(err)
	}
	checkrow.Approved(t, "none", none)
}
