package sieving_test

import (
	"testing"

	"pgregory.net/rapid"

	"hopperful/answer"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

// A stack offered for a mill stands around its screen's hole: the top sieve lies
// above it, one lies at it or below, the last where dust begins, and a stack can
// carry it.
func TestUsualStackStandsAroundTheHole(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		hole := rapid.Float64Range(0.5e-3, 6e-3).Draw(t, "hole")
		s := &shop.State{Mills: []shop.MillState{{Mill: shop.Mill{Name: "Rattle", Screen: shop.Screen{Hole: &hole}}}}}
		list := sieving.UsualStack(s, "")
		if n := len(list); n < 3 || n > 8 {
			t.Fatalf("%d sieves for a hole of %v", n, hole)
		}
		if list[0].Opening < hole || list[0].Opening > 2*hole || list[1].Opening > 1.4*hole {
			t.Fatalf("the top sieves %v and %v do not stand around the hole %v", list[0].Opening, list[1].Opening, hole)
		}
		if last := list[len(list)-1].Opening; last > answer.FinesLimit {
			t.Fatalf("the finest sieve %v lets no dust be told", last)
		}
		for i := range list[1:] {
			if list[i+1].Opening >= list[i].Opening {
				t.Fatalf("not falling: %v", list)
			}
		}
	})
}
