package shop

import (
	"strings"
	"testing"
	"time"
)

// TestPrintMakesALot: what was printed lies in a lot of its own, and sorted it
// is scrap again, counted once.
func TestPrintMakesALot(t *testing.T) {
	t.Parallel()
	s := write(t, mustFold(t, nil),
		Record{At: monday, Body: &TakenIn{Class: Virgin, Polymer: "PLA", Sure: kg(0.9), Colour: "red", RGB: "#aa0000", Halogen: No, Metal: "a screw", Mass: 1}},
		Record{Body: &Printed{From: "V1", Print: "hook", Mass: 0.25, Purged: kg(0.05), Good: No, Why: "came loose"}})
	p := s.Lots.At("P1")
	if p == nil || p.Class != Print || p.Name != "hook" || p.Polymer != "PLA" || *p.Sure != 0.9 || p.Colour != "red" || p.RGB != "#aa0000" || p.Halogen != No || p.Metal != "" {
		t.Fatalf("P1 is %+v", p)
	}
	wantMass(t, "P1", p.Mass, 0.2)
	if len(p.Parents) != 1 || p.Parents[0].Lot != "V1" || len(s.Stock(Print)) != 1 {
		t.Errorf("P1 came from %+v", p.Parents)
	}
	b := BalanceOf(s)
	wantMass(t, "printed", b.Printed, 0.2)
	wantMass(t, "on hand", b.OnHand, 0.75)
	wantMass(t, "purged", b.Losses[Purged], 0.05)
	if o := s.OutcomeOf("P1"); o != (Outcome{No, "came loose"}) {
		t.Errorf("it came out as %+v", o)
	}
	r := write(t, s, Record{Body: &Sorted{From: "P1", Into: []Part{{Name: "failed hook", Mass: 0.199}}, Waste: kg(0.001)}})
	l := r.Lots.At("S1")
	if l == nil || l.Class != Scrap || l.Name != "failed hook" || l.Polymer != "PLA" || l.Colour != "red" {
		t.Fatalf("S1 is %+v", l)
	}
	b = BalanceOf(r)
	wantMass(t, "in", b.In, 1)
	wantMass(t, "printed", b.Printed, 0)
	wantMass(t, "on hand", b.OnHand, 0.949)
	if c := r.Composition("S1"); len(c) != 1 || c[0].Lot != "V1" {
		t.Errorf("S1 consists of %+v", c)
	}
	// Struck out, the print is as never made, and its label names nothing else.
	v := write(t, s, Record{Corrects: 2, Body: &Void{Why: "x"}})
	wantMass(t, "V1", v.Lots.At("V1").Mass, 1)
	if _, ok := v.Lot("P1"); ok {
		t.Error("P1 is still there")
	}
	n := write(t, v, Record{Body: &Printed{From: "V1", Print: "hook", Mass: 0.1}})
	if n.Newest().Body.(*Printed).Into != "P2" {
		t.Errorf("the next print is %s", n.Newest().Body.(*Printed).Into)
	}
	c := write(t, s, Record{Corrects: 2, Body: &Printed{From: "V1", Print: "hook", Mass: 0.3, Good: Yes}})
	wantMass(t, "P1 corrected", c.Lots.At("P1").Mass, 0.3)
	if _, err := r.With(Record{Corrects: 2, Body: &Void{Why: "x"}}); err == nil || !strings.Contains(inWords(err), "This contradicts record 3 (sorted") {
		t.Errorf("a print that was sorted was struck out: %v", err)
	}
}

// TestOutcomeOfSeveralPrints in one lot: good when all are.
func TestOutcomeOfSeveralPrints(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		good []YesNo
		want Outcome
	}{
		{[]YesNo{Yes, Yes}, Outcome{Good: Yes}},
		{[]YesNo{Yes, Unknown}, Outcome{}},
		{[]YesNo{Unknown, Yes}, Outcome{}},
		{[]YesNo{No, Yes}, Outcome{No, "failure 0"}},
		{[]YesNo{No, No, Unknown, Yes}, Outcome{No, "failure 1"}},
	} {
		s := write(t, mustFold(t, nil), Record{At: monday, Body: &TakenIn{Class: Virgin, Mass: 1}})
		for i, good := range c.good {
			b := &Printed{From: "V1", Into: "P1", Print: "hook", Mass: 0.1, Good: good}
			if good == No {
				b.Why = "failure " + string(rune('0'+i))
			}
			s = write(t, s, Record{Body: b})
		}
		if o := s.OutcomeOf("P1"); o != c.want {
			t.Errorf("%v: %+v, want %+v", c.good, o, c.want)
		}
		wantMass(t, "P1", s.Lots.At("P1").Mass, 0.1*float64(len(c.good)))
	}
}

// TestOldPrintsGetLabels: prints written down before prints had labels get the
// same ones whenever the log is folded, none that another record uses, and what
// is written later changes nothing about it.
func TestOldPrintsGetLabels(t *testing.T) {
	t.Parallel()
	at := func(h int) time.Time { return monday.Add(time.Duration(h) * time.Hour) }
	old := []Record{
		{ID: 1, At: at(0), Body: &TakenIn{Lot: "V1", Class: Virgin, Polymer: "PLA", Mass: 1}},
		{ID: 2, At: at(1), Body: &Printed{From: "V1", Print: "a", Mass: 0.1}},
		{ID: 3, At: at(2), Body: &TakenIn{Lot: "P1", Class: Print, Polymer: "PETG", Mass: 0.5}},
		{ID: 4, At: at(3), Body: &Sorted{From: "P1", Into: []Part{{Lot: "P2", Mass: 0.2}}}},
		{ID: 5, At: at(4), Body: &Printed{From: "V1", Print: "b", Mass: 0.2}},
		{ID: 6, At: at(5), Corrects: 2, Body: &Printed{From: "V1", Print: "a", Mass: 0.11}},
	}
	want := map[LotID]float64{"V1": 0.69, "P1": 0.3, "P2": 0.2, "P3": 0.11, "P4": 0.2}
	s := mustFold(t, old)
	holds := func(s *State) {
		t.Helper()
		for id, m := range want {
			if s.Lots.At(id) == nil {
				t.Fatalf("there is no %s", id)
			}
			wantMass(t, string(id), s.Lots.At(id).Mass, m)
		}
	}
	holds(s)
	// As stored: the old records without labels, the new ones with.
	want["P5"], want["V1"], want["P3"], want["S1"] = 0.05, 0.64, 0.01, 0.1
	s = write(t, s, Record{Body: &Printed{From: "V1", Print: "c", Mass: 0.05}}, Record{Body: &Sorted{From: "P3", Into: []Part{{Mass: 0.1}}}})
	holds(s)
	holds(mustFold(t, append(old[:len(old):len(old)], s.History.After(len(old))...)))
	for say, r := range map[string]Record{
		"Lot P3 is record 2 (printed, 2026-05-04 09:00); nothing else goes into it.": {Body: &TakenIn{Lot: "P3", Class: Print, Polymer: "PLA", Mass: 0.1}},
		"Lot P4 is record 5 (printed":                                {At: at(2), Body: &TakenIn{Lot: "P4", Class: Print, Mass: 0.1}},
		"Lot P5 is record 7 (printed":                                {Body: &Sorted{From: "P4", Into: []Part{{Lot: "P5", Mass: 0.1}}}},
		"Lot P2 came from outside and holds no prints of this shop.": {Body: &Printed{From: "P1", Into: "P2", Print: "d", Mass: 0.1}},
		"Lot P4 is PLA and this is PETG.":                            {Body: &Printed{From: "P1", Into: "P4", Print: "d", Mass: 0.1}},
	} {
		if r.At.IsZero() {
			r.At = s.Last
		}
		if _, err := s.With(r); err == nil || !strings.Contains(inWords(err), say) {
			t.Errorf("got %v, want %q", err, say)
		}
	}
}
