package shop

import (
	"testing"

	"pgregory.net/rapid"
)

// TestBranchesDoNotMeet goes on from one state twice, and from a state whose next one was
// refused: what one of them writes is never seen in the other, although the lists of the
// first go on in the memory of the state it came from.
func TestBranchesDoNotMeet(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := drawHistory(t)
		was, err := Fold(s.History.List())
		if err != nil {
			t.Fatal(err)
		}
		var ends []*State
		for range 3 {
			next := s
			for i := range rapid.IntRange(1, 6).Draw(t, "more") {
				r := drawRecord(t, s, s.Last)
				if _, err := next.With(Record{At: s.Last, Body: &Weighed{Lot: "S999", Mass: 1}}); err == nil {
					t.Fatal("a lot that is not there was weighed")
				}
				if one, err := next.With(r); err == nil {
					next = one
				} else if i == 0 {
					next = s
				}
			}
			ends = append(ends, next)
		}
		sameAs(t, s, was)
		for _, end := range ends {
			again, err := Fold(end.History.List())
			if err != nil {
				t.Fatal(err)
			}
			sameAs(t, end, again)
		}
	})
}
