package plan_test

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"hopperful/plan"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func learn(t testing.TB, s *shop.State) plan.Learning {
	t.Helper()
	l, err := plan.Learn(s, "Kettle")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := json.Marshal(l); err != nil {
		t.Fatal(err)
	}
	return l
}

func TestWithoutRecordsEverythingIsFromBooks(t *testing.T) {
	t.Parallel()
	l := learn(t, workshop(t, 0))
	for _, p := range l.Parameters {
		if p.Now.Runs != 0 || p.Now.Value != p.Book.Value || p.Now.Low != p.Book.Low {
			t.Errorf("%s is no longer the book's: %+v", p.Now.Key, p.Now)
		}
	}
	if l.Head().Code != "learn.none" || len(l.Forecasts) != 0 {
		t.Errorf("%s, %d forecasts", l.Head().Code, len(l.Forecasts))
	}
}

func TestRunsNarrowWhatTheyAreAbout(t *testing.T) {
	t.Parallel()
	l := learn(t, workshop(t, 6))
	found := map[string]bool{}
	for _, p := range l.Parameters {
		if p.Now.Runs == 0 {
			continue
		}
		found[p.Now.Key] = true
		if p.Now.Origin() != "from 6 runs" && p.Now.Origin() != "from 5 runs" { // the first run has no rest before it
			t.Errorf("%s is %q", p.Now.Key, p.Now.Origin())
		}
		if len(p.Now.Records) != p.Now.Runs || len(p.Moved) > 3 {
			t.Errorf("%s: %d records, %d movers", p.Now.Key, len(p.Now.Records), len(p.Moved))
		}
	}
	for _, key := range []string{"break_rate", "discharge", "wall_loss"} {
		if !found[key] {
			t.Errorf("six runs say nothing of %s", key)
		}
	}
	if len(l.Forecasts) != 4 || l.Calibration.Readings == 0 || len(l.Suspicious) != 0 {
		t.Errorf("%d forecasts, %d readings, suspicious %+v", len(l.Forecasts), l.Calibration.Readings, l.Suspicious)
	}
}

func TestPlansSayHowManyRunsTheyRestOn(t *testing.T) {
	t.Parallel()
	req := bracket(0.25, "PLA")
	req.Mill, req.Lots = "Kettle", []shop.LotID{"S1"}
	g := grind(t, workshop(t, 3), req)
	text, err := json.Marshal(g)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), `"basis":"learned","runs":3`) {
		t.Error("no figure of the plan says that it is from 3 runs")
	}
}

// slippedLast is the shop with its last run changed by a slip.
func slippedLast(t *testing.T, s *shop.State, slip func(*shop.Ground)) (*shop.State, int64) {
	t.Helper()
	history := slices.Clone(s.History.List())
	last := -1
	for i, r := range history {
		if _, ok := r.Body.(*shop.Ground); ok {
			last = i
		}
	}
	g := *history[last].Body.(*shop.Ground)
	slip(&g)
	history[last].Body = &g
	slipped, err := shop.Fold(history)
	if err != nil {
		t.Fatal(err)
	}
	return slipped, int64(history[last].ID)
}

// A mass that physics can tell to be a slip teaches nothing until it is answered; a
// reading that only the other runs can is named, and keeps little of its weight.
func TestASlipIsNamedAndMovesNothing(t *testing.T) {
	t.Parallel()
	s := workshop(t, 10)
	right := learn(t, s)
	for name, c := range map[string]struct {
		slip  func(*shop.Ground)
		asked bool
	}{
		"a tenth of the product": {func(g *shop.Ground) { g.Product = shoptest.P(*g.Product / 10) }, true},
		"a wall 30 K hotter":     {func(g *shop.Ground) { g.WallAfter = shoptest.P(*g.WallAfter + 30) }, false},
	} {
		slipped, id := slippedLast(t, s, c.slip)
		l := learn(t, slipped)
		if c.asked && (len(l.Unread) != 1 || l.Unread[0].Record != id || len(l.Suspicious) > 0) {
			t.Errorf("%s: unread %+v, suspicious %+v", name, l.Unread, l.Suspicious)
		}
		if !c.asked && (len(l.Suspicious) != 1 || l.Suspicious[0].Record != id || l.Suspicious[0].Weight <= 0 || l.Suspicious[0].Weight > 0.1) {
			t.Errorf("%s: suspicious %+v", name, l.Suspicious)
		}
		for i, p := range l.Parameters {
			if q := right.Parameters[i].Now; p.Now.Value < q.Low || p.Now.Value > q.High {
				t.Errorf("%s moves %s from %g to %g, out of %g to %g", name, q.Key, q.Value, p.Now.Value, q.Low, q.High)
			}
		}
	}
}

func TestAChargeIsComparedWithWhatWasForetold(t *testing.T) {
	t.Parallel()
	s := workshop(t, 4)
	last := s.Newest()
	c, err := plan.Compare(s, last.ID)
	if err != nil {
		t.Fatal(err)
	}
	if c.Runs != 3 || c.Record != int64(last.ID) || len(c.Read) < 3 {
		t.Fatalf("%+v", c)
	}
	for _, r := range c.Read {
		if r.Forecast.Low > r.Forecast.High || math.IsNaN(r.Forecast.Value) || r.Actual.Key != r.Forecast.Key {
			t.Errorf("%+v", r)
		}
		if r.Forecast.Key == "product" && !r.Inside {
			t.Errorf("the same run a fourth time is a surprise: %s, got %s", r.Forecast.ShownRange(), r.Actual.Shown())
		}
	}
	var refusal *shop.Error
	if _, err := plan.Compare(s, 1); !errors.As(err, &refusal) {
		t.Errorf("a shop's setting was compared: %v", err)
	}
	if _, err := plan.Compare(s, 4000); !errors.As(err, &refusal) || refusal.Code != shop.NotFound {
		t.Errorf("a record that is not there was compared: %v", err)
	}
}

// A new blade begins a new chapter: wear counts from it, what was learned of
// the mill stays.
func TestANewBladeBeginsANewChapter(t *testing.T) {
	t.Parallel()
	s := workshop(t, 5)
	before := learn(t, s)
	next, err := s.With(shop.Record{At: shoptest.Noon.Add(time.Hour), Body: &shop.Serviced{Mill: "Kettle", Part: shop.BladePart, What: shop.Replaced}})
	if err != nil {
		t.Fatal(err)
	}
	after := learn(t, next)
	if before.Wear.Ground.Value < 0.4 || after.Wear.Ground.Value != 0 {
		t.Errorf("ground since: %g kg before, %g kg after", before.Wear.Ground.Value, after.Wear.Ground.Value)
	}
	width := func(l plan.Learning, key string) float64 {
		for _, p := range l.Parameters {
			if p.Now.Key == key {
				return p.Now.High / p.Now.Low
			}
		}
		t.Fatalf("no parameter %s", key)
		return 0
	}
	if width(after, "break_rate") <= width(before, "break_rate") {
		t.Error("a new blade leaves the break rate as well known as the old one's")
	}
	if a, b := width(after, "dust"), width(before, "dust"); math.Abs(a-b) > 1e-9 {
		t.Errorf("a new blade changes what is known of dust: %g, %g", a, b)
	}
}
