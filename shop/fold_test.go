package shop

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// write adds records one after the other, an hour apart when they have no date.
func write(t testing.TB, s *State, rs ...Record) *State {
	t.Helper()
	for _, r := range rs {
		if r.At.IsZero() && r.Corrects == 0 {
			r.At = s.Last.Add(time.Hour)
		}
		next, err := s.With(r)
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	return s
}

func wantMass(t testing.TB, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-12 {
		t.Errorf("%s is %g kg, want %g kg", what, got, want)
	}
}

// TestCorrectionTakesItsPlace: a corrected charge changes what is left, under
// the same number and at the same moment, and struck out is as never written.
func TestCorrectionTakesItsPlace(t *testing.T) {
	t.Parallel()
	s := bench(t) // record 6: 240 g of S1 ground, 230 g came out, 5 g left
	c := write(t, s, Record{Corrects: 6, Body: &Ground{Mill: "shredder", From: "S1", Charge: 0.25, Product: kg(0.24), Left: kg(0.005), Run: 180}})
	wantMass(t, "S1", c.Lots.At("S1").Mass, 0.75)
	wantMass(t, "R1", c.Lots.At("R1").Mass, 0.24)
	r, ok := c.Record(6)
	if !ok || r.CorrectedBy != 7 || !r.At.Equal(monday.Add(time.Hour)) || r.Corrects != 0 {
		t.Errorf("record 6 stands as %+v", r)
	}
	if c.Records.Len() != 6 || c.History.Len() != 7 || c.Lots.Len() != 3 {
		t.Errorf("%d records stand of %d written, with %d lots", c.Records.Len(), c.History.Len(), c.Lots.Len())
	}
	// Correcting the correction is correcting the first.
	c = write(t, c, Record{Corrects: 7, Body: &Ground{Mill: "shredder", From: "S1", Charge: 0.26, Product: kg(0.24), Left: kg(0.005), Run: 180}})
	wantMass(t, "S1", c.Lots.At("S1").Mass, 0.74)
	v := write(t, c, Record{Corrects: 6, Body: &Void{Why: "it was another day"}})
	wantMass(t, "S1", v.Lots.At("S1").Mass, 1)
	if _, ok := v.Lot("R1"); ok {
		t.Error("R1 is still there")
	}
	// A label once given never names another lot; standing again, it is R1 again.
	n := write(t, v, Record{Body: &Ground{Mill: "shredder", From: "S1", Charge: 0.1, Run: 60}})
	if n.Newest().Body.(*Ground).Into != "R2" {
		t.Errorf("the new lot is %s", n.Newest().Body.(*Ground).Into)
	}
	b := write(t, n, Record{Corrects: 6, Body: &Ground{Mill: "shredder", From: "S1", Charge: 0.2, Product: kg(0.19), Run: 180}})
	wantMass(t, "R1", b.Lots.At("R1").Mass, 0.19)
	wantMass(t, "S1 before", s.Lots.At("S1").Mass, 0.76) // the state it began with is as it was
}

// TestContradictionNamesTheLaterRecord: what was printed later must still be there.
func TestContradictionNamesTheLaterRecord(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{At: monday.Add(3 * time.Hour), Body: &Printed{From: "R1", Print: "bracket", Mass: 0.2}})
	_, err := s.With(Record{Corrects: 6, Body: &Void{Why: "x"}})
	var e *Error
	if !errors.As(err, &e) || e.Code != Conflict || !strings.Contains(worded(e.What), "This contradicts record 7 (printed, 2026-05-04 11:00): ") {
		t.Errorf("struck out: got %v", err)
	}
	// A lot that is short for what was taken later is no contradiction, but a question about the later record.
	for name, r := range map[string]Record{
		"correction": {Corrects: 6, Body: &Ground{Mill: "shredder", From: "S1", Charge: 0.2, Product: kg(0.19), Run: 180}},
		"late entry": {At: monday.Add(2 * time.Hour), Body: &Discarded{Lot: "R1", Mass: 0.1, Why: "dusty"}},
	} {
		if a := write(t, s, r).Asks(); len(a) != 1 || a[0].Record != 7 || a[0].Code != MoreThanLot {
			t.Errorf("%s: asked %+v", name, a)
		}
	}
	_, err = s.With(Record{At: monday.Add(30 * time.Minute), Body: &Printed{From: "R1", Print: "x", Mass: 0.01}})
	if err == nil || !strings.Contains(inWords(err), "There is no lot R1 at that time.") {
		t.Errorf("printed before it was ground: %v", err)
	}
}

// TestCorrectionRefusals: what a correction cannot do.
func TestCorrectionRefusals(t *testing.T) {
	t.Parallel()
	s := bench(t)
	for say, r := range map[string]Record{
		"There is no record 99 to correct.":                                       {Corrects: 99, Body: &Void{Why: "x"}},
		"Record 6 is of kind ground; a record of kind weighed cannot correct it.": {Corrects: 6, Body: &Weighed{Lot: "S1"}},
		"There is already a record 2.":                                            {ID: 2, Body: &Weighed{Lot: "S1"}},
		"Record 9 cannot follow record 6.":                                        {ID: 9, Body: &Weighed{Lot: "S1"}},
		"The record says nothing.":                                                {},
		"S1 is no label of a virgin lot.":                                         {Corrects: 4, Body: &TakenIn{Lot: "S1", Class: Virgin, Mass: 1}},
	} {
		if _, err := s.With(r); err == nil || !strings.Contains(inWords(err), say) {
			t.Errorf("got %v, want %q", err, say)
		}
	}
}

// TestFirstDescriptionHoldsFromTheBeginning: a run of last week can be written
// down for a mill described today, and the second description counts from its day.
func TestFirstDescriptionHoldsFromTheBeginning(t *testing.T) {
	t.Parallel()
	s := write(t, mustFold(t, nil),
		Record{At: monday, Body: &TakenIn{Class: Scrap, Mass: 1}},
		Record{At: monday.AddDate(0, 0, 7), Body: &MillSet{Mill: Mill{Name: "m", Chamber: kg(0.002)}}},
		Record{At: monday.AddDate(0, 0, 1), Body: &Ground{Mill: "m", From: "S1", Charge: 0.3, Run: 60}},
		Record{At: monday.AddDate(0, 0, 8), Body: &MillSet{Mill: Mill{Name: "m", Chamber: kg(0.0002)}}},
		Record{At: monday.AddDate(0, 0, 2), Body: &Ground{Mill: "m", From: "S1", Charge: 0.3, Run: 60}})
	_, err := s.With(Record{At: monday.AddDate(0, 0, 9), Body: &Ground{Mill: "m", From: "S1", Charge: 0.3, Run: 60}})
	if err == nil || !strings.Contains(inWords(err), "does not fit the chamber") {
		t.Errorf("got %v", err)
	}
}

// TestAdmitTakesAllOrNothing, and a record without a date happened now.
func TestAdmitTakesAllOrNothing(t *testing.T) {
	t.Parallel()
	s, now := bench(t), monday.Add(9*time.Hour)
	next, err := s.Admit(now, Record{Body: &TakenIn{Class: Virgin, Mass: 1}}, Record{At: monday, Body: &TakenIn{Class: Scrap, Mass: 2}},
		Record{Body: &Printed{From: "V1", Print: "x", Mass: 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	if r := next.History.At(6); !r.At.Equal(now) || !r.NotedAt.Equal(now) || r.ID != 7 {
		t.Errorf("kept as %+v", r)
	}
	wantMass(t, "V1", next.Lots.At("V1").Mass, 0.5)
	wantMass(t, "S3", next.Lots.At("S3").Mass, 2)
	if _, err := s.Admit(now, Record{Body: &TakenIn{Class: Virgin, Mass: 1}}, Record{Body: &Printed{From: "V9", Print: "x", Mass: 2}}); err == nil {
		t.Error("the second record should have been refused")
	}
	if s.Lots.Len() != 3 || s.History.Len() != 6 {
		t.Error("the old state has changed")
	}
}

// TestKeptBodyIsACopy: what the caller does to his body later changes nothing.
func TestKeptBodyIsACopy(t *testing.T) {
	t.Parallel()
	b := &MillSet{Mill: Mill{Name: "m", Chamber: kg(0.002)}}
	s := write(t, bench(t), Record{Body: b})
	*b.Mill.Chamber = 1
	if m, ok := s.Mill("m"); !ok || *m.Chamber != 0.002 {
		t.Error("the mill in the state changed with the caller's")
	}
}

// TestLookups: by name, and the mills still in use.
func TestLookups(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &MillSet{Mill: Mill{Name: "plain", Retired: true}}},
		Record{Body: &PersonSet{Name: "Ann"}}, Record{Body: &PersonSet{Name: "Ann", Retired: true}})
	if a := s.ActiveMills(); len(a) != 1 || a[0].Name != "shredder" {
		t.Errorf("in use: %+v", a)
	}
	if n, ok := s.Need("bracket"); !ok || *n.Mass != 0.3 {
		t.Errorf("need: %+v", n)
	}
	if len(s.People) != 1 || !s.People[0].Retired {
		t.Errorf("people: %+v", s.People)
	}
	for text, want := range map[string]LotID{"s12": "S12", " R1 ": "R1", "S0": "", "S01": "", "S+1": "", "X1": "", "S": "", "S1000000": "", "S-1": ""} {
		if id, err := ParseLot(text); id != want || (err == nil) != (want != "") {
			t.Errorf("%q reads as %q, %v", text, id, err)
		}
	}
}

// tenThousand is a shop's history of years: intakes, runs, weighings, prints.
func tenThousand() []Record {
	rs := []Record{{At: monday, Body: &MillSet{Mill: Mill{Name: "m"}}}}
	for i := 0; len(rs) < 10000; i++ {
		at := monday.Add(time.Duration(i) * time.Hour)
		in, out := LotID(fmt.Sprint("S", i/20+1)), LotID(fmt.Sprint("R", i/20+1))
		rs = append(rs, Record{At: at, Body: &TakenIn{Lot: in, Class: Scrap, Polymer: "PLA", Mass: 0.3}},
			Record{At: at, Body: &Ground{Mill: "m", From: in, Into: out, Charge: 0.25, Product: kg(0.24), Left: kg(0.005), Run: 120}},
			Record{At: at, Body: &Printed{From: out, Print: "part", Mass: 0.2}})
	}
	return rs[:10000]
}

func BenchmarkFold10000(b *testing.B) {
	rs := tenThousand()
	for b.Loop() {
		if _, err := Fold(rs); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWithAfter10000(b *testing.B) {
	s := mustFold(b, tenThousand())
	r := Record{At: s.Last, Body: &TakenIn{Class: Scrap, Mass: 1}}
	for b.Loop() {
		if _, err := s.With(r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCorrectAfter10000(b *testing.B) {
	s := mustFold(b, tenThousand())
	r := Record{Corrects: 5, Body: &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 0.31}}
	for b.Loop() {
		if _, err := s.With(r); err != nil {
			b.Fatal(err)
		}
	}
}
