package grains

import (
	"math"
	"testing"

	"hopperful/process/grain"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// The wider the sheet the fewer of them: as many times as their areas, made whole.
func TestHowManySheets(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1})
	n := func(w, h float64) float64 {
		said, err := Needed(s, "R1", grain.Sheet{W: w, H: h})
		if err != nil {
			t.Fatal(err)
		}
		f, _ := said.Fact("n")
		return f.Value
	}
	fine := n(0.01, 0.01) // so many square centimetres
	for i, c := range [][2]float64{{0.16, 0.12}, {0.04, 0.01}, {0.01, 0.03}} {
		if got, want := n(c[0], c[1]), fine*1e-4/(c[0]*c[1]); got < want-1e-9-1 || got > want+1 || got != math.Ceil(got) {
			t.Errorf("case %d: %g sheets, about %g", i, got, want)
		}
	}
}

// Few grains of many sizes leave a wide range, which is told with how many pictures more would narrow it; many of one size do not.
func TestAWideRangeIsTold(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		n      int
		spread float64
		told   bool
	}{"few of many sizes": {40, 3, true}, "many of one size": {600, 0, false}} {
		all := discs(c.n, 1e-3)
		for i := range all {
			f := 1 + c.spread*float64(i*7919%c.n)/float64(c.n)
			all[i].Width, all[i].Length, all[i].Area = f*all[i].Width, f*all[i].Length, f*f*all[i].Area
		}
		j := asked(t, Ask{Lot: "R1", Samples: []grain.Sample{of(4e-5, all)}})
		j.spoilers()
		told := false
		for _, x := range j.doc.Spoilers {
			if x.Code == "grains.wide_range" {
				told = x.Weight == 0.45 && len(x.Remedies) == 2
			}
		}
		if told != c.told {
			t.Errorf("%s: told %t of %g", name, told, z95*j.sampled())
		}
	}
}
