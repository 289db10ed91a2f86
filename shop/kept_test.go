package shop

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// written gives the records of a list by their numbers, as a file does.
type writtenDown []Record

func (w writtenDown) Record(id RecordID) Record { return w[id-1] }

// drawHistory is the history of some random days, with corrections, records struck
// out and records written down late, and the state it gives.
func drawHistory(t *rapid.T) *State {
	s := mustFold(t, []Record{
		{At: monday, Body: &MillSet{Mill: Mill{Name: "big"}}},
		{At: monday, Body: &MillSet{Mill: Mill{Name: "small"}}},
		{At: monday, Body: &ScaleSet{Scale{Name: "kitchen", Resolution: 0.001}}},
		{At: monday, Body: &PrinterSet{Printer{Name: "pellet"}}},
		{At: monday, Body: &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 3}},
		{At: monday, Body: &TakenIn{Class: Virgin, Polymer: "PLA", Mass: 1}},
	})
	for i := range rapid.IntRange(5, 40).Draw(t, "records") {
		if next, err := s.With(drawRecord(t, s, monday.Add(time.Duration(i)*time.Hour))); err == nil {
			s = next
		}
	}
	return s
}

// idsOf carries on what a room may depend on: which records stand, in which order, and
// what is asked about them.
var idsOf = Carry("ids", func(all *[]string, s *State, r Record) {
	*all = append(*all, fmt.Sprint(r.ID, r.Body.Kind(), s.Changed(r.ID), len(s.questions(r.ID))))
}, func(all *[]string) []string { return slices.Clip(*all) }, Bodies()...)

// TestContinuedIsFolded cuts random histories at each point, keeps what followed from
// the first part, and continues it: it is the state folded from all, or a record reaches
// back before the cut.
func TestContinuedIsFolded(t *testing.T) {
	t.Parallel()
	went := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawHistory(t)
		all := s.History.List()
		for n := 1; n <= len(all); n++ {
			first, err := Fold(all[:n])
			if err != nil {
				continue // checked only together with what came later
			}
			kept := packedAgain(t, first, all)
			sameAs(t, kept, first)
			next, ok, err := kept.Continue(all[n:])
			if err != nil {
				t.Fatalf("after %d of %d: %v", n, len(all), err)
			}
			if reaches(all, n) == ok {
				t.Fatalf("after %d of %d: continued is %t", n, len(all), ok)
			}
			if ok {
				went++
				sameAs(t, next, s)
				sameAs(t, packedAgain(t, next, all), s) // kept once more, without unpacking what did not change
			}
		}
	})
	if went < 100 {
		t.Errorf("only %d were continued", went)
	}
}

// reaches says whether a record after the n-th counts before one of the first n, or
// changes one of them.
func reaches(all []Record, n int) bool {
	last := time.Time{}
	for _, r := range standing(all[:n]) {
		if r.At.After(last) {
			last = r.At
		}
	}
	for _, r := range all[n:] {
		b, answers := r.Body.(*Confirmed)
		if r.At.Before(last) || r.Corrects > 0 && r.Corrects <= RecordID(n) || answers && b.Record <= RecordID(n) {
			return true
		}
	}
	return false
}

// TestCutIsNotReachedBackTo: what Cut says can be continued with all that follows.
func TestCutIsNotReachedBackTo(t *testing.T) {
	t.Parallel()
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawHistory(t)
		all, lag := s.History.List(), rapid.IntRange(0, 20).Draw(t, "lag")
		n := Cut(all, lag)
		if n == 0 {
			return
		}
		found++
		if n > len(all)-lag || reaches(all, n) {
			t.Fatalf("cut at %d of %d, with a lag of %d", n, len(all), lag)
		}
	})
	if found < 20 && !testing.Short() { // a short run draws a fifth of the histories
		t.Errorf("only %d were cut", found)
	}
}

// TestWritingGoesOnFromWhatWasKept: new records, corrections and slips are the same
// whether the state was kept or never left memory.
func TestWritingGoesOnFromWhatWasKept(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := drawHistory(t)
		all := s.History.List()
		n := Cut(all, rapid.IntRange(0, 10).Draw(t, "lag"))
		if n == 0 {
			return
		}
		first, err := Fold(all[:n])
		if err != nil {
			return
		}
		k, ok, err := packedAgain(t, first, all).Continue(all[n:])
		if !ok || err != nil {
			t.Fatalf("%t %v", ok, err)
		}
		for i := range 10 {
			r := drawRecord(t, s, monday.Add(time.Duration(50+i)*time.Hour))
			one, err := s.With(r)
			two, err2 := k.With(r)
			var no, no2 *Error
			if errors.As(err, &no) != errors.As(err2, &no2) || no != nil && no.What.Code != no2.What.Code {
				t.Fatalf("%+v: %v, and of what was kept %v", r, err, err2)
			}
			if err == nil {
				s, k = one, two
				sameAs(t, k, s)
			}
		}
	})
}

// packedAgain is what is unpacked from a state packed.
func packedAgain(t rapid.TB, s *State, all []Record) *State {
	t.Helper()
	var b bytes.Buffer
	if err := s.Pack(&b); err != nil {
		t.Fatal(err)
	}
	k, err := Unpack(InMemory(b.Bytes()), writtenDown(all))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// sameAs compares everything of two states, also what is packed in one of them.
func sameAs(t rapid.TB, got, want *State) {
	t.Helper()
	for _, x := range [][2]any{
		{got.History.List(), want.History.List()}, {got.Records.List(), want.Records.List()},
		{lossList(got), lossList(want)}, {lotList(got), lotList(want)},
	} {
		if !alike(x[0], x[1]) {
			t.Fatalf("it has %+v, not %+v", x[0], x[1])
		}
	}
	if got, want := idsOf.Of(got), idsOf.Of(want); !alike(*got, *want) {
		t.Fatalf("carried on are %v, not %v", *got, *want)
	}
	a, b := reflect.ValueOf(got).Elem(), reflect.ValueOf(want).Elem()
	for i := range a.NumField() {
		name := a.Type().Field(i).Name
		if name == "Order" || !apart[name] {
			if x, y := inside(a, i).Interface(), inside(b, i).Interface(); !alike(x, y) {
				t.Fatalf("%s is %+v, not %+v", name, x, y)
			}
		}
	}
	if got.Lots.Len() != want.Lots.Len() || !alike(got.Stock(""), want.Stock("")) {
		t.Fatalf("%d lots, not %d", got.Lots.Len(), want.Lots.Len())
	}
	if got, want := got.whereabouts(), want.whereabouts(); !alike(got, want) {
		t.Fatalf("the mass is at %+v, not %+v", got, want)
	}
	stockInParts(t, got)
}

// stockInParts holds parts of the stock, and what it comes to, against all of it.
func stockInParts(t rapid.TB, s *State) {
	t.Helper()
	for _, class := range []Class{"", Scrap, Regrind, Virgin, Print} {
		all := s.Stock(class)
		if n, mass := s.Stocked(class); n != len(all) || mass != MassOf(all) {
			t.Fatalf("%d lots of %q with %g kg, not %d with %g", n, class, mass, len(all), MassOf(all))
		}
		var parts []*Lot
		for skip := 0; skip <= len(all); skip += 2 {
			parts = append(parts, s.StockFrom(skip, 2, class)...)
		}
		if !alike(parts, all) || len(s.StockFrom(len(all)+1, 2, class)) > 0 {
			t.Fatalf("%d of %d lots of %q in parts", len(parts), len(all), class)
		}
	}
}

// alike is DeepEqual, but that an empty list may be none.
func alike(a, b any) bool {
	x, y := reflect.ValueOf(a), reflect.ValueOf(b)
	if k := x.Kind(); (k == reflect.Slice || k == reflect.Map) && x.Len() == 0 && y.Len() == 0 {
		return true
	}
	return reflect.DeepEqual(a, b)
}

func lossList(s *State) []Loss {
	var list []Loss
	for _, x := range s.Losses.All() {
		list = append(list, x)
	}
	return list
}

func lotList(s *State) []*Lot {
	var list []*Lot
	for _, id := range s.Order {
		list = append(list, s.Lots.At(id))
	}
	return list
}

// FuzzUnpack: whatever is given instead of a kept state is refused or read, and never
// stops the program.
func FuzzUnpack(f *testing.F) {
	s, err := Fold(roughShop(40, roughShops["levels of no controller"]))
	if err != nil {
		f.Fatal(err)
	}
	var packed bytes.Buffer
	if err := s.Pack(&packed); err != nil {
		f.Fatal(err)
	}
	f.Add(packed.Bytes())
	f.Fuzz(func(t *testing.T, b []byte) {
		k, err := Unpack(InMemory(b), writtenDown(s.History.List()))
		if err != nil {
			return
		}
		for _, id := range k.Order {
			_ = k.Lots.At(id)
		}
		_ = lossList(k)
		for i := range k.Records.Len() {
			_ = k.Records.place(k.Records.id(i))
		}
		_ = k.whereabouts()
	})
}
