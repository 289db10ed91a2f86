package breakage

// How much work the solver spends.

import (
	"fmt"
	"math"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// Trials are the work of a run on any machine. How long a step the solver tries, when it lets a class go and
// how it closes in on a stage or on a wanted share show in the last digits of its masses only; they are held
// here, beside the number of trials. Fewer for the same tolerance is better, and is kept by -run AsApproved -update.
// Other processors round the last digit otherwise and may take another way.
func TestWorkIsAsApproved(t *testing.T) {
	t.Parallel()
	if runtime.GOARCH != "amd64" {
		t.Skip("the work is kept of one kind of processor")
	}
	var out strings.Builder
	digits := func(v float64) string { return "=" + strconv.FormatFloat(v, 'e', 12, 64) } // as a word: to the last of them
	sums := func(c *Charge) string {
		held, passed := 0.0, 0.0
		for i := range c.Held {
			held, passed = held+float64(i+1)*c.Held[i], passed+float64(i+1)*c.Passed[i]
		}
		return digits(held) + " " + digits(passed) + " " + digits(c.Energy)
	}
	for _, tolerance := range []float64{1e-2, 1e-3, 1e-5} {
		for _, mass := range []float64{0.015, 0.1, 0.4} {
			m, g := benchMill(t, tolerance)
			fill := func() *Charge {
				c := NewCharge(g)
				if err := m.Fill(c, mass, 0.06, 0.03, 0.002); err != nil {
					t.Fatal(err)
				}
				return c
			}
			c := fill()
			s := m.begin(c)
			fmt.Fprintf(&out, "tolerance %g of %g kg first step %s\n", tolerance, mass, digits(s.step))
			for _, end := range []float64{0.5, 7, 7.001, 60, 900} {
				if err := m.advance(c, &s, end); err != nil {
					t.Fatal(err)
				}
				fmt.Fprintf(&out, "  up to %g trials %d first %d next %s power %s slope %s %s\n", end, s.count, s.first, digits(s.step), digits(s.now.perMass), digits(s.now.slope), sums(c))
			}
			for _, share := range []float64{0.02, 0.5, 0.93} {
				c := fill()
				time, reached, err := m.RunToShare(c, share, 900)
				if err != nil {
					t.Fatal(err)
				}
				if got := c.PassedMass() / mass; reached && math.Abs(got-share) > 1e-9 {
					t.Errorf("%g passed, wanted %g", got, share)
				}
				fmt.Fprintf(&out, "  to %g of it %t after %s %s\n", share, reached, digits(time), sums(c))
			}
		}
	}
	checkrow.ApprovedText(t, "work", out.String())
}
