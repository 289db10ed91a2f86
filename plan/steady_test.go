package plan_test

import (
	"math"
	"testing"
	"time"

	"hopperful/plan"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// followed grinds one charge as a plan says and writes down what half of its draws
// expect, with the wall so much warmer than that.
func followed(t *testing.T, s *shop.State, g plan.Grinding, at time.Time, first bool, wall float64) (*shop.State, time.Time) {
	t.Helper()
	start, end := curveOf(t, g, "temperature", "wall"), 0
	for end < len(start.X)-1 && start.X[end] < g.Setting.Run.Value-1e-6 {
		end++
	}
	level, n := int(g.Setting.Level.Value), g.Setting.Charges.Value
	product := math.Round(1000*g.Product.Value/n) / 1000
	b := &shop.Ground{Mill: g.Mill, From: "S1", Into: "R9", Charge: g.Setting.Charge.Value, Product: &product, Run: g.Setting.Run.Value, Level: &level,
		WallAfter: shoptest.P(math.Round(start.Mid[end]+wall-273.15) + 273.15)}
	if !first {
		rest := g.Setting.Rest.Value
		b.RestBefore = &rest
		at = at.Add(time.Duration(rest) * time.Second)
	}
	at = at.Add(time.Duration(b.Run) * time.Second)
	next, err := s.With(shop.Record{At: at, NotedAt: at, Body: b})
	if err != nil {
		t.Fatal(err)
	}
	return next, at
}

// One more reading that the records before it expected changes no plan much: neither
// half as many charges nor twice as many, and from one charge to the next of a campaign
// the same setting, unless another takes much less than the rest of it.
func TestAReadingThatWasExpectedKeepsThePlan(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		runs       int
		need, wall float64
	}{
		"three runs":             {3, 0.5, 0},
		"six runs":               {6, 0.5, 0},
		"a wall two K warmer":    {6, 0.5, 2},
		"a wall two K cooler":    {6, 0.5, -2},
		"few charges, six runs":  {6, 0.3, 0},
		"many charges, ten runs": {10, 0.9, 1},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := noted(t, kettle(), c.runs, nil)
			req := bracket(c.need, "PLA")
			req.Lots = []shop.LotID{"S1"}
			at := req.Now
			g := grind(t, s, req)
			for k := range 3 {
				if g.Trial != nil || !g.Possible {
					t.Fatalf("after %d charges: %s", k, shown(g))
				}
				left := g.Setting.Charges.Value - 1
				if left < 2 {
					return
				}
				s, at = followed(t, s, g, at, k == 0, c.wall)
				made := g.Setting.StopAt.Value - math.Round(1000*g.Product.Value/g.Setting.Charges.Value)/1000
				req.Make, req.Now = &made, at.Add(time.Minute)
				then := grind(t, s, req)
				n := then.Setting.Charges.Value
				if n <= left/2 || n >= 2*left {
					t.Errorf("after charge %d: %s; before it: %s", k+1, shown(then), shown(g))
				}
				if a, b := then.Setting, g.Setting; k > 0 && (math.Abs(a.Charge.Value/b.Charge.Value-1) > 0.05 || math.Abs(a.Run.Value/b.Run.Value-1) > 0.1 || a.Level.Value != b.Level.Value) && a.Total.Value > 0.6*b.Total.Value {
					t.Errorf("another setting after charge %d: %s; before it: %s", k+1, shown(then), shown(g))
				}
				g = then
			}
		})
	}
}

// A shop that goes on as it always did is planned for as it was.
func TestOneRecordMoreKeepsTheNumberOfCharges(t *testing.T) {
	t.Parallel()
	before := 0.0
	for runs := 2; runs <= 7; runs++ {
		s := noted(t, kettle(), runs, func(i int, b *shop.Ground) { // a scale of a gram, a thermometer of a degree
			*b.Product += []float64{0, 0.002, -0.003, 0.001, -0.001, 0.003, 0}[i]
			*b.WallAfter += []float64{0, -1, 1, 1, 0, -1, 0}[i]
		})
		req := bracket(0.5, "PLA")
		req.Lots = []shop.LotID{"S1"}
		g := grind(t, s, req)
		if n := g.Setting.Charges.Value; g.Trial != nil || before > 0 && (n <= before/2 || n >= 2*before) {
			t.Errorf("after %d runs %s; before it %g charges", runs, shown(g), before)
		}
		before = g.Setting.Charges.Value
	}
}

// What the thermometer said a charge ago is not forgotten because nobody looked at the
// last one: the mill is still warm.
func TestAWallReadAChargeAgoCounts(t *testing.T) {
	t.Parallel()
	s, at := noted(t, kettle(), 3, nil), shoptest.Noon
	for k, wall := range []*float64{shoptest.P(313.15), nil} {
		level := 14
		b := &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: 0.12, Product: shoptest.P(0.115), Run: 120, Level: &level, WallAfter: wall}
		if k > 0 {
			at, b.RestBefore = at.Add(6*time.Minute), shoptest.P(240)
		}
		var err error
		if s, err = s.With(shop.Record{At: at, NotedAt: at, Body: b}); err != nil {
			t.Fatal(err)
		}
	}
	req := bracket(0.5, "PLA")
	req.Lots, req.Now = []shop.LotID{"S1"}, at.Add(time.Minute)
	g := grind(t, s, req)
	wall := curveOf(t, g, "temperature", "wall")
	if waits := g.Setting.Wait != nil && g.Setting.Wait.Value > 300; !waits && wall.Mid[0] < 286.15+10 {
		t.Errorf("begins with a wall of %.1f °C a minute after the stop: %s", wall.Mid[0]-273.15, shown(g))
	}
}

// Three runs that went alike, written down at once or a day apart: the third, whose wall
// came out as expected or cooler, makes no campaign twice as long, and none that breaks
// the charge's limit in a third of the cases is chosen.
func TestAHarmlessReadingLengthensNoCampaign(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		apart time.Duration
		need  float64
	}{
		"at once":                {20 * time.Second, 0.13},
		"at once, more":          {20 * time.Second, 0.25},
		"on days":                {24 * time.Hour, 0.13},
		"on days, a spool":       {24 * time.Hour, 0.5},
		"an evening a while ago": {20 * time.Minute, 0.13},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			before := 0.0
			for runs := 2; runs <= 3; runs++ {
				at := shoptest.Noon.Add(-8*time.Hour - time.Duration(runs)*c.apart)
				s, err := shop.Fold([]shop.Record{{ID: 1, At: at.Add(-2 * c.apart), Body: &shop.MillSet{Mill: kettle()}},
					{ID: 2, At: at.Add(-c.apart), Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Mass: 5}}})
				if err != nil {
					t.Fatal(err)
				}
				for i := range runs {
					level, k := 14, float64(i)
					at = at.Add(c.apart)
					if s, err = s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R1", Charge: 0.12, Run: 120, Level: &level,
						Product: shoptest.P(0.111 + 0.001*k), WallBefore: shoptest.P(286.15 + k), WallAfter: shoptest.P(298.15 + k)}}); err != nil {
						t.Fatal(err)
					}
				}
				req := bracket(c.need, "PLA")
				req.Lots, req.Make = []shop.LotID{"S1"}, &c.need
				if c.apart < time.Minute {
					req.Now = at.Add(time.Minute)
				}
				g := grind(t, s, req)
				if g.Trial != nil {
					t.Fatalf("after %d runs %s", runs, shown(g))
				}
				for _, l := range g.Limits {
					if l.Key == "charge_temperature" && l.Holds() < 2.0/3 {
						t.Errorf("after %d runs the charge's limit holds in %g of the draws: %s", runs, l.Holds(), shown(g))
					}
				}
				if total := g.Setting.Total.Value; before > 0 && total > 2*before {
					t.Errorf("the third run makes it %g s, before it %g s: %s", total, before, shown(g))
				}
				before = g.Setting.Total.Value
			}
		})
	}
}
