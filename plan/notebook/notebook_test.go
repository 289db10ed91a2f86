package notebook_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"hopperful/fact"
	"hopperful/plan/notebook"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

var day = shoptest.Noon

func line(place string, minutes int, b shop.Body, lots map[string]string) notebook.Line {
	return notebook.Line{Place: fact.Verbatim(place), Raw: place + " as written", Record: shop.Record{At: day.Add(time.Duration(minutes) * time.Minute), Body: b}, Lots: lots,
		Heads: map[string]string{"from": "out of", "lot": "bin"}}
}

// runs are grindings of S1, their lots and mill left to the notebook.
func ground(charge float64) *shop.Ground {
	return &shop.Ground{From: "S1", Charge: charge, Product: shoptest.P(charge * 0.9), Run: 60}
}

func bin(t *testing.T, more ...shop.Body) *shop.State {
	t.Helper()
	s := shoptest.Scrap("PLA", "black", 5)
	s.Lot, s.Name = "S1", "Failed  Prints"
	return shoptest.Bin(t, append([]shop.Body{s}, more...)...)
}

func fates(r notebook.Result) string {
	var all []string
	for _, l := range r.Lines {
		all = append(all, string(l.Fate))
	}
	return strings.Join(all, " ")
}

// What becomes of each line of a notebook, and what is then written: all of it but what is
// known, or nothing.
func TestWhatBecomesOfALine(t *testing.T) {
	t.Parallel()
	later := day.Add(time.Hour)
	for name, c := range map[string]struct {
		lines   []notebook.Line
		fates   string
		head    string
		written int
		wrong   string // code of what is wrong with the last line
	}{
		"nothing":          {nil, "", "notebook.empty", 0, ""},
		"two runs":         {[]notebook.Line{line("1", 0, ground(0.08), nil), line("2", 9, ground(0.09), nil)}, "taken taken", "notebook.ready", 2, ""},
		"by name":          {[]notebook.Line{line("1", 0, &shop.Ground{Charge: 0.08, Run: 60}, map[string]string{"from": "failed PRINTS"})}, "taken", "notebook.ready", 1, ""},
		"no such name":     {[]notebook.Line{line("1", 0, ground(0.08), nil), line("2", 1, &shop.Ground{Charge: 0.08, Run: 60}, map[string]string{"from": "the blue box"})}, "taken refused", "notebook.refused", 0, "notebook.no_such_lot"},
		"no such label":    {[]notebook.Line{line("1", 0, &shop.Ground{From: "S9", Charge: 0.08, Run: 60}, nil)}, "refused", "notebook.refused", 0, "notebook.no_such_lot"},
		"no lot":           {[]notebook.Line{line("1", 0, &shop.Ground{Charge: 0.08, Run: 60}, nil)}, "refused", "notebook.refused", 0, "notebook.no_from"},
		"nothing readable": {[]notebook.Line{{Place: fact.Verbatim("7"), Raw: "???"}}, "refused", "notebook.refused", 0, ""},
		"before the bin":   {[]notebook.Line{line("1", -3000, ground(0.08), nil)}, "refused", "notebook.refused", 0, "notebook.came_later"},
		"taken in by name": {[]notebook.Line{line("1", 0, &shop.TakenIn{Class: shop.Scrap, Polymer: "PETG", Mass: 1}, map[string]string{"lot": "clear bits"}),
			line("2", 5, &shop.Ground{Charge: 0.05, Run: 60}, map[string]string{"from": "Clear Bits"})}, "taken taken", "notebook.ready", 2, ""},
	} {
		r := notebook.Of(bin(t), later, c.lines)
		if fates(r) != c.fates || r.Document.Head.Code != c.head || len(r.Records) != c.written {
			t.Errorf("%s: %q, %s, %d written: %+v", name, fates(r), r.Document.Head.Code, len(r.Records), r.Document.Spoilers)
			continue
		}
		if n := len(r.Lines); c.wrong != "" && (len(r.Lines[n-1].Wrong) == 0 || r.Lines[n-1].Wrong[0].What.Code != c.wrong) {
			t.Errorf("%s: wrong is %+v", name, r.Lines[n-1].Wrong)
		}
		if tbl := r.Document.Tables[0]; len(tbl.Rows) != len(c.lines) {
			t.Errorf("%s: %d rows of %d lines", name, len(tbl.Rows), len(c.lines))
		}
	}
}

// A notebook read twice is known the second time, each record once, and a line more is the
// only one written.
func TestANotebookIsKnownAgain(t *testing.T) {
	t.Parallel()
	later := day.Add(time.Hour)
	lines := []notebook.Line{line("1", 0, ground(0.08), nil), line("2", 9, ground(0.08), nil)}
	first := notebook.Of(bin(t), later, lines)
	s, err := bin(t).Admit(later, first.Records...)
	if err != nil {
		t.Fatal(err)
	}
	again := notebook.Of(s, later, []notebook.Line{line("1", 0, ground(0.08), nil), line("2", 9, ground(0.08), nil)})
	if fates(again) != "known known" || again.Document.Head.Code != "notebook.nothing_new" || len(again.Records) != 0 || again.Lines[0].Was == again.Lines[1].Was || again.Lines[0].Was == 0 {
		t.Errorf("%q, %s: %d and %d", fates(again), again.Document.Head.Code, again.Lines[0].Was, again.Lines[1].Was)
	}
	more := notebook.Of(s, later, []notebook.Line{line("1", 0, ground(0.08), nil), line("2", 9, ground(0.08), nil), line("3", 9, ground(0.08), nil)})
	if fates(more) != "known known taken" && fates(more) != "known known asked" || len(more.Records) != 1 {
		t.Errorf("%q, %d written", fates(more), len(more.Records))
	}
	if into := more.Records[0].Body.(*shop.Ground).Into; into != again.Lines[1].Record.Body.(*shop.Ground).Into {
		t.Errorf("the next run of the same scrap goes into %s", into)
	}
	if mill := more.Records[0].Body.(*shop.Ground).Mill; mill != shoptest.Mill().Name {
		t.Errorf("the only mill is %q", mill)
	}
}

// Two lots of one name are asked for by label, and not more than forty things are told.
func TestWhatIsToldOfMany(t *testing.T) {
	t.Parallel()
	later := day.Add(time.Hour)
	twin := shoptest.Scrap("PLA", "white", 1)
	twin.Lot, twin.Name = "S2", "failed prints"
	s := bin(t, twin)
	r := notebook.Of(s, later, []notebook.Line{line("1", 0, &shop.Ground{Charge: 0.08, Run: 60}, map[string]string{"from": "failed prints"})})
	if r.Lines[0].Fate != notebook.Refused || r.Lines[0].Wrong[0].What.Code != "notebook.several_lots" || r.Lines[0].Wrong[0].Column != "out of" {
		t.Errorf("%+v", r.Lines[0].Wrong)
	}
	for _, n := range []int{40, 41, 55} {
		var lines []notebook.Line
		for i := range n {
			lines = append(lines, line(fmt.Sprint(i), i, &shop.Ground{Charge: 0.08, Run: 60}, nil))
		}
		doc := notebook.Of(bin(t), later, lines).Document
		if want := min(n, 41); len(doc.Spoilers) != want {
			t.Errorf("of %d wrong lines %d things are told", n, len(doc.Spoilers))
		}
		if last := doc.Spoilers[len(doc.Spoilers)-1]; n > 40 {
			if f, _ := last.Fact("n"); last.Code != "notebook.more" || int(f.Value) != n-40 {
				t.Errorf("of %d the rest is told as %+v", n, last)
			}
		}
	}
}

// The whole of a shop goes into an empty one or onto its own beginning, and into no other.
func TestAWholeShopIsTakenOnce(t *testing.T) {
	t.Parallel()
	s := bin(t)
	var all []shop.Record
	for i := range s.History.Len() {
		all = append(all, s.History.At(i))
	}
	fresh, err := shop.Fold(all[:2])
	if err != nil {
		t.Fatal(err)
	}
	other := slices.Clone(all)
	other[0].Note = "another"
	changed := slices.Clone(all) // the same record but for one number in it
	for i, r := range changed {
		if b, ok := r.Body.(*shop.ShopSet); ok {
			body := *b
			body.Name += " anew"
			changed[i].Body = &body
		}
	}
	late := slices.Clone(all)
	late[3].At = day.Add(48 * time.Hour)
	for name, c := range map[string]struct {
		to      *shop.State
		records []shop.Record
		head    string
		written int
	}{
		"into its beginning":  {fresh, all, "notebook.whole_ready", len(all) - 2},
		"again":               {s, all, "notebook.whole_known", 0},
		"nothing":             {s, nil, "notebook.whole_empty", 0},
		"another shop's":      {fresh, other, "notebook.whole_refused", 0},
		"with another number": {s, changed, "notebook.whole_refused", 0},
		"of the future":       {fresh, late, "notebook.whole_refused", 0},
	} {
		r := notebook.Whole(c.to, day.Add(time.Hour), c.records)
		if r.Document.Head.Code != c.head || len(r.Records) != c.written {
			t.Errorf("%s: %s, %d written", name, r.Document.Head.Code, len(r.Records))
		}
		if name == "another shop's" {
			if f, _ := r.Document.Spoilers[0].Fact("n"); shop.RecordID(f.Value) != other[0].ID {
				t.Errorf("record %g is named, %d differs", f.Value, other[0].ID)
			}
		}
		if name == "of the future" {
			if f, _ := r.Document.Spoilers[0].Fact("n"); shop.RecordID(f.Value) != late[3].ID {
				t.Errorf("record %g is named, %d is of the future", f.Value, late[3].ID)
			}
		}
	}
}
