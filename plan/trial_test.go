package plan_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"hopperful/plan"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// kettle is a converted mill as its owner writes it down: label, pot, screen,
// controller, no more.
func kettle() shop.Mill {
	return shop.Mill{Name: "Kettle", RatedPower: shoptest.P(3700), Chamber: shoptest.P(0.0025),
		Screen: shop.Screen{Hole: shoptest.P(0.0019)}, Controller: &shop.Control{Levels: 22}}
}

// noted is a shop with a mill and so many charges of common practice (no
// source): 120 g at level 14 of 22 for two minutes, wall 13 to 25 °C, 115 g out.
func noted(t testing.TB, mill shop.Mill, runs int, change func(i int, b *shop.Ground)) *shop.State {
	t.Helper()
	all := []shop.Body{&shop.ShopSet{Name: "Shed"}, &shop.MillSet{Mill: mill}, &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Mass: 5}}
	at := []time.Time{shoptest.Noon.AddDate(0, 0, -30), shoptest.Noon.AddDate(0, 0, -30), shoptest.Noon.AddDate(0, 0, -30)}
	for i := range runs {
		level := 14
		b := &shop.Ground{Mill: mill.Name, From: "S1", Into: "R9", Charge: 0.12, Product: shoptest.P(0.115), Run: 120, Level: &level,
			WallBefore: shoptest.P(286.15), WallAfter: shoptest.P(298.15)}
		if mill.Controller == nil {
			b.Level = nil
		}
		if change != nil {
			change(i, b)
		}
		all = append(all, b)
		at = append(at, shoptest.Noon.AddDate(0, 0, i-20))
	}
	records := make([]shop.Record, len(all))
	for i, b := range all {
		records[i] = shop.Record{ID: shop.RecordID(i + 1), At: at[i], Body: b}
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func shown(g plan.Grinding) string {
	level := 0.0
	if g.Setting.Level != nil {
		level = g.Setting.Level.Value
	}
	text := fmt.Sprintf("possible %v: %g × %.0f g at level %g, %.0f s, rest %.0f s, total %.0f s, product %.0f (%.0f to %.0f) g; stop at %.0f g; %v", g.Possible, g.Setting.Charges.Value,
		1000*g.Setting.Charge.Value, level, g.Setting.Run.Value, g.Setting.Rest.Value, g.Setting.Total.Value, 1000*g.Product.Value, 1000*g.Product.Low, 1000*g.Product.High, 1000*g.Setting.StopAt.Value, g.Says)
	if g.Trial != nil {
		text += " TRIAL: " + g.Trial.Why.Code
	}
	if g.Blocked != nil {
		text += " BLOCKED: " + g.Blocked.Limit.Code + ". " + g.Blocked.Nearest.Code
	}
	return text
}

// TestCommonPracticeIsPlannedFor holds plans against what people with such mills
// do (common practice, no source): two minutes of some 120 g near level 14 of 22.
// A plan stays within a few levels and a third of the mass of that, and takes no
// more charges than a person would.
func TestCommonPracticeIsPlannedFor(t *testing.T) {
	t.Parallel()
	for _, runs := range []int{1, 2, 3} {
		t.Run(fmt.Sprintf("after %d runs", runs), func(t *testing.T) {
			t.Parallel()
			req := bracket(0.5, "PLA")
			req.Lots = []shop.LotID{"S1"}
			g := grind(t, noted(t, kettle(), runs, nil), req)
			if g.Setting.Level == nil || g.Trial != nil {
				t.Fatal(shown(g))
			}
			if rest := g.Setting.Rest.Value; rest < 60 || rest > 1800 {
				t.Errorf("rests of %g s: %s", rest, shown(g))
			}
			if below := g.Setting.Below; below == nil || below.Value < 287.15 || below.Value > 298.15 { // between the room's 13 and the wall's 25 °C after a run
				t.Errorf("the next charge begins on a wall of %+v: %s", below, shown(g))
			}
			if level := g.Setting.Level.Value; level < 10 || level > 16 {
				t.Errorf("level %g: %s", level, shown(g))
			}
			if charge := g.Setting.Charge.Value; charge < 0.09 || charge > 0.15 {
				t.Errorf("charges of %g kg: %s", charge, shown(g))
			}
			if n := g.Setting.Charges.Value; n < 2 || n > 7+float64(3-runs) {
				t.Errorf("%g charges: %s", n, shown(g))
			}
		})
	}
}

// A mill nobody has run gets one modest charge, never a campaign on the word of
// books.
func TestANewMillGetsATrial(t *testing.T) {
	t.Parallel()
	for name, mill := range map[string]shop.Mill{"described": kettle(), "a name": {Name: "Kettle"}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			g := grind(t, noted(t, mill, 0, nil), bracket(0.24, "PLA"))
			if g.Trial == nil || g.Setting.Charges.Value != 1 || len(g.Trial.Read) == 0 {
				t.Fatal(shown(g))
			}
			if len(g.Take) != 1 || g.Take[0].Mass.Value != g.Setting.Charge.Value || g.Setting.Charge.Value > 0.125 || g.Setting.Run.Value > 90 {
				t.Errorf("no modest charge: %s", shown(g))
			}
			if l := g.Setting.Level; l != nil && (l.Value < 10 || l.Value > 15) {
				t.Errorf("level %g", l.Value)
			}
		})
	}
}

// The ranges told with a plan follow the seed; what to do does not.
func TestWhatToDoDoesNotHangOnTheSeed(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 2, nil)
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	one := grind(t, s, req)
	req.Seed = 99
	other := grind(t, s, req)
	for i, pair := range [][2]float64{
		{one.Setting.Charge.Value, other.Setting.Charge.Value}, {one.Setting.Charges.Value, other.Setting.Charges.Value},
		{one.Setting.Level.Value, other.Setting.Level.Value}, {one.Setting.Run.Value, other.Setting.Run.Value}, {one.Setting.Rest.Value, other.Setting.Rest.Value},
	} {
		if pair[0] != pair[1] {
			t.Errorf("figure %d of the cycle is %g with one seed and %g with another", i, pair[0], pair[1])
		}
	}
	if one.Product.Low == other.Product.Low {
		t.Error("another seed draws the same")
	}
}

// A plan goes no further from what was run than a step, whatever that was.
func TestAPlanStaysWithinAStepOfPractice(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		level          int
		charge, minute float64
	}{"gentle": {9, 0.1, 1.5}, "hard": {18, 0.15, 1}, "small": {14, 0.05, 2}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := noted(t, kettle(), 3, func(_ int, b *shop.Ground) {
				level := c.level
				b.Level, b.Charge, b.Product, b.Run = &level, c.charge, shoptest.P(0.95*c.charge), 60*c.minute
			})
			req := bracket(0.3, "PLA")
			req.Lots = []shop.LotID{"S1"}
			g := grind(t, s, req)
			const gram = 0.003 // charges are rounded to what is weighed
			low, high := c.charge/1.3, c.charge*1.3
			if g.Trial != nil { // one charge may be gentler still
				low /= 1.3
			}
			if v := g.Setting.Charge.Value; v < low-gram || v > high+gram {
				t.Errorf("charges of %g kg, run was %g kg: %s", v, c.charge, shown(g))
			}
			if v := g.Setting.Level.Value; v < float64(c.level-2) || v > float64(c.level+2) {
				t.Errorf("level %g, run was %d", v, c.level)
			}
			if v := g.Setting.Run.Value; v > 90*c.minute+3 {
				t.Errorf("runs of %g s, run was %g min", v, c.minute)
			}
		})
	}
}

// A slip opens no door: a charge ten times the others, or more than the chamber
// holds, is no practice.
func TestASlipIsNoPractice(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 4, func(i int, b *shop.Ground) {
		if i == 2 {
			b.Charge = 1.2
		}
	})
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	if g := grind(t, s, req); g.Setting.Charge.Value > 0.16 {
		t.Error(shown(g))
	}
}

// The reading that surprised is the one that is named, with what it changed.
func TestTheReadingThatMovedAPlanIsNamed(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 4, func(i int, b *shop.Ground) {
		if i == 3 {
			b.WallAfter = shoptest.P(313.15) // 27 K warmer, where it was 12 K
		}
	})
	req := bracket(0.5, "PLA")
	req.Lots, req.Moved = []shop.LotID{"S1"}, true
	g := grind(t, s, req)
	if g.Moved == nil || g.Moved.Record != 7 || g.Moved.Reading == nil || g.Moved.Reading.Actual.Key != "wall_after" {
		t.Fatalf("%+v", g.Moved)
	}
	// What was expected is what every room holds the run against.
	c, err := plan.Compare(s, shop.RecordID(g.Moved.Record))
	if err != nil {
		t.Fatal(err)
	}
	same := slices.IndexFunc(c.Read, func(r plan.Readback) bool { return r.Forecast.Key == "wall_after" })
	if same < 0 || c.Read[same].Forecast.Low != g.Moved.Reading.Forecast.Low || c.Read[same].Forecast.High != g.Moved.Reading.Forecast.High {
		t.Errorf("the plan expected %+v, the run is held against %+v", g.Moved.Reading.Forecast, c.Read)
	}
	if g.Possible && g.Trial == nil && len(g.Moved.Changes) == 0 {
		t.Errorf("nothing moved: %v", g.Moved.Says)
	}
	req.Moved = true
	if again := grind(t, noted(t, kettle(), 1, nil), req); again.Moved != nil {
		t.Error("one record has nothing before it to compare with")
	}
}

// Two minutes after a stop the mill is as warm as it was read; a plan waits.
func TestAWarmMillRestsFirst(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 4, func(i int, b *shop.Ground) {
		b.ChargeAfter = shoptest.P(*b.WallAfter + 4)
		if i == 3 {
			b.WallBefore, b.WallAfter, b.ChargeAfter = shoptest.P(300.15), shoptest.P(312.15), nil
		}
	})
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	cold := grind(t, s, req)
	req.Now = shoptest.Noon.AddDate(0, 0, 3-20).Add(2 * time.Minute)
	warm := grind(t, s, req)
	if warm.Setting.Wait == nil || warm.Setting.Wait.Value < 60 {
		t.Errorf("no rest before the first charge: %s", shown(warm))
	}
	if cold.Setting.Wait != nil {
		t.Errorf("a cold mill rests %g s", cold.Setting.Wait.Value)
	}
}

// A mill whose first charges were small, short and warm: nobody is sent to fill twenty grams
// fifty times, though everything that could be read was read. A charge that goes a step
// further is asked for instead.
func TestNobodyGrindsDozensOfCrumbs(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 0, nil)
	for _, c := range []struct {
		charge, run, product, after float64
		level                       int
		emptied                     bool
	}{
		{0.065, 60, 0.028, 44, 10, true}, {0.045, 40, 0.011, 35, 8, true}, {0.045, 40, 0.011, 36, 8, true}, {0.020, 40, 0.014, 40, 8, false},
		{0.020, 40, 0.015, 41, 8, false},
	} {
		at := s.Newest().At.Add(6 * time.Minute)
		var err error
		if s, err = s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: c.charge, Product: &c.product,
			Run: c.run, Level: &c.level, Emptied: c.emptied, WallBefore: shoptest.P(294.15), WallAfter: shoptest.P(297.15), ChargeAfter: shoptest.P(273.15 + c.after)}}); err != nil {
			t.Fatal(err)
		}
	}
	req := bracket(0.5, "PLA")
	req.Lots, req.Now = []shop.LotID{"S1"}, s.Newest().At.Add(time.Minute)
	g := grind(t, s, req)
	if g.Trial == nil && g.Setting.Charges.Value > 30 {
		t.Errorf("%s", shown(g))
	}
	if a := g.Setting; g.Trial != nil && a.Level.Value <= 8 && a.Run.Value <= 40 {
		t.Errorf("a trial that teaches nothing new: %s", shown(g))
	}
}
