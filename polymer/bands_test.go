package polymer

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// What is taken of each property and how widely one number is taken: a slip in a shop's own
// value is caught by these ends, so moving one is a change somebody must see.
func TestBandsAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for _, d := range Properties() {
		fmt.Fprintf(&out, "%s %s %.8g %.8g %s %.8g\n", d.Property, d.Kind.SI(), d.Lo, d.Hi, d.Shape, d.Scatter)
	}
	checkrow.ApprovedText(t, "bands", out.String())
}

// Every property takes an own value at both of its ends, and refuses the next beyond; a single
// number gets its usual scatter, which leaves neither the band nor the number.
func TestOwnValuesAtTheEdge(t *testing.T) {
	t.Parallel()
	for _, d := range Properties() {
		span := d.Hi - d.Lo
		for _, v := range []float64{d.Lo, d.Hi} {
			own, err := Own("mine", d.Property, v, 0, 0, Entered, "")
			if err != nil || own.Low > v || own.High < v || own.Low < d.Lo || own.High > d.Hi || v == 0 {
				if v == 0 && err == nil { // a share of nothing has no scatter of its own
					continue
				}
				t.Errorf("%s of %g: %+v %v", d.Property, v, own, err)
			}
		}
		for _, v := range []float64{d.Lo - 1e-6*span, d.Hi + 1e-6*span} {
			var off *OffError
			if _, err := Own("mine", d.Property, v, v, v, Entered, ""); !errors.As(err, &off) || off.Disordered() || off.Lo != d.Lo || off.Hi != d.Hi {
				t.Errorf("%s of %g: %v", d.Property, v, err)
			}
		}
		mid := (d.Lo + d.Hi) / 2
		low, high := d.span(mid)
		switch d.Shape {
		case Normal:
			if math.Abs(mid-low-d.Scatter) > 1e-9 || math.Abs(high-mid-d.Scatter) > 1e-9 {
				t.Errorf("%s: %g has %g to %g", d.Property, mid, low, high)
			}
		case Exact:
			if low != mid || high != mid {
				t.Errorf("%s: %g has %g to %g", d.Property, mid, low, high)
			}
		default:
			if math.Abs(low*d.Scatter/mid-1) > 1e-9 || math.Abs(high/mid/d.Scatter-1) > 1e-9 {
				t.Errorf("%s: %g has %g to %g", d.Property, mid, low, high)
			}
		}
	}
	share := Description{Shape: Logit, Scatter: 1.5}
	if low, high := share.span(0.9); math.Abs(low-0.6) > 1e-12 || high != 1 {
		t.Errorf("a share of 0.9 has %g to %g, more than the whole", low, high)
	}
	if low, high := share.span(0.6); math.Abs(low-0.4) > 1e-12 || math.Abs(high-0.9) > 1e-12 {
		t.Errorf("a share of 0.6 has %g to %g", low, high)
	}
}

// What a value holds under is told in its parts, and only those there are.
func TestUnderWhat(t *testing.T) {
	t.Parallel()
	for want, v := range map[string]Value{
		"": {}, "annealed": {Grade: "annealed"}, "23 °C": {At: "23 °C"}, "annealed; 23 °C; usual scatter": {Grade: "annealed", At: "23 °C", Note: UsualScatter}, "annealed; stand-in": {Grade: "annealed", Note: StandIn},
	} {
		if got := v.under(); got != want {
			t.Errorf("%q, wanted %q", got, want)
		}
	}
}
