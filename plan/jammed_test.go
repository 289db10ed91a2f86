package plan_test

import (
	"testing"
	"time"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// After one stall and after two a charge is asked for that is clearly less; after the
// third nobody is sent on, but told what to look at. A look at the blade, or pieces half
// as thick, and one small charge is asked for again.
func TestThreeStallsSendNobodyOn(t *testing.T) {
	t.Parallel()
	s, at := noted(t, kettle(), 1, nil), shoptest.Noon
	write := func(b shop.Body) {
		t.Helper()
		at = at.Add(10 * time.Minute)
		next, err := s.With(shop.Record{At: at, NotedAt: at, Body: b})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	most := 0.6 * 0.12
	for n := 1; n <= 3; n++ {
		level := 14
		charge := 0.12
		if n > 1 {
			charge = most
		}
		write(&shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: charge, Run: 5, Level: &level, Stalled: true, Product: shoptest.P(0), Left: shoptest.P(0), Swept: &charge})
		if n > 1 {
			most /= 2
		}
		req.Now = at.Add(time.Minute)
		g := grind(t, s, req)
		switch charge := g.Setting.Charge.Value; {
		case n < 3 && (g.Trial == nil || charge <= 0 || charge > most+1e-9 || g.Setting.Level.Value < 14 || g.Setting.Run.Value > 60):
			t.Errorf("after stall %d at most %g kg: %s", n, most, shown(g))
		case n == 3 && (g.Possible || g.Blocked == nil || g.Trial != nil || charge != 0 || len(g.Steps) < 4):
			t.Errorf("after stall %d: %s", n, shown(g))
		}
	}
	lot, err := s.With(shop.Record{At: at, NotedAt: at, Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Mass: 5, Pieces: shop.Pieces{Largest: shoptest.P(0.02), Wall: shoptest.P(0.001)}}})
	if err != nil {
		t.Fatal(err)
	}
	smaller := req
	smaller.Lots = []shop.LotID{"S2"}
	if g := grind(t, lot, smaller); g.Setting.Charge.Value <= 0 {
		t.Errorf("thinner pieces: %s", shown(g))
	}
	write(&shop.Serviced{Mill: "Kettle", Part: shop.BladePart, What: shop.Inspected})
	req.Now = at.Add(time.Minute)
	if g := grind(t, s, req); g.Setting.Charge.Value <= 0 || g.Setting.Charge.Value > 0.7*0.12 {
		t.Errorf("after a look at the blade: %s", shown(g))
	}
}
