package plan_test

import (
	"testing"
	"time"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Charges of which next to nothing comes out are answered with a smaller one, a level higher and
// shorter; after eight nobody is sent on, until the blade was looked at. A mill that gives
// what was filled in is asked nothing of the kind; who goes on as before is asked to try first.
func TestAMillThatGivesNothingIsNotFedForEver(t *testing.T) {
	t.Parallel()
	s, at := noted(t, kettle(), 0, nil), shoptest.Noon
	level := 10
	write := func(b shop.Body) {
		t.Helper()
		at = at.Add(20 * time.Hour)
		next, err := s.With(shop.Record{At: at, NotedAt: at, Body: b})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	feed := func(charge, run, out float64) {
		t.Helper()
		left := charge - out
		write(&shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: charge, Run: run, Level: &level, Product: &out, Left: &left, Emptied: true})
	}
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	least := 0.12
	for n := 1; n <= 8; n++ {
		feed(least, 120, 0.04*least)
		req.Now = at.Add(20 * time.Hour)
		g := grind(t, s, req)
		switch {
		case n < 3 && (g.Trial == nil || g.Trial.Why.Code == "plan.barren_faster"):
			t.Errorf("after %d charges: %s", n, shown(g))
		case n >= 3 && n < 8:
			if g.Trial == nil || g.Trial.Why.Code != "plan.barren_faster" || g.Possible {
				t.Fatalf("after %d charges of next to nothing: %s", n, shown(g))
			}
			if c, l := g.Setting.Charge.Value, int(g.Setting.Level.Value); c >= least || l <= level || g.Setting.Run.Value >= 120 {
				t.Errorf("after %d charges no smaller, higher and shorter one than %g kg at %d: %s", n, least, level, shown(g))
			}
			least, level = g.Setting.Charge.Value, int(g.Setting.Level.Value)
		case n == 8 && (g.Possible || g.Trial != nil || g.Blocked == nil || g.Says.Code != "plan.barren" || g.Setting.Charge.Value != 0 || len(g.Steps) < 4):
			t.Errorf("after %d charges: %s", n, shown(g))
		}
	}
	before := s
	s = noted(t, kettle(), 0, nil)
	least, level = 0.12, 10
	for range 8 {
		feed(0.12, 120, 0.005)
	}
	if g := grind(t, s, req); g.Trial == nil || g.Trial.Why.Code != "plan.barren_faster" {
		t.Errorf("nothing else was tried: %s", shown(g))
	}
	s = before
	write(&shop.Serviced{Mill: "Kettle", Part: shop.BladePart, What: shop.Inspected})
	req.Now = at.Add(time.Hour)
	if g := grind(t, s, req); g.Setting.Charge.Value <= 0 {
		t.Errorf("after a look at the blade: %s", shown(g))
	}
	s = before
	for range 3 {
		feed(0.12, 120, 0.1)
	}
	req.Now = at.Add(20 * time.Hour)
	if g := grind(t, s, req); g.Setting.Charge.Value <= 0 || g.Trial != nil && g.Trial.Why.Code == "plan.barren_faster" {
		t.Errorf("although it gives now: %s", shown(g))
	}
}
