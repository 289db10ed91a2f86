package sieving_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/sieving"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What every stack of two busy shops tells, and stacks of odd kinds, each part a line as approved.
func TestManyStacksAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	tell := func(name string, a sieving.Analysis, err error) {
		if err != nil {
			fmt.Fprintf(&out, "%s refused %s\n", name, strings.Fields(err.Error() + " -")[0])
			return
		}
		fmt.Fprintf(&out, "%s %s\n", name, checkrow.Whole(t, a))
	}
	for luck := range uint64(2) {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck+3, 1)))
		for _, lot := range []shop.LotID{"R1", "R2", "R3"} {
			for i, e := range s.Sievings(lot) {
				for k, o := range []sieving.Options{{}, {Books: true, Fines: 0.7e-3}} {
					a, err := sieving.OfRecord(s, e.ID, o)
					tell(fmt.Sprint(luck, lot, i, k), a, err)
				}
			}
		}
		screen, err := sieving.Screen(s, shoptest.Mill().Name)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&out, "%d screen %s\n", luck, checkrow.Whole(t, screen))
	}
	s := shoptest.Busy(t, rand.New(rand.NewPCG(1, 1)))
	sizes := []float64{4e-3, 2.8e-3, 2e-3, 1e-3, 0.5e-3}
	for i, st := range []sieving.Stack{
		woven(0.1, sizes, 0, 0.01, 0.03, 0.04, 0.015, 0.002), woven(0.1, sizes, 0, 0.01, 0.035, 0.04, 0.015, 0.004), woven(0.1, sizes, 0, 0, 0.04, 0.04, 0.0155, 0.0045),
		woven(0.1, sizes, 0, 0, 0, 0, 0, 0.1), woven(0.1, sizes, 0.07, 0.02, 0.005, 0.004, 0.001, 0), woven(0.1, sizes, 0.41, 0.41, 0.43, 0.45, 0.42, 0.41), woven(0, sizes, 0, 0, 0, 0, 0, 0), woven(0.02, []float64{1e-3}, 0.015, 0.005),
	} {
		st.Lot = "R2"
		a, err := sieving.Of(s, st, sieving.Options{})
		tell(fmt.Sprint("odd", i), a, err)
	}
	checkrow.ApprovedText(t, "stacks", out.String())
}
