package traceability_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Whatever the bounds, no gram is lost beside a lot: what is shown and what
// stayed folded add up to the whole family's edges, generation by generation.
func TestFoldedFamiliesKeepTheirMass(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		s := tangled(t, rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 7)), 30)
		id := rapid.SampledFrom(s.Order).Draw(rt, "lot")
		in := traceability.Within{Levels: rapid.IntRange(1, 4).Draw(rt, "levels"), Across: rapid.IntRange(1, 6).Draw(rt, "across")}
		got, err := traceability.TraceWithin(s, id, in)
		if err != nil {
			rt.Fatal(err)
		}
		whole, err := traceability.Trace(s, id)
		if err != nil {
			rt.Fatal(err)
		}
		if fmt.Sprint(got.Head) != fmt.Sprint(whole.Head) || got.InMills != whole.InMills || got.Went != whole.Went {
			rt.Fatalf("%s folded says %+v, whole %+v", id, got.Head, whole.Head)
		}
		to := got.ToRest.Mass
		for _, b := range got.To {
			to += b.Mass
		}
		if math.Abs(to-got.Went) > 1e-9 {
			rt.Fatalf("%g kg of %s went into other lots, its branches hold %g", got.Went, id, to)
		}
		up, down := s.Lots.At(id).Parents, s.Lots.At(id).Children
		holdsAll(rt, s, id, up, got.From, got.FromRest, true)
		holdsAll(rt, s, id, down, got.To, got.ToRest, false)
		for _, n := range append(broad(got.From), broad(got.To)...) {
			if n > in.Across+1 {
				rt.Fatalf("%d branches in a generation, %d were wanted", n, in.Across)
			}
		}
		if deepest(got.From) > in.Levels+1 || deepest(got.To) > in.Levels+1 {
			rt.Fatalf("%d levels were wanted", in.Levels)
		}
	})
}

// holdsAll holds the branches of a lot and what was folded of it against its edges.
func holdsAll(rt *rapid.T, s *shop.State, id shop.LotID, edges []shop.Edge, list []traceability.Branch, rest traceability.Rest, up bool) {
	want, got := 0.0, rest.Mass
	lots := map[shop.LotID]bool{}
	for _, e := range edges {
		want += e.Mass
		lots[e.Lot] = true
	}
	for _, b := range list {
		got += b.Mass
		if b.Again {
			continue // told at its other place
		}
		next := s.Lots.At(b.Lot).Children
		if up {
			next = s.Lots.At(b.Lot).Parents
		}
		holdsAll(rt, s, b.Lot, next, b.Branches, b.Rest, up)
	}
	if math.Abs(want-got) > 1e-9 || len(list)+rest.Lots != len(lots) {
		rt.Fatalf("%s: %g kg along %d edges, the records say %g along %d", id, got, len(list)+rest.Lots, want, len(lots))
	}
}

// broad counts the branches of each generation.
func broad(list []traceability.Branch) []int {
	if len(list) == 0 {
		return nil
	}
	all := []int{len(list)}
	for _, b := range list {
		for i, n := range broad(b.Branches) {
			if i+1 == len(all) {
				all = append(all, 0)
			}
			all[i+1] += n
		}
	}
	return all
}

func deepest(list []traceability.Branch) int {
	most := 0
	for _, b := range list {
		most = max(most, 1+deepest(b.Branches))
	}
	return most
}

// A lot that can be reached by a short and a long way is unfolded at the short.
func TestALotIsUnfoldedAtItsNearestPlace(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 4}, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 4},
		shoptest.Blended("B1", shop.Portion{Lot: "V1", Mass: 1}, shop.Portion{Lot: "R1", Mass: 1}),
		shoptest.Blended("B2", shop.Portion{Lot: "B1", Mass: 1}, shop.Portion{Lot: "R1", Mass: 1}),
		shoptest.Blended("B3", shop.Portion{Lot: "B2", Mass: 1}, shop.Portion{Lot: "B1", Mass: 1}))
	got := traced(t, s, "B3")
	if b := got.From[1]; b.Lot != "B1" || b.Again || len(b.Branches) != 2 {
		t.Errorf("B1 stands beside B2 as %+v", b)
	}
	if b := got.From[0].Branches[0]; b.Lot != "B1" || !b.Again || len(b.Branches) != 0 {
		t.Errorf("B1 stands behind B2 as %+v", b)
	}
}

// A chain has one more generation than the bound, where that is its end or not.
func TestAChainIsUnfoldedOneGenerationOn(t *testing.T) {
	t.Parallel()
	s, last := deep(t, 9)
	got, err := traceability.TraceWithin(s, last, traceability.Within{Levels: 2})
	if err != nil {
		t.Fatal(err)
	}
	if n := deepest(got.From); n != 2 {
		t.Errorf("%d generations of two lots each are shown", n)
	}
	chain := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 4})
	for i := range 5 {
		next, err := chain.With(shop.Record{At: shoptest.Noon, Body: &shop.Sorted{From: chain.Order[i], Into: []shop.Part{{Mass: 3.5 - 0.5*float64(i)}}}})
		if err != nil {
			t.Fatal(err)
		}
		chain = next
	}
	if got, err = traceability.TraceWithin(chain, "V1", traceability.Within{Levels: 2}); err != nil {
		t.Fatal(err)
	}
	end := got.To[0].Branches[0].Branches[0]
	if deepest(got.To) != 3 || end.Rest.Lots != 1 {
		t.Errorf("the chain ends at %+v", end)
	}
}

// The heaviest edges of a generation stay, in the order of the records; of equal
// ones the older.
func TestTheHeaviestStayUnfolded(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 10})
	for _, m := range []float64{0.1, 3, 0.2, 2, 2, 2} {
		next, err := s.With(shop.Record{At: shoptest.Noon, Body: &shop.Printed{From: "V1", Print: "part", Mass: m}})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	got, err := traceability.TraceWithin(s, "V1", traceability.Within{Across: 2})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.To) != 2 || got.To[0].Lot != "P2" || got.To[1].Lot != "P4" || got.ToRest.Lots != 4 || math.Abs(got.ToRest.Mass-4.3) > 1e-12 {
		t.Errorf("shown %+v, folded %+v", got.To, got.ToRest)
	}
}

// BenchmarkDeepFamily looks at the last of ten thousand lots that were each
// blended of the one before and of new granulate. A page has 100 ms for it, its
// age and its drawing.
func BenchmarkDeepFamily(b *testing.B) {
	s, last := deep(b, 10_000)
	b.Run("whole", func(b *testing.B) {
		for b.Loop() {
			traced(b, s, last)
		}
	})
	b.Run("within", func(b *testing.B) {
		for b.Loop() {
			if _, err := traceability.TraceWithin(s, last, traceability.Within{Levels: 2, Across: 6}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("age", func(b *testing.B) {
		for b.Loop() {
			if _, err := traceability.AgeOf(s, last); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// deep is a shop with a family of so many generations, and its youngest lot.
func deep(t testing.TB, n int) (*shop.State, shop.LotID) {
	t.Helper()
	records := []shop.Record{{Body: &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 900}},
		{Body: &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 0.05}}}
	last := shop.LotID("R1")
	for i := range n {
		into := shop.LotID(fmt.Sprintf("B%d", i+1))
		records = append(records, shop.Record{Body: shoptest.Blended(into, shop.Portion{Lot: last, Mass: 0.05}, shop.Portion{Lot: "V1", Mass: 0.05})})
		last = into
	}
	for i := range records {
		records[i].ID, records[i].At = shop.RecordID(i+1), shoptest.Noon
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s, last
}

// The deepest family ends, and its shares still add up.
func TestDeepFamiliesAreTraced(t *testing.T) {
	t.Parallel()
	s, last := deep(t, 2000)
	conserved(t, s, last)
	conserved(t, s, "V1")
}
