package identification

// Bounds of what is repeated, believed and listed, by hand.

import (
	"math"
	"strings"
	"testing"

	"hopperful/polymer/identify"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A message repeats sixty bytes at the most, and no half of a letter.
func TestHowMuchIsRepeated(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{"short": "short", strings.Repeat("a", 60): strings.Repeat("a", 60), strings.Repeat("a", 61): strings.Repeat("a", 60) + "…", strings.Repeat("a", 119): strings.Repeat("a", 60) + "…", strings.Repeat("a", 59) + "ää": strings.Repeat("a", 59) + "…", "": ""} {
		if got := shortened(text); got != want {
			t.Errorf("%q is repeated as %q", text, got)
		}
	}
}

// A label is believed as its owner says, from 5 to 98 %; what was said with the question goes first, and what nobody said counts as written by hand.
func TestHowFarALabelIsBelieved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for i, c := range []struct {
		opt   Options
		lot   *shop.Lot
		name  string
		right float64
	}{
		{Options{}, nil, "", identify.HandLabel}, {Options{Label: "PLA"}, nil, "PLA", identify.HandLabel}, {Options{Label: "PLA", LabelRight: 0.7}, nil, "PLA", 0.7}, {Options{}, &shop.Lot{Polymer: "ABS"}, "ABS", identify.HandLabel},
		{Options{}, &shop.Lot{Polymer: "ABS", Sure: p(0.6)}, "ABS", 0.6}, {Options{}, &shop.Lot{Polymer: "ABS", Sure: p(1)}, "ABS", 0.98}, {Options{}, &shop.Lot{Polymer: "ABS", Sure: p(0)}, "ABS", 0.05}, {Options{}, &shop.Lot{Polymer: "ABS", Sure: p(0.04)}, "ABS", 0.05},
		{Options{Label: "PLA"}, &shop.Lot{Polymer: "ABS", Sure: p(0.6)}, "PLA", identify.HandLabel},
	} {
		name, right := (&inquiry{opt: c.opt, lot: c.lot}).label()
		if name != c.name || math.Abs(right-c.right) > 1e-12 {
			t.Errorf("case %d: %q right by %g", i, name, right)
		}
	}
}

// Tests stand in a table where there is one at least, the next one first; what was found has one where there is any.
func TestWhichTablesThereAre(t *testing.T) {
	t.Parallel()
	one := Test{}
	for i, c := range []struct {
		next  *Test
		tests []Test
		moved []Move
		keys  string
		rows  int
	}{
		{nil, nil, nil, "pieces", 0}, {&one, nil, nil, "pieces tests", 1}, {nil, []Test{one}, nil, "pieces tests", 1}, {&one, []Test{one, one}, nil, "pieces tests", 3}, {nil, nil, make([]Move, 1), "pieces found", 0}, {&one, nil, make([]Move, 2), "pieces found tests", 1},
	} {
		q := &inquiry{out: Identification{Next: c.next, Tests: c.tests, Moved: c.moved}}
		q.tables()
		var keys []string
		for _, table := range q.out.Tables {
			keys = append(keys, table.Key)
			if table.Key == "tests" && len(table.Rows) != c.rows || table.Key == "found" && len(table.Rows) != len(c.moved) {
				t.Errorf("case %d: %s of %d rows", i, table.Key, len(table.Rows))
			}
		}
		if got := strings.Join(keys, " "); got != c.keys {
			t.Errorf("case %d: %s", i, got)
		}
	}
	if note := (Identification{}).Note(); !note.Empty() {
		t.Errorf("nothing was found, and it is noted: %+v", note)
	}
	if note := (Identification{Moved: make([]Move, 1)}).Note(); note.Code != "identification.note" {
		t.Errorf("%+v", note)
	}
}
