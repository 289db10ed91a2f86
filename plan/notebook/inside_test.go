package notebook

// What is remembered of a line for those that follow, and what is missing, by hand.

import (
	"testing"
	"time"

	"hopperful/fact"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A run goes into the lot the run before from the same scrap went into, unless somebody named one, by its label or its name.
func TestARunFollowsTheOneBefore(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		from, into shop.LotID
		named      map[string]string
		goes       shop.LotID
		wrong      int
	}{
		{"S1", "", nil, "R1", 0}, {"S2", "", nil, "", 0}, {"S1", "R5", nil, "R5", 0}, {"S1", "", map[string]string{"into": "fines"}, "", 0}, {"", "R5", nil, "R5", 1}, {"", "R5", map[string]string{"from": "bin"}, "R5", 0},
	} {
		j := &job{last: map[shop.LotID]shop.LotID{"S1": "R1"}}
		b := &shop.Ground{From: c.from, Into: c.into}
		out := &Judged{Line: Line{Record: shop.Record{Body: b}, Lots: c.named}}
		if j.follow(out); b.Into != c.goes || len(out.Wrong) != c.wrong {
			t.Errorf("case %d: into %q, %+v", i, b.Into, out.Wrong)
		}
	}
}

// The lot of a line is known by its name to those that follow, where it has a label and no other lot has the name.
func TestNamesAreRemembered(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		body  shop.Body
		lots  map[string]string
		named map[string][]shop.LotID
		want  map[string]int
	}{
		{&shop.Ground{From: "S1", Into: "R7"}, map[string]string{"into": "Fines"}, nil, map[string]int{"fines": 1}}, {&shop.Ground{From: "S1", Into: "R7"}, map[string]string{"into": "Fines"}, map[string][]shop.LotID{"fines": {"R1", "R2"}}, map[string]int{"fines": 2}},
		{&shop.Ground{From: "S1"}, map[string]string{"into": "Fines"}, nil, map[string]int{"fines": 0}}, {&shop.TakenIn{Lot: "S1", Name: "Bin"}, nil, map[string][]shop.LotID{"bin": {"S1"}}, map[string]int{"bin": 1}},
		{&shop.TakenIn{Lot: "S2", Name: "Bin"}, nil, map[string][]shop.LotID{"bin": {"S1"}}, map[string]int{"bin": 2}}, {&shop.TakenIn{Lot: "S2"}, nil, nil, map[string]int{"": 0}},
	} {
		j := &job{names: map[string][]shop.LotID{}, last: map[shop.LotID]shop.LotID{}}
		for k, v := range c.named {
			j.names[k] = v
		}
		j.remember(&Judged{Line: Line{Record: shop.Record{Body: c.body}, Lots: c.lots}})
		for name, n := range c.want {
			if len(j.names[name]) != n {
				t.Errorf("case %d: %q are %v", i, name, j.names[name])
			}
		}
		if g, ok := c.body.(*shop.Ground); ok && j.last["S1"] != g.Into {
			t.Errorf("case %d: the last went into %q", i, j.last["S1"])
		}
	}
}

// Of a lot that is not there it is told whether it came later.
func TestWhatCameLater(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Mass: 1})
	lot, _ := s.Lot("S1")
	born, _ := s.Record(lot.Born)
	for i, c := range []struct {
		from shop.LotID
		at   time.Time
		lot  bool
		code string
	}{
		{"S1", born.At.Add(-time.Hour), true, "notebook.came_later"}, {"S1", born.At.Add(time.Hour), true, "notebook.no_such_lot"}, {"S1", born.At, true, "notebook.no_such_lot"}, {"S9", born.At, true, "notebook.no_such_lot"},
		{"S1", born.At.Add(-time.Hour), false, "as it was"}, {"", born.At.Add(-time.Hour), true, "as it was"},
	} {
		j := &job{state: s}
		l := &Judged{Line: Line{Record: shop.Record{At: c.at, Body: &shop.Ground{From: c.from}}}}
		got := j.missing(l, []Wrong{{Field: "from", lot: c.lot, What: fact.Say("as it was")}})
		if got[0].What.Code != c.code {
			t.Errorf("case %d: %s", i, got[0].What.Code)
		}
	}
}
