package plan_test

import (
	"slices"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/plan"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// stopped plans right after two charges in a cold workshop, of which only the wall at the
// stop was read; the day before yesterday the cold wall was at 13 °C.
func stopped(t *testing.T, wall float64, req plan.Request) plan.Grinding {
	t.Helper()
	s := noted(t, kettle(), 3, nil)
	at := s.Newest().At.AddDate(0, 0, 2)
	level := 14
	for _, read := range []float64{291.15, wall} {
		var err error
		at = at.Add(5 * time.Minute)
		s, err = s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: 0.12, Product: shoptest.P(0.1), Run: 120, Level: &level,
			WallAfter: &read}})
		if err != nil {
			t.Fatal(err)
		}
	}
	req.Lots, req.Now = []shop.LotID{"S1"}, at.Add(time.Second)
	return grind(t, s, req)
}

// A room that nobody read today is as warm as it was read last, not as warm as the books
// have it: a plan between two charges begins on the wall that was just read, and what a
// day's charges warmed is reckoned over the same room.
func TestAWallJustReadIsPlannedFrom(t *testing.T) {
	t.Parallel()
	req := bracket(1.2, "PLA")
	g := stopped(t, 303.15, req)
	waits := 60.0
	if g.Setting.Wait != nil {
		waits = g.Setting.Wait.Value
	}
	cooled := waits / 60 // K a minute at the most: pots of this kind take a quarter of an hour and more to lose two thirds (judgement)
	if wall := curveOf(t, g, "temperature", "wall"); wall.Mid[0] < 302.65-1.2*cooled || wall.Mid[0] > 303.15 {
		t.Errorf("%.0f s after the wall was read at 30 °C it is %.1f °C: %s", waits, wall.Mid[0]-273.15, shown(g))
	}
}

// What a single last charge is reckoned from is told as well: how cool the wall has to be.
func TestALastChargeIsToldItsWall(t *testing.T) {
	t.Parallel()
	req := bracket(1.2, "PLA")
	req.Make = shoptest.P(0.03)
	g := stopped(t, 318.15, req)
	if g.Setting.Charges.Value != 1 || g.Setting.Below == nil {
		t.Fatalf("no single charge on a wall that has to cool: %s", shown(g))
	}
	if !slices.ContainsFunc(g.Steps, func(a answer.Action) bool { return a.Do.Code == "plan.still_warm_until" }) {
		t.Errorf("nobody is told how cool: %v", g.Steps)
	}
}
