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
