package study

import (
	"math"
	"testing"

	"hopperful/internal/study/outside"
	"hopperful/shop"
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
