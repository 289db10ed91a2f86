package exchange

import (
	"bytes"
	"encoding/csv"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"hopperful/internal/demo"
	"hopperful/plan/notebook"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// manyMonths are the invented shop's records, by three chances.
var manyMonths = sync.OnceValues(func() (all [][]shop.Record, err error) {
	for seed := range uint64(3) {
		records, err := demo.Records(bookNow, rand.New(rand.NewPCG(seed, 3)))
		if err != nil {
			return nil, err
		}
		all = append(all, records)
	}
	return all, nil
})

// randomShop is a shop of chance: some of the invented shop's months, with records
// struck out and corrected.
func randomShop(t rapid.TB, seed, n int, strikes []int) *shop.State {
	t.Helper()
	all, err := manyMonths()
	if err != nil {
		t.Fatal(err)
	}
	records := all[seed]
	s, err := shop.Fold(records[:min(n, len(records))])
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range strikes {
		r := s.History.At(k % s.History.Len())
		r.Corrects, r.ID = r.ID, 0
		r.Note = "=1+1 \"quoted\"; corrected\nin two lines"
		if k%3 == 0 {
			r.Body = &shop.Void{Why: "written down twice"}
		}
		if next, err := s.Admit(bookNow, r); err == nil { // what others rest on stays
			s = next
		}
	}
	return s
}

// JSON Lines come back whole, on random shops: every record, and the state.
func TestLinesComeBackWhole(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := randomShop(t, rapid.IntRange(0, 2).Draw(t, "seed"), rapid.IntRange(1, 120).Draw(t, "records"), rapid.SliceOfN(rapid.IntRange(0, 500), 0, 4).Draw(t, "strikes"))
		var text bytes.Buffer
		if err := WriteLines(&text, s.History.List()); err != nil {
			t.Fatal(err)
		}
		whole := text.String()
		records, err := ReadLines("all.jsonl", &text, int64(text.Len()))
		if err != nil {
			t.Fatal(err)
		}
		half, err := shop.Fold(nil)
		if err != nil {
			t.Fatal(err)
		}
		if k := rapid.IntRange(0, len(records)).Draw(t, "there already"); k > 0 {
			if half, err = half.Admit(bookNow, records[:k]...); err != nil {
				t.Fatal(err)
			}
		}
		r := notebook.Whole(half, bookNow, records)
		back, err := half.Admit(bookNow, r.Records...)
		if err != nil || len(r.Records) != len(records)-half.History.Len() {
			t.Fatalf("%d records of %d: %v %+v", len(r.Records), len(records), err, r.Document)
		}
		var again bytes.Buffer
		if err := WriteLines(&again, back.History.List()); err != nil || again.String() != whole {
			t.Fatalf("it is not the same: %v", err)
		}
		for _, id := range s.Order {
			l := s.Lots.At(id)
			if b, ok := back.Lot(id); !ok || b.Mass != l.Mass {
				t.Fatalf("lot %s differs", id)
			}
		}
		if r := notebook.Whole(back, bookNow, records); len(r.Records) != 0 {
			t.Fatal("imported twice it is doubled")
		}
	})
}

// A whole shop does not come into another one, and a changed record is named.
func TestWholeIsRefused(t *testing.T) {
	t.Parallel()
	s := randomShop(t, 1, 60, nil)
	other := shoptest.Bin(t)
	if r := notebook.Whole(other, bookNow, s.History.List()); len(r.Records) != 0 || r.Document.Spoilers[0].Facts[0].Value != 1 || r.Document.Spoilers[0].Facts[1].Parts[0].Code != "notebook.differs" {
		t.Errorf("%+v", r.Document)
	}
	records := append([]shop.Record{}, s.History.List()...)
	records[40].Body = &shop.Weighed{Lot: "R99", Mass: 1}
	empty, err := shop.Fold(nil)
	if err != nil {
		t.Fatal(err)
	}
	if r := notebook.Whole(empty, bookNow, records); len(r.Records) != 0 || r.Document.Spoilers[0].Facts[0].Value != 41 {
		t.Errorf("%+v", r.Document)
	}
	for _, text := range []string{"{", `{"kind":"weighed","body":{"lot":"S1","mass_kg":-1}}`, `{"kind":"nothing","body":{}}`, `{"kind":"weighed","extra":1,"body":{}}`} {
		if _, err := ReadLines("x.jsonl", strings.NewReader("\n"+text+"\n"), -1); err == nil || !strings.Contains(worded(err), "line 2") {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// No cell of an export is taken for a formula, and every record has its row.
// The signs are those of the OWASP page on CSV injection (from memory).
func TestExportedCellsAreNoFormulas(t *testing.T) {
	t.Parallel()
	var records []shop.Record
	for _, sign := range []string{"=", "+", "-", "@"} {
		records = append(records, shop.Record{By: sign + "cmd", Note: sign + "1+1", Body: &shop.TakenIn{Class: shop.Scrap, Name: sign + "SUM(A1)", Mass: 1}})
	}
	records = append(records, shop.Record{Note: "\t=1", Body: &shop.TakenIn{Class: shop.Scrap, Mass: 0.00001}})
	s, err := shoptest.Bin(t).Admit(bookNow, records...)
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := WriteRecordsCSV(&text, s, false); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&text).ReadAll()
	if err != nil || len(rows) != s.History.Len()+1 {
		t.Fatalf("%d rows of %d records: %v", len(rows), s.History.Len(), err)
	}
	for _, r := range rows {
		for _, c := range r {
			if c != "" && strings.ContainsRune("=+-@\t\r", rune(c[0])) {
				t.Errorf("%q is taken for a formula", c)
			}
		}
	}
	var book bytes.Buffer
	if err := WriteRecordsXLSX(&book, s); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&book)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	n := 0
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if sheet != "lots" {
			n += len(rows) - 1
		}
		for i, r := range rows {
			for j := range r {
				cell := letters(j) + string(rune('0'+(i+1)%10))
				if what, err := f.GetCellFormula(sheet, cell); err != nil || what != "" {
					t.Errorf("%s of %s is the formula %s (%v)", cell, sheet, what, err)
				}
			}
		}
	}
	if n != s.History.Len() {
		t.Errorf("%d rows of %d records", n, s.History.Len())
	}
	if got := textOf(-0.5, true); got != "-0,5" {
		t.Errorf("a negative number became %q", got)
	}
}

func FuzzReadLines(f *testing.F) {
	f.Add([]byte(`{"id":1,"kind":"taken_in","at":"2026-05-03T14:05:00Z","body":{"class":"scrap","pieces":{},"mass_kg":1}}`))
	f.Add([]byte("\n{}\n"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		records, err := ReadLines("fuzz", bytes.NewReader(raw), int64(len(raw)))
		if err != nil {
			if _, ok := err.(*Error); !ok {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		s, err := shop.Fold(nil)
		if err != nil {
			t.Fatal(err)
		}
		notebook.Whole(s, bookNow, records)
	})
}
