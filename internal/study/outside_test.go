package study

import (
	"math"
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
	if len(m.yields) != 5 {
		t.Errorf("the campaign left %d records in the maker's book", len(m.yields))
	}
}

// TestTheBestCampaignNeedsMoreTimeForMore and has to keep the limits.
func TestTheBestCampaignNeedsMoreTimeForMore(t *testing.T) {
	t.Parallel()
	mill := outside.New(outside.Tuning(5))
	little, ok := quickest(mill, 0.2)
	much, also := quickest(mill, 0.6)
	if !ok || !also || much <= little {
		t.Errorf("%g s for 200 g, %g s for 600 g", little, much)
	}
	if _, fits, _ := through(mill, mill.Usual, mill.Rest, 0.3); !fits {
		t.Error("the maker's own setting breaks a limit")
	}
	hot := mill.Usual
	hot.Time, hot.Charge = 1200, 2.2*hot.Charge
	if _, fits, _ := through(mill, hot, handling, 0.6); fits {
		t.Error("twenty minutes on twice the charge keep every limit")
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
