package shop

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
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

// TestWhatIsFoundInAKeptStateIsThere: losses of a lot, places of records and counts of kinds are found
// by what is known of stretches, orders and kinds; they are those that reading all of it finds.
func TestWhatIsFoundInAKeptStateIsThere(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(7, 8))
	var all []Record
	lots := 0
	for i := range 1500 {
		at := monday.Add(time.Duration(i) * time.Minute)
		if i%10 == 0 {
			lots++
			all = append(all, Record{At: at, Body: &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 2}})
			continue
		}
		lot := LotID("S1") // now and then of an old one
		if i%7 > 0 {
			lot = LotID(fmt.Sprint("S", max(1, lots-rng.IntN(3))))
		}
		all = append(all, Record{At: at, Body: &Weighed{Lot: lot, Mass: rng.Float64()}})
	}
	for _, late := range []bool{false, true} {
		if late { // written down at the end, of the second day: numbers and moments part
			all = append(all, Record{At: monday.Add(700*time.Minute + time.Second), Body: &Weighed{Lot: "S3", Mass: 0.1}})
		}
		first := mustFold(t, all)
		s := packedAgain(t, first, first.History.List())
		if n := s.Losses.Len(); n < 3*onBlock {
			t.Fatalf("%d losses: nothing was tried", n)
		}
		for _, id := range s.Order {
			var want, got []Loss
			for _, x := range s.Losses.All() {
				if x.Lot == id {
					want = append(want, x)
				}
			}
			for x := range s.Losses.Of(id) {
				got = append(got, x)
			}
			if !slices.Equal(got, want) {
				t.Fatalf("%s lost %v, not %v", id, got, want)
			}
		}
		lossesLikeAll(t, s)
		for i, r := range first.Records.All() {
			if at, ok := s.Records.Place(r.ID); !ok || at != i {
				t.Fatalf("record %d is at %d, not %d", r.ID, at, i)
			}
		}
		for _, id := range []RecordID{-1, 0, RecordID(len(all) + 1), 1 << 40} {
			if at, ok := s.Records.Place(id); ok {
				t.Errorf("record %d is at %d", id, at)
			}
		}
		for _, b := range []Body{&TakenIn{}, &Weighed{}, &Ground{}} {
			if got, want := s.History.Count(b), first.History.Count(b); got != want {
				t.Errorf("%d %s, not %d", got, b.Kind(), want)
			}
		}
		if got := s.History.First(20).Count(&TakenIn{}); got != 2 {
			t.Errorf("%d of the first twenty", got)
		}
	}
}

// lossesLikeAll asks for the losses of some lots and of some records, and holds them against
// those picked out of all.
func lossesLikeAll(t *testing.T, s *State) {
	t.Helper()
	sums := map[string]float64{}
	for _, x := range s.Losses.All() {
		sums[x.Name] += x.Mass
	}
	if got := s.Losses.Sums(); !maps.Equal(got, sums) || len(sums) == 0 {
		t.Errorf("lost together %v, not %v", got, sums)
	}
	n := len(s.Order)
	for _, lots := range [][]LotID{nil, {"nowhere"}, {s.Order[0], s.Order[n-1]}, {s.Order[n/2], s.Order[n/2-5], s.Order[2]}} {
		var want []Loss
		for _, x := range s.Losses.All() {
			if slices.Contains(lots, x.Lot) {
				want = append(want, x)
			}
		}
		if got := slices.Collect(s.Losses.Of(lots...)); !slices.Equal(got, want) {
			t.Errorf("%v lost %v, not %v", lots, got, want)
		}
	}
	for _, places := range [][2]int{{0, 1}, {3, 200}, {690, 710}, {700, 1400}, {1490, s.Records.Len()}, {0, s.Records.Len()}, {5, 5}} {
		in := s.Records.Between(places[0], places[1])
		var want, got []Loss
		for _, x := range s.Losses.All() {
			if in(x.Record) {
				want = append(want, x)
			}
		}
		for x := range s.Losses.Between(s.Records.Numbers(places[0], places[1])) {
			if in(x.Record) {
				got = append(got, x)
			}
		}
		if !slices.Equal(got, want) || places[0] == 3 && len(want) < 100 {
			t.Errorf("booked by the records at %v: %v, not %v", places, got, want)
		}
	}
}
