package plan_test

import (
	"testing"
	"time"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// leaves is a mill outside the equations that leaves about half of its first charge inside,
// and gives what it is fed once so much lies there: what comes out follows the time from
// when enough is broken.
type leaves struct{ inside float64 }

// grind is what comes out of a charge in a time [kg].
func (m *leaves) grind(charge, time float64) float64 {
	m.inside += charge
	out := max(0, m.inside-0.08) * min(1, time/60)
	m.inside -= out
	return out
}

// One rough record of which little came out, then plans to the letter: none asks for
// less than half a minute, or for a shorter run of as much as gave little, and what lies
// in the mill stays near what lay there when it went well.
func TestPlansDoNotCreepTowardsShortRuns(t *testing.T) {
	t.Parallel()
	m := &leaves{}
	s := noted(t, kettle(), 1, func(_ int, b *shop.Ground) {
		level := 10
		b.Charge, b.Run, b.Level = 0.17, 70, &level
		b.Product, b.Left = shoptest.P(m.grind(0.17, 70)), shoptest.P(0.08)
	})
	at := shoptest.Noon
	most, ground := 0.0, 0.0
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	made, n := 0.0, 0
	for ; n < 14 && made < 0.5; n++ {
		rest := 0.5 - made
		req.Now, req.Make = at, &rest
		g := grind(t, s, req)
		if g.Setting.Charge.Value == 0 {
			t.Fatal(shown(g))
		}
		if run := g.Setting.Run.Value; run < 30 {
			t.Errorf("charge %d: %s", n+1, shown(g))
		}
		level, charge, run := int(g.Setting.Level.Value), g.Setting.Charge.Value, g.Setting.Run.Value
		b := &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: charge, Run: run, Level: &level}
		if g.Empty != nil {
			b.Emptied, b.Swept = true, shoptest.P(m.inside)
			m.inside = 0
		}
		b.Product = shoptest.P(m.grind(charge, run))
		most, made, ground = max(most, m.inside+*b.Product), made+*b.Product, ground+charge
		b.WallAfter = shoptest.P(297.15)
		at = at.Add(time.Duration(run+max(60, g.Setting.Rest.Value)) * time.Second)
		next, err := s.With(shop.Record{At: at, NotedAt: at, Body: b})
		if err != nil {
			t.Fatal(err)
		}
		s, at = next, at.Add(time.Minute)
	}
	if most > 0.25 || ground > 0.8 || made < 0.5 {
		t.Errorf("after %d charges %.0f g out of %.0f g, at most %.0f g inside", n, 1000*made, 1000*ground, 1000*most)
	}
}

// A trial asks for the charge's temperature and says that it is allowed where that is
// read well below its limit. Read so, it is.
func TestWhatATrialPromisesIsKept(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 1, func(_ int, b *shop.Ground) { // far too warm
		b.Run, b.ChargeAfter, b.WallAfter = 150, shoptest.P(273.15+62), shoptest.P(312.15)
	})
	req := bracket(0.3, "PLA")
	req.Lots = []shop.LotID{"S1"}
	before := grind(t, s, req)
	if before.Trial == nil {
		t.Fatalf("no trial is asked for: %s", shown(before))
	}
	level := int(before.Setting.Level.Value)
	run, charge := before.Setting.Run.Value, before.Setting.Charge.Value
	at := req.Now.Add(-24 * time.Hour)
	s, err := s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: charge, Run: run, Level: &level, Product: shoptest.P(0.95 * charge),
		Left: shoptest.P(0.04 * charge), WallBefore: shoptest.P(286.15), WallAfter: shoptest.P(296.15), ChargeAfter: shoptest.P(273.15 + 33)}})
	if err != nil {
		t.Fatal(err)
	}
	after := grind(t, s, req)
	if after.Trial != nil || !after.Possible {
		t.Errorf("33 °C read at %s; then %s", shown(before), shown(after))
	}
}

// Who finds grains in the mill that came out before fills less onto them; they are not
// thrown out.
func TestLessIsFilledOntoWhatLies(t *testing.T) {
	t.Parallel()
	at := shoptest.Noon
	s := noted(t, kettle(), 3, func(_ int, b *shop.Ground) { b.ChargeAfter = shoptest.P(273.15 + 32) })
	level := 14
	s, err := s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: 0.12, Run: 120, Level: &level, Product: shoptest.P(0.03), Left: shoptest.P(0.088),
		WallBefore: shoptest.P(286.15), WallAfter: shoptest.P(296.15), ChargeAfter: shoptest.P(273.15 + 32)}})
	if err != nil {
		t.Fatal(err)
	}
	rest := 0.2
	req := bracket(0.5, "PLA")
	req.Lots, req.Now, req.Make = []shop.LotID{"S1"}, at.Add(2*time.Minute), &rest
	g := grind(t, s, req)
	if g.Empty != nil || g.Setting.Charge.Value <= 0 || g.Setting.Charge.Value+0.088 > 1.35*0.12 {
		t.Errorf("88 g lie in the mill; empty first %v: %s", g.Empty, shown(g))
	}
}
