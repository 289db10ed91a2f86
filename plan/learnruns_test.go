package plan

import (
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A screen or rotor put in later is not the one the runs before were ground with, a
// chamber measured later is; and the fit is told so.
func TestRunsKeepTheSheetTheyWereGroundWith(t *testing.T) {
	t.Parallel()
	charge := func() *shop.Ground {
		return &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.08, Product: shoptest.P(0.07), Run: 120}
	}
	for name, c := range map[string]struct {
		then    func(*shop.Mill)
		means   shop.Means
		hole    float64 // of the first run, 0: the mill's own
		chapter int     // of the second run
		sheets  bool    // the two were ground on different sheets
	}{
		"another screen":       {func(m *shop.Mill) { m.Screen.Hole = shoptest.P(0.0015) }, shop.ByProperty, 0.003, 0, true},
		"a hole measured anew": {func(m *shop.Mill) { m.Screen.Hole = shoptest.P(0.0031) }, shop.AlwaysSo, 0, 0, false},
		"another rotor":        {func(m *shop.Mill) { m.RotorDiameter = shoptest.P(0.14) }, shop.ByProperty, 0, 1, false},
		"another sheet":        {func(m *shop.Mill) { m.Screen.OpenShare = shoptest.P(0.4) }, shop.ByProperty, 0, 0, true},
		"the chamber measured": {func(m *shop.Mill) { m.Chamber = shoptest.P(0.001) }, shop.ByProperty, 0, 0, false},
	} {
		second := shoptest.Mill()
		c.then(&second)
		first, next := charge(), charge()
		level := 12
		first.Level, next.Level = &level, &level
		s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 2), first, &shop.MillSet{Mill: second, Means: c.means}, next)
		m, _ := s.Mill("Rattle")
		log, err := readLog(s, m.Mill, 0)
		if err != nil || len(log.runs) != 2 {
			t.Fatalf("%s: %d runs, %v", name, len(log.runs), err)
		}
		old, now := log.runs[0], log.runs[1]
		if (old.Hole == nil) != (c.hole == 0) || old.Hole != nil && *old.Hole != c.hole || now.Hole != nil {
			t.Errorf("%s: holes %v and %v", name, old.Hole, now.Hole)
		}
		if now.Chapter-old.Chapter != c.chapter || c.chapter > 0 && now.Since != 0 {
			t.Errorf("%s: chapters %d and %d, %g kg since", name, old.Chapter, now.Chapter, now.Since)
		}
		if (old.Screen != now.Screen) != c.sheets {
			t.Errorf("%s: sheets %q and %q", name, old.Screen, now.Screen)
		}
	}
}

// A size analysis from pictures teaches the mill with the spread that pictures have;
// where a run was sieved too, its sieves are taken, whichever came first.
func TestPicturesTeachAsSievesDo(t *testing.T) {
	t.Parallel()
	level := 12
	run := &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.08, Product: shoptest.P(0.07), Run: 120, Level: &level}
	stack := func(photo bool) *shop.Sieved {
		b := &shop.Sieved{Lot: "R1", Run: 5, Charge: 0.02, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.005, Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.005}, {Opening: 1e-3, Mass: 0.01}}}
		if photo {
			b.Pan, b.Sieves[0].Mass = 0.008, 0.002
			b.Photo = &shop.Photographed{Pictures: 1, Grains: 500, Effective: 200, Largest: 0.01, Shape: 0.84, Spread: 0.11, Seen: 4e-4}
		}
		return b
	}
	for name, c := range map[string]struct {
		stacks []shop.Body
		spread float64
		finest float64 // share finer than the finest sieve
	}{
		"a picture":              {[]shop.Body{stack(true)}, 0.11, 0.4},
		"sieves":                 {[]shop.Body{stack(false)}, 0, 0.25},
		"sieves, then a picture": {[]shop.Body{stack(false), stack(true)}, 0, 0.25},
		"a picture, then sieves": {[]shop.Body{stack(true), stack(false)}, 0, 0.25},
	} {
		s := shoptest.Bin(t, append([]shop.Body{shoptest.Scrap("PLA", "black", 2), run}, c.stacks...)...)
		m, _ := s.Mill("Rattle")
		log, err := readLog(s, m.Mill, 0)
		if err != nil || len(log.runs) != 1 || log.runs[0].Sieved == nil {
			t.Fatalf("%s: %d runs, %v", name, len(log.runs), err)
		}
		if got := log.runs[0].Sieved; got.Spread != c.spread || got.Passing[0] < c.finest-1e-9 || got.Passing[0] > c.finest+1e-9 {
			t.Errorf("%s: spread %g, finest %g; wanted %g and %g", name, got.Spread, got.Passing[0], c.spread, c.finest)
		}
	}
}
