package plan_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/plan"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What one charge left and nobody weighed comes out with the next: 55 g of 75 g came
// out, so of 60 g on top more can come than went in, and the forecast knows it. After
// the mill was brushed out it cannot.
func TestAnUnweighedRestComesOutWithTheNextCharge(t *testing.T) {
	t.Parallel()
	foretold := func(brushed bool) (low, middle, high float64) {
		s := noted(t, kettle(), 2, func(i int, b *shop.Ground) {
			b.Charge, b.Product, b.Run, b.RestBefore = 0.075, shoptest.P(0.055), 90, nil
			b.WallBefore, b.WallAfter = nil, nil
			if i == 0 {
				b.Left, b.Swept = shoptest.P(0), shoptest.P(0.02) // begins with an empty mill
			}
			if brushed {
				b.Left, b.Swept = shoptest.P(0), shoptest.P(0.02)
			}
		})
		level := 14
		last := s.Newest()
		next, err := s.With(shop.Record{At: last.At.Add(5 * time.Minute), NotedAt: last.At.Add(5 * time.Minute),
			Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: 0.06, Product: shoptest.P(0.06), Run: 120, Level: &level}})
		if err != nil {
			t.Fatal(err)
		}
		c, err := plan.Compare(next, next.Newest().ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range c.Read {
			if r.Forecast.Key == "product" {
				return r.Forecast.Low, r.Forecast.Value, r.Forecast.High
			}
		}
		t.Fatal("no forecast of the product")
		return 0, 0, 0
	}
	low, middle, high := foretold(false)
	if middle < 0.056 || high < 0.07 || high > 0.083 || low > middle {
		t.Errorf("on a rest of up to 20 g 60 g give %.1f (%.1f to %.1f) g", 1e3*middle, 1e3*low, 1e3*high)
	}
	if _, alone, most := foretold(true); alone > middle-0.005 || most > 0.0615 {
		t.Errorf("in an empty mill 60 g give %.1f, at most %.1f g, on a rest %.1f g", 1e3*alone, 1e3*most, 1e3*middle)
	}
}

// A sitting in which most of every charge stays behind fills the mill, though nobody
// weighed what lies there: the next charge is planned for the room that is left.
func TestWhatStaysBehindTakesTheNextChargesRoom(t *testing.T) {
	t.Parallel()
	full := func(product float64, wall *float64) float64 {
		s := noted(t, kettle(), 8, nil)
		level := 14
		at := s.Newest().At.AddDate(0, 0, 1)
		for range 2 {
			var err error
			at = at.Add(6 * time.Minute)
			s, err = s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: 0.12, Product: &product, Run: 120, Level: &level, WallBefore: wall}})
			if err != nil {
				t.Fatal(err)
			}
		}
		req := bracket(1.2, "PLA")
		req.Lots, req.Now = []shop.LotID{"S1"}, at.Add(5*time.Minute)
		g := grind(t, s, req)
		return figureOf(t, g, "fill").Value - g.Setting.Charge.Value/0.12*figureOf(t, grind(t, noted(t, kettle(), 8, nil), req), "fill").Value
	}
	much, little := full(0.03, nil), full(0.112, nil)
	if much < little+0.08 {
		t.Errorf("with 180 g in it the mill is %.3f fuller than by the charge, with 16 g %.3f", much, little)
	}
	if read := full(0.03, shoptest.P(293.15)); math.Abs(read-much) > 0.02 { // how warm the wall is says nothing of it
		t.Errorf("with the wall read the mill is %.3f fuller than by the charge, else %.3f", read, much)
	}
}

// filling is a mill of three good days, and then a sitting of four charges that leave
// so much of each behind.
func filling(t *testing.T, behind float64) plan.Grinding {
	t.Helper()
	s := noted(t, kettle(), 3, nil)
	level, at := 14, s.Newest().At.AddDate(0, 0, 1)
	for range 4 {
		var err error
		at = at.Add(6 * time.Minute)
		s, err = s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: 0.12, Product: shoptest.P(0.12 - behind), Run: 120, Level: &level}})
		if err != nil {
			t.Fatal(err)
		}
	}
	req := bracket(1.2, "PLA")
	req.Lots, req.Now = []shop.LotID{"S1"}, at.Add(5*time.Minute)
	return grind(t, s, req)
}

// Charges that leave more and more behind must not show each other that the rotor
// grinds more: what went well in the sitting that goes on counts by the charge.
func TestAFillingMillRaisesNoCeiling(t *testing.T) {
	t.Parallel()
	const behind = 0.02
	g := filling(t, behind)
	lies := 4*behind - 0.03 // some of it spilled or sticking, and models see less of it
	if g.Empty != nil {     // it is taken out first
		lies = 0
	}
	most := 1.2 * 0.125 * math.Pow(g.Setting.Level.Value/14, 1.5)
	if met := g.Setting.Charge.Value + lies; met > most {
		t.Errorf("%.0f g on %.0f g are asked of a rotor that has ground 125 g: %s", 1e3*g.Setting.Charge.Value, 1e3*lies, shown(g))
	}
}

// A full mill is emptied first, as its first step says, and what comes then is no
// shorter than what was run by much: ever shorter charges would each leave more than
// the last. One of which it is on record that it was emptied is not emptied again.
func TestAFullMillIsEmptiedFirst(t *testing.T) {
	t.Parallel()
	g := filling(t, 0.03)
	if g.Empty == nil || g.Empty.Low < 0.05 || g.Empty.High > 0.15 {
		t.Fatalf("some 90 g lie in the mill, and the plan says %+v: %s", g.Empty, shown(g))
	}
	if v := g.Setting.Run.Value; v < 80 {
		t.Errorf("charges of %.0f s, the shortest run was 120 s: %s", v, shown(g))
	}
	said := slices.ContainsFunc(g.Steps, func(s answer.Action) bool { return s.Do.Code == "plan.empty_first" })
	if !said {
		t.Errorf("no step says to empty it: %v", g.Steps)
	}
}

// What an earlier day left lies there until it is on record that it was taken out.
func TestEmptiedIsBelieved(t *testing.T) {
	t.Parallel()
	lies := func(emptied bool) float64 {
		s := noted(t, kettle(), 3, nil)
		level, at := 14, s.Newest().At
		for k, product := range []float64{0.06, 0.06, 0.11} {
			var err error
			at = at.AddDate(0, 0, 1)
			s, err = s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: 0.12, Product: &product, Run: 120, Level: &level,
				Emptied: emptied && k == 2}})
			if err != nil {
				t.Fatal(err)
			}
		}
		req := bracket(0.5, "PLA")
		req.Lots, req.Now = []shop.LotID{"S1"}, at.AddDate(0, 0, 1)
		g := grind(t, s, req)
		if g.Empty == nil {
			return 0
		}
		return g.Empty.Value
	}
	if full, clean := lies(false), lies(true); full < 0.08 || clean > 0.02 {
		t.Errorf("of 120 g in and 60 g out twice %.0f g are thought to lie there, after emptying %.0f g", 1e3*full, 1e3*clean)
	}
}

// A mill that passes a quarter of what lies in it gives little at first and as much as goes
// in later, and little again once it was emptied. That is no change, no slip and nothing to
// ask about; what comes next is foretold by what lies there.
func TestAPileIsReckonedWith(t *testing.T) {
	t.Parallel()
	const passes = 0.25
	inside, level := 0.0, 14
	s := noted(t, kettle(), 0, nil)
	charge := func(kg float64, emptied bool) plan.Readback {
		if emptied {
			inside = 0
		}
		out := math.Round(1e3*passes*(inside+kg)) / 1e3
		inside += kg - out
		at := s.Newest().At.Add(5 * time.Minute)
		var err error
		if s, err = s.With(shop.Record{At: at, NotedAt: at, Body: &shop.Ground{Mill: "Kettle", From: "S1", Into: "R9", Charge: kg,
			Product: &out, Run: 90, Level: &level, Emptied: emptied}}); err != nil {
			t.Fatal(err)
		}
		c, err := plan.Compare(s, s.Newest().ID)
		if err != nil {
			t.Fatal(err)
		}
		return c.Read[slices.IndexFunc(c.Read, func(r plan.Readback) bool { return r.Forecast.Key == "product" })]
	}
	charge(0.1, true)
	charge(0.1, true)
	for range 14 {
		charge(0.045, false)
	}
	for _, emptied := range []bool{false, true, true} {
		r := charge(0.045, emptied)
		if f := r.Forecast; !r.Inside || f.High > 2.2*f.Low {
			t.Errorf("emptied %v: foretold %.1f (%.1f to %.1f) g, came out %.1f g", emptied, 1e3*f.Value, 1e3*f.Low, 1e3*f.High, 1e3*r.Actual.Value)
		}
	}
	if asks := s.Asks(); len(asks) > 0 {
		t.Errorf("asked about: %+v", asks)
	}
}

// Days after its last charge a mill holds what ten charges left in it. Nobody fills half of
// what he always filled for that, and needs twice as many charges: it is emptied first.
func TestAColdMillIsEmptiedRatherThanFilledLess(t *testing.T) {
	t.Parallel()
	mill := kettle()
	mill.RatedPower, mill.Chamber, mill.Controller = shoptest.P(1900), shoptest.P(0.0031), &shop.Control{Levels: 10}
	s := noted(t, mill, 10, func(i int, b *shop.Ground) {
		c := [...]struct {
			charge, product, run, before, after float64
			level                               int
		}{{70, 54, 110, 24, 26, 6}, {80, 60, 90, 16, 18, 6}, {70, 67, 90, 21, 23, 6}, {80, 59, 90, 0, 0, 6}, {70, 49, 90, 18, 19, 5}, {70, 56, 110, 20, 23, 7},
			{70, 53, 90, 20, 22, 7}, {80, 56, 90, 24, 25, 5}, {70, 75, 100, 20, 23, 7}, {70, 54, 90, 23, 25, 7}}[i]
		b.Charge, b.Product, b.Run, b.Level, b.WallBefore, b.WallAfter = c.charge/1e3, shoptest.P(c.product/1e3), c.run, &c.level, nil, nil
		if c.before > 0 {
			b.WallBefore, b.WallAfter = shoptest.P(c.before+273.15), shoptest.P(c.after+273.15)
		}
	})
	req := bracket(0.4, "PLA")
	req.Lots = []shop.LotID{"S1"}
	g := grind(t, s, req)
	if g.Trial != nil || !g.Possible || g.Setting.Charge.Value < 0.055 {
		t.Errorf("%s", shown(g))
	}
	if g.Empty == nil || g.Empty.Low >= g.Empty.High || g.Empty.Value < 0.005 {
		t.Errorf("what lies in the mill: %+v", g.Empty)
	}
}

// A charge written down ten times too large lies in no mill: nobody is sent to empty it.
func TestASlipFillsNoMill(t *testing.T) {
	t.Parallel()
	s := noted(t, kettle(), 4, func(i int, b *shop.Ground) {
		if i == 2 {
			b.Charge = 1.2
		}
	})
	if len(s.Asks()) == 0 {
		t.Fatal("1.2 kg in 2.5 l are not asked about")
	}
	req := bracket(0.5, "PLA")
	req.Lots = []shop.LotID{"S1"}
	if g := grind(t, s, req); g.Empty != nil || g.Trial != nil {
		t.Errorf("%+v: %s", g.Empty, shown(g))
	}
}
