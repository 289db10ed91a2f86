package shop

import (
	"slices"
	"testing"
)

// TestOlderRunsKeepTheirMill: a screen put in later is not the one the runs before were
// ground with; a chamber measured later is.
func TestOlderRunsKeepTheirMill(t *testing.T) {
	t.Parallel()
	first := Mill{Name: "tub", Chamber: kg(0.0025), Screen: Screen{Hole: kg(0.002)}, Jar: kg(0.0003), RatedPower: kg(1500)}
	run := Record{Body: &Ground{Mill: "tub", From: "S1", Charge: 0.08, Product: kg(0.07), Run: 120}}
	for name, c := range map[string]struct {
		then          func(*Mill)
		means         Means
		hole, chamber float64 // of the run before
		changed       []string
	}{
		"another screen":        {func(m *Mill) { m.Screen.Hole = kg(0.0015) }, ByProperty, 0.002, 0.0025, []string{"screen.hole_m"}},
		"a hole measured anew":  {func(m *Mill) { m.Screen.Hole = kg(0.0021) }, AlwaysSo, 0.0021, 0.0025, nil},
		"the chamber measured":  {func(m *Mill) { m.Chamber = kg(0.0024) }, ByProperty, 0.002, 0.0024, nil},
		"another pot":           {func(m *Mill) { m.Chamber = kg(0.004) }, ChangedNow, 0.002, 0.0025, []string{"chamber_m3"}},
		"screen and chamber":    {func(m *Mill) { m.Screen.Hole, m.Chamber = kg(0.001), kg(0.003) }, ByProperty, 0.002, 0.003, []string{"screen.hole_m"}},
		"nobody knows the hole": {func(m *Mill) { m.Screen.Hole = nil }, ByProperty, 0.002, 0.0025, []string{"screen.hole_m"}},
		"another jar":           {func(m *Mill) { m.Jar = kg(0.001) }, ByProperty, 0.002, 0.0025, []string{"jar_m3"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			second := first
			c.then(&second)
			s := write(t, bench(t), Record{Body: &MillSet{Mill: first}}, run)
			before := s.Newest().ID
			s = write(t, s, Record{Body: &MillSet{Mill: second, Means: c.means}})
			set := s.Newest().ID
			s = write(t, s, run)
			then, ok := s.MillAt(before)
			if !ok || *then.Screen.Hole != c.hole || *then.Chamber != c.chamber {
				t.Errorf("the run before was ground with %+v", then)
			}
			now, _ := s.Mill("tub")
			if after, ok := s.MillAt(s.Newest().ID); !ok || !same(after.Screen.Hole, second.Screen.Hole) || *after.Chamber != *second.Chamber || after.Name != "tub" || now.RatedPower == nil {
				t.Errorf("the run after was ground with %+v", after)
			}
			if got := s.Changed(set); !slices.Equal(got, c.changed) {
				t.Errorf("changed are %v, wanted %v", got, c.changed)
			}
		})
	}
}

func same(a, b *float64) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }

// TestWhatNobodyHadSaidIsNoChange: a hole measured for the first time was always so.
func TestWhatNobodyHadSaidIsNoChange(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &Ground{Mill: "plain", From: "S1", Charge: 0.08, Product: kg(0.07), Run: 120}})
	run := s.Newest().ID
	s = write(t, s, Record{Body: &MillSet{Mill: Mill{Name: "plain", Screen: Screen{Hole: kg(0.002)}}}})
	if m, _ := s.MillAt(run); m.Screen.Hole == nil || *m.Screen.Hole != 0.002 {
		t.Errorf("the run was ground with %+v", m)
	}
	// Two changes, and the first is told to have been another.
	s = write(t, s, Record{Body: &MillSet{Mill: Mill{Name: "plain", Screen: Screen{Hole: kg(0.003)}}}})
	set := s.Newest().ID
	s = write(t, s, Record{Body: &MillSet{Mill: Mill{Name: "plain", Screen: Screen{Hole: kg(0.004)}}}},
		Record{Corrects: set, Body: &MillSet{Mill: Mill{Name: "plain", Screen: Screen{Hole: kg(0.0035)}}}})
	if m, _ := s.MillAt(run); *m.Screen.Hole != 0.002 {
		t.Errorf("the run was ground with a hole of %g", *m.Screen.Hole)
	}
	if _, ok := s.MillAt(99); ok {
		t.Error("a record that is not there was a run")
	}
}

// TestBetterKnowledgeAnswers: a level is asked about until the controller is described,
// a charge until the chamber is larger.
func TestBetterKnowledgeAnswers(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: run(func(g *Ground) { g.Mill = "plain"; g.Level = level(4) })})
	if len(s.Asks()) != 1 {
		t.Fatalf("asked %+v", s.Asks())
	}
	if s = write(t, s, Record{Body: &MillSet{Mill: Mill{Name: "plain", Controller: &Control{Levels: 6}}}}); len(s.Asks()) > 0 {
		t.Errorf("the controller is described, and asked is %+v", s.Asks())
	}
	s = write(t, bench(t), Record{Body: &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 9}},
		Record{Body: run(func(g *Ground) { g.From, g.Charge, g.Product = "S3", 1, kg(0.9) })})
	if a := s.Asks(); len(a) != 1 || a[0].Code != ChargeOverChamber {
		t.Fatalf("asked %+v", a)
	}
	if s = write(t, s, Record{Body: &MillSet{Mill: Mill{Name: "shredder", Chamber: kg(0.02), Controller: &Control{Levels: 5}}}}); len(s.Asks()) > 0 {
		t.Errorf("the chamber is larger, and asked is %+v", s.Asks())
	}
}
