package study

import (
	"math"
	"strings"
	"testing"

	"hopperful/internal/study/outside"
	"hopperful/shop"

	"pgregory.net/rapid"
)

// TestAMakersBookIsRough: records are few and rough and slips known.
func TestAMakersBookIsRough(t *testing.T) {
	t.Parallel()
	slips, left, runs := 0, 0, 0
	for _, seed := range outside.Seeds[outside.Tuning](6) {
		m, err := newMaker(seed)
		if err != nil {
			t.Fatal(err)
		}
		if err := m.records(15); err != nil {
			t.Fatal(err)
		}
		slips += len(m.slips)
		mill, ok := m.state.Mill(millName)
		if !ok {
			t.Fatal("no mill")
		}
		if len(m.scrap) != len(mill.Runs) {
			t.Errorf("%d runs in the book, the scrap of %d is known", len(mill.Runs), len(m.scrap))
		}
		for _, id := range mill.Runs {
			r, _ := m.state.Record(id)
			g := groundOf(t, r.Body)
			runs++
			if g.Left != nil {
				left++
			}
			if steps := g.Charge / m.digit; g.Charge > 0.02 && math.Abs(steps-math.Round(steps)) > 1e-6 && len(m.slips) == 0 {
				t.Errorf("record %d weighs %g kg on a scale of %g kg", id, g.Charge, m.digit)
			}
			if g.WallAfter != nil && math.Abs(*g.WallAfter-273.15-math.Round(*g.WallAfter-273.15)) > 1e-6 {
				t.Errorf("record %d reads %g K", id, *g.WallAfter)
			}
		}
	}
	if slips == 0 || left > runs/2 || left == 0 {
		t.Errorf("%d slips, %d of %d with what was left", slips, left, runs)
	}
}

// TestForecastsAreScored is one mill through one count; the whole is in
// docs/study.
func TestForecastsAreScored(t *testing.T) {
	t.Parallel()
	m, err := newMaker(outside.Tuning(2))
	if err != nil {
		t.Fatal(err)
	}
	if err := m.records(3); err != nil {
		t.Fatal(err)
	}
	s := &Score{By: map[string]*Hits{}}
	if err := s.ask(m, m.asking().near[0], true, 3); err != nil {
		t.Fatal(err)
	}
	for _, q := range spoken {
		h := s.By[q.key]
		if h == nil || len(h.Errors) != 1 || math.IsNaN(h.Errors[0]) || h.Inside+h.Below > 1 {
			t.Errorf("%s is scored %+v", q.name, h)
		}
	}
	if len(s.Pencil) != 1 || s.Asked != 1 {
		t.Errorf("%+v", s)
	}
}

func groundOf(t *testing.T, b shop.Body) *shop.Ground {
	t.Helper()
	g, ok := b.(*shop.Ground)
	if !ok {
		t.Fatalf("a run is a %T", b)
	}
	return g
}

// TestNoTruthfulRecordIsRefused: whatever a mill does and however little its
// maker writes down, the shop takes it.
func TestNoTruthfulRecordIsRefused(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("many mills take seconds")
	}
	rapid.Check(t, func(t *rapid.T) {
		m, err := newMaker(outside.Tuning(rapid.Uint32Range(1, 5000).Draw(t, "seed")))
		if err != nil {
			t.Fatal(err)
		}
		m.sure = true
		err = m.records(12)
		if len(m.refused) > 0 {
			t.Fatalf("%d of %d refused: %s", len(m.refused), m.honest, m.refused[0])
		}
		if err != nil && m.honest < 12 { // a mill in which most charges stall has few yields, and is asked of them too
			t.Fatal(err)
		}
	})
}

// TestTruthIsSeldomAskedAboutAndSlipsAre: questions are for slips.
func TestTruthIsSeldomAskedAboutAndSlipsAre(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("many mills take seconds")
	}
	var all Entries
	for _, seed := range outside.Seeds[outside.Tuning](30) {
		m, err := newMaker(seed)
		if err != nil {
			t.Fatal(err)
		}
		if err := m.records(15); err != nil {
			t.Fatal(err)
		}
		all.add(m)
	}
	if n := float64(len(all.Doubted)); n > aimAsked*float64(all.Honest) {
		t.Errorf("%g of %d truthful records are asked about: %v", n, all.Honest, all.Doubted)
	}
	if all.Slips < 10 || float64(all.Caught) < aimCaught*float64(all.Slips) {
		t.Errorf("%d of %d slips are caught", all.Caught, all.Slips)
	}
}

// TestAPlanIsCarriedOut: what was ground is counted, and the best campaign is
// one that keeps the limits.
func TestAPlanIsCarriedOut(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("a campaign takes seconds")
	}
	m, err := newMaker(outside.Tuning(4))
	if err != nil {
		t.Fatal(err)
	}
	if err := m.records(5); err != nil {
		t.Fatal(err)
	}
	e, err := m.evening(rng(1))
	if err != nil {
		t.Fatal(err)
	}
	c, err := e.carryOut(0.3)
	if err != nil {
		t.Fatal(err)
	}
	if !c.Possible || c.Charges < 1 || c.Ground <= 0 || c.Made > c.Ground+0.1 || c.Time <= 0 || math.IsInf(c.Best, 1) {
		t.Errorf("%+v", c)
	}
	if c.Sated() != (c.Ended == Enough && c.Made >= 0.299) {
		t.Errorf("%+v is sated %v", c, c.Sated())
	}
	if spent := c.Spent(); math.Abs(spent.Grinding+spent.Handling+spent.Cooling+spent.Sweeping-c.Time) > 1e-6 {
		t.Errorf("%+v are not %g s", spent, c.Time)
	}
	if why := c.Why(); strings.Count(why, "\n") != 1+len(cooler) {
		t.Errorf("%s", why)
	}
	if len(m.yields) != 5 {
		t.Errorf("the campaign left %d records in the maker's book", len(m.yields))
	}
}

// TestTheBestCampaignNeedsMoreTimeForMore and has to keep the limits.
func TestTheBestCampaignNeedsMoreTimeForMore(t *testing.T) {
	t.Parallel()
	mill := outside.New(outside.Tuning(5))
	little, ok := quickest(mill, 0.2, fence{})
	much, also := quickest(mill, 0.6, fence{})
	if !ok || !also || much.Time <= little.Time {
		t.Errorf("%g s for 200 g, %g s for 600 g", little.Time, much.Time)
	}
	if _, fits, _ := through(mill, mill.Usual, mill.Rest, 0.3, 0); !fits {
		t.Error("the maker's own setting breaks a limit")
	}
	hot := mill.Usual
	hot.Time, hot.Charge = 1200, 2.2*hot.Charge
	if _, fits, _ := through(mill, hot, handling, 0.6, 0); fits {
		t.Error("twenty minutes on twice the charge keep every limit")
	}
	// What it takes is what it says, a margin of 4 K costs time, and so does staying near a record.
	one, fits, _ := through(mill, little.Setting, little.Rest, 0.2, 0)
	if want := float64(one.Charges)*little.Setting.Time + float64(one.Charges-1)*little.Rest; !fits || one != little || math.Abs(one.Time-want) > 1e-6 {
		t.Errorf("%+v, and again %+v", little, one)
	}
	if cool, ok := quickest(mill, 0.2, fence{cooler: 4}); !ok || cool.Time <= little.Time {
		t.Errorf("4 K cooler %+v, against %+v", cool, little)
	}
	near := rivals{mill, 0.2, []outside.Setting{mill.Usual}}
	if some, ok := quickest(mill, 0.2, fence{within: near.near}); !ok || some.Time <= little.Time || !near.near(some.Setting) {
		t.Errorf("near the usual setting %+v, against %+v", some, little)
	}
	less := mill.Usual
	less.Charge /= 1.31
	if near.near(less) || near.near(little.Setting) {
		t.Errorf("%+v or %+v is near %+v", less, little.Setting, mill.Usual)
	}
	if none := (&rivals{mill: mill}); !none.near(less) {
		t.Error("without a record nothing is far")
	}
}

// Where the time went adds up to all of it: the first charge waits for nothing, the mill is
// emptied for three minutes, and what is waited besides is for cooling.
func TestWhereTheTimeOfACampaignWent(t *testing.T) {
	t.Parallel()
	steps := []Step{{Gave: outside.Gave{Time: 90}}, {Wait: 60, Gave: outside.Gave{Time: 80}}, {Wait: 60, Emptied: true, Gave: outside.Gave{Time: 70}},
		{Wait: 400, Gave: outside.Gave{Time: 60}}, {Wait: 200, Emptied: true, Gave: outside.Gave{Time: 50}}}
	if got, want := (Campaign{Steps: steps}).Spent(), (Spent{350, 120, 360, 360}); got != want {
		t.Errorf("%+v, wanted %+v", got, want)
	}
}

// Scrap that broke a quarter less readily from a run on is other scrap, and a single bag
// amid its likes is not.
func TestOtherScrapIsTold(t *testing.T) {
	t.Parallel()
	scrap := []float64{1, 1, 1, 1, 0.7, 0.7, 0.7}
	if !differ(scrap, 4) || differ(scrap[:4], 2) || differ([]float64{1, 1, 0.7, 1, 1, 1}, 3) || differ(scrap, 0) || differ(scrap, 7) {
		t.Error("other scrap is not told from the same")
	}
}
