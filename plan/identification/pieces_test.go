package identification_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/shop/shoptest"
)

// What pieces are after every single test, every pair of the first ones, a label and a shop's own lots: a line each as approved.
func TestManyPiecesAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	busy := shoptest.Busy(t, rand.New(rand.NewPCG(4, 1)))
	all := []identify.Finding{{Test: "rubbery", Yes: true}, {Test: "snaps", Yes: true}, {Test: "whitens", Yes: true}, {Test: "limp70", Yes: true}, {Test: "limp100", Yes: true}, {Test: "acetone", Yes: true}, {Test: "rings", Yes: true}, {Test: "waxy", Yes: true},
		{Test: "floats", Yes: true, At: 997}, {Test: "floats", Yes: true, At: 1150}, {Test: "sticks", Yes: true, At: 393.15}, {Test: "sticks", Yes: true, At: 473.15}}
	for i, f := range all {
		for _, yes := range []bool{true, false} {
			f.Yes = yes
			for k, opt := range []identification.Options{{Findings: []identify.Finding{f}}, {Findings: []identify.Finding{f, all[(i+3)%len(all)]}, Label: "ABS"}, {Findings: []identify.Finding{all[(i+5)%len(all)], f}, Lot: "S3"}} {
				s := emptyShop(t)
				if k == 2 {
					s = busy
				}
				got, err := identification.Identify(s, opt)
				if err != nil {
					fmt.Fprintf(&out, "%d %t %d refused\n", i, yes, k)
					continue
				}
				fmt.Fprintf(&out, "%d %t %d %s\n", i, yes, k, checkrow.Whole(t, got))
			}
		}
	}
	checkrow.ApprovedText(t, "pieces", out.String())
}
