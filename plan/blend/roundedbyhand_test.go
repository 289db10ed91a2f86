package blend

// Numbers that are eased, and the steps a blend is weighed in, by hand.

import (
	"math"
	"testing"
	"time"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What eases a limit is a number of three digits that surely does: a thousandth of a digit further.
func TestEasedNumbersHaveThreeDigits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ v, way, want float64 }{
		{0.012345, 1, 0.0124}, {0.012345, -1, 0.0123}, {0.0123, 1, 0.0124}, {0.0123, -1, 0.0122}, {0.01239985, 1, 0.0124}, {0.01240015, -1, 0.0124}, {987.6, 1, 988}, {987.6, -1, 987}, {1, 1, 1.01}, {1, -1, 0.99}, {0, 1, 0}, {-3, 1, -3}, {0.5, 1, 0.501},
	} {
		if got := rounded(c.v, c.way); math.Abs(got-c.want) > 1e-12*math.Max(1, c.want) {
			t.Errorf("%g eased by %g is %g, by hand %g", c.v, c.way, got, c.want)
		}
	}
}

// A kilogram and a half on a scale of a gram: steps of a gram or as asked, no finer than a millionth of it; ten digits of the scale are the least of a lot, and no
// more than is wanted.
func TestTheStepsABlendIsWeighedIn(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for i, c := range []struct {
		mass, step, least float64
		reserve           *float64
		want              [3]float64 // step, least, mass
	}{
		{1.5, 0, 0, nil, [3]float64{1e-3, blendDigits * 1e-3, 1.5}}, {1.5, 1e-9, 0, nil, [3]float64{1.5e-6, blendDigits * 1e-3, 1.5}}, {1.5, 0.2, 0.1, nil, [3]float64{0.2, 0.1, 1.6}}, {1.5, 0.01, 0, p(0.5), [3]float64{0.01, blendDigits * 1e-3, 2.25}},
		{0.002, 0, 0, nil, [3]float64{1e-3, math.Min(blendDigits*1e-3, 0.002), 0.002}}, {0.1, 0.2, 0, nil, [3]float64{0.2, math.Min(blendDigits*1e-3, 0.1), 0.2}},
	} {
		s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: p(1), Mass: 3})
		table, err := s.Table()
		if err != nil {
			t.Fatal(err)
		}
		pla, err := table.Find("PLA")
		if err != nil {
			t.Fatal(err)
		}
		reserve := c.reserve
		if reserve == nil {
			reserve = p(0)
		}
		j := &blendJob{state: s, polymer: pla, req: Request{Need: shop.Need{Name: "cup", Mass: p(c.mass)}, Step: c.step, Least: c.least, Reserve: reserve, Now: shoptest.Noon.Add(time.Hour)}}
		if err := j.amount(); err != nil {
			t.Fatal(i, err)
		}
		for k, got := range [3]float64{j.req.Step, j.req.Least, j.mass} {
			if math.Abs(got-c.want[k]) > 1e-9 {
				t.Errorf("case %d: %g, %g and %g kg, by hand %v", i, j.req.Step, j.req.Least, j.mass, c.want)
				break
			}
		}
	}
}
