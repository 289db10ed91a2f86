package shop

import (
	"math/rand/v2"
	"testing"
	"time"
)

// TestManyWritesOnAKeptState: lots of a kept state that are changed, and new ones, so many that they
// are shared by states in layers, are those of the state folded from all; and a state that
// another went on from stays as it was.
func TestManyWritesOnAKeptState(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	var all []Record
	for i := range 60 {
		all = append(all, Record{At: monday.Add(time.Duration(i) * time.Minute), Body: &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 1}})
	}
	first := mustFold(t, all)
	all = first.History.List()
	s := packedAgain(t, first, all)
	var half *State
	for i := range 400 {
		at := monday.Add(time.Duration(100+i) * time.Minute)
		var body Body = &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 2}
		if i%4 > 0 {
			body = &Weighed{Lot: s.Order[rng.IntN(len(s.Order))], Mass: float64(rng.IntN(3))}
		}
		next, err := s.With(Record{At: at, Body: body})
		if err != nil {
			t.Fatal(err)
		}
		if s = next; i == 200 {
			half = s
		}
	}
	if len(s.Lots.base) == 0 || len(s.Lots.new) == 0 {
		t.Fatalf("%d lots are shared and %d not: nothing was tried", len(s.Lots.base), len(s.Lots.new))
	}
	for _, s := range []*State{half, s} {
		var list []Record
		for i := range s.History.Len() {
			if i < len(all) {
				list = append(list, all[i])
			} else {
				list = append(list, s.History.At(i))
			}
		}
		sameAs(t, s, mustFold(t, list))
	}
}
