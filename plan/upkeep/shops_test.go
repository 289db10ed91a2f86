package upkeep_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/upkeep"
	"hopperful/shop/shoptest"
)

// What is due in two busy shops, however dear a look and a loss are, and what lists of lives tell, a line each as approved.
func TestUpkeepOfManyShopsIsAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for luck := range uint64(2) {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck+3, 1)))
		for _, o := range []upkeep.Options{{}, {Look: 60}, {Look: 3600}, {Spoilt: 60}, {Spoilt: 7200, Look: 600}} {
			d, err := upkeep.Of(s, "", o)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&out, "%d %g %g %s %s\n", luck, o.Look, o.Spoilt, d.Head.Code, checkrow.Whole(t, d))
		}
		fmt.Fprintf(&out, "%d %s %s\n", luck, checkrow.Whole(t, upkeep.Advice(s)), checkrow.Whole(t, upkeep.Suspects(s)))
	}
	for i, l := range []upkeep.Lives{
		{Failed: []float64{3, 5, 8}}, {Failed: []float64{3, 5, 8}, Running: []float64{4, 9}}, {Failed: []float64{10, 11, 12, 12.5, 13, 9, 10.5, 11.5, 12, 11}}, {Failed: []float64{1, 20, 400, 3, 60}}, {Failed: []float64{7, 7.5}, Running: []float64{30}},
	} {
		d, err := upkeep.OfLives(l)
		if err != nil {
			fmt.Fprintf(&out, "lives %d refused\n", i)
			continue
		}
		fmt.Fprintf(&out, "lives %d %s %s\n", i, d.Head.Code, checkrow.Whole(t, d))
		for _, f := range d.Figures {
			fmt.Fprintf(&out, "  %s %.8g %.8g %.8g\n", f.Key, f.Value, f.Low, f.High)
		}
	}
	checkrow.ApprovedText(t, "shops", out.String())
}
