package plan

import (
	"math"
	"testing"
	"time"

	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// dimmed is a shop whose mill of 2200 W has a controller that nobody metered,
// and which truly draws so many times what its label says at level 6, and what
// it says at level 10. Each run found the mill empty, and its record says so.
func dimmed(t *testing.T, runs int, times float64) *shop.State {
	t.Helper()
	v := func(x float64) *float64 { return &x }
	m := shop.Mill{Name: "Kettle", RatedPower: v(2200), Chamber: v(0.001), Screen: shop.Screen{Hole: v(0.003), OpenShare: v(0.3)},
		Controller: &shop.Control{Levels: 12}}
	pla, err := polymer.Find("PLA")
	if err != nil {
		t.Fatal(err)
	}
	beliefs, err := believe(m, pla, shop.Need{})
	if err != nil {
		t.Fatal(err)
	}
	row := make([]float64, estimate.Params)
	for p, b := range beliefs {
		row[p] = b.Median
	}
	bodies := []shop.Body{&shop.MillSet{Mill: m}, &shop.TakenIn{Class: shop.Scrap, Name: "failed prints", Polymer: "PLA", Sure: v(0.97), Halogen: shop.No, Mass: 40,
		Pieces: shop.Pieces{Largest: v(0.035), Wall: v(0.0016), Infill: v(0.2)}}}
	for i := range runs {
		level := []int{6, 10}[i%2]
		d := drawAt(m, level)
		if level == 6 {
			d.Watts *= times
		}
		run := estimate.Run{Polymer: "PLA", Screen: "s", Charge: 0.06 + 0.02*float64(i/2), Time: 40 + 30*float64(i/2%3), Largest: 0.035, Thickness: 0.0016, Room: 293.15, Load: d.Load}
		o, err := estimate.Reckon(row, wallArea(*m.Chamber), run)
		if err != nil {
			t.Fatal(err)
		}
		bodies = append(bodies, &shop.Ground{Mill: m.Name, From: "S1", Into: "R1", Charge: run.Charge, Product: v(o.Product),
			Energy: v(o.Energy), Run: run.Time, Level: &level, Room: v(run.Room), Emptied: true})
	}
	records := make([]shop.Record, len(bodies))
	for i, b := range bodies {
		records[i] = shop.Record{ID: shop.RecordID(i + 1), At: time.Date(2026, 11, 25, 8, 0, 0, 0, time.UTC).Add(time.Duration(i) * 10 * time.Hour), Body: b}
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// powerOf is the figure a plan on the shop's mill gives for the draw at a level.
func powerOf(t *testing.T, s *shop.State, level int) figure.Figure {
	t.Helper()
	m, _ := s.Mill("Kettle")
	pla, err := polymer.Find("PLA")
	if err != nil {
		t.Fatal(err)
	}
	books, err := believe(m.Mill, pla, shop.Need{})
	if err != nil {
		t.Fatal(err)
	}
	known, err := learned(s, m.Mill, pla, books, 0)
	if err != nil {
		t.Fatal(err)
	}
	beliefs := known.beliefs()
	rows, err := known.draws(400, 5)
	if err != nil {
		t.Fatal(err)
	}
	b := bench{mill: m.Mill, levels: draws(m.Mill), rows: rows, beliefs: beliefs}
	f, err := b.over("power", "draw under load", quantity.Power, func(_ int, row []float64) float64 {
		return estimate.Electric(row, b.levels[level-1].Load)
	})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// A plan's power moves at the level that draws more than its label says, and
// hardly at the one that follows it.
func TestAPlanKnowsWhichLevelDrawsMore(t *testing.T) {
	t.Parallel()
	before, after := dimmed(t, 0, 1.3), dimmed(t, 12, 1.3)
	for level, times := range map[int]float64{6: 1.3, 10: 1} {
		book, now := powerOf(t, before, level), powerOf(t, after, level)
		m, _ := before.Mill("Kettle")
		label := drawAt(m.Mill, level).Watts
		if math.Abs(book.Value/label-1) > 0.15 || book.High/book.Low < 0.95*labelSpread*labelSpread || book.High/book.Low > 2.5*labelSpread*labelSpread {
			t.Errorf("level %d before a run: %g to %g W, the label says %g", level, book.Low, book.High, label)
		}
		truth := times * label
		if now.Low > truth || now.High < truth || math.Abs(now.Value/truth-1) > 0.12 || now.High/now.Low > 0.9*book.High/book.Low { // what the meter reads is itself off by the model
			t.Errorf("level %d after 12 runs: %g W (%g to %g), made with %g", level, now.Value, now.Low, now.High, truth)
		}
	}
}

// The page of a mill lists the draw at every level it was run at, and no other.
func TestTheDrawAtEachLevelRunIsListed(t *testing.T) {
	t.Parallel()
	l, err := Learn(dimmed(t, 12, 1.3), "Kettle")
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]Learned{}
	for _, p := range l.Parameters {
		found[p.Now.Key] = p
	}
	for key, times := range map[string]float64{"power_at_6": 1.3, "power_at_10": 1} {
		p, ok := found[key]
		if !ok {
			t.Fatalf("%s is not listed", key)
		}
		if p.Now.Runs != 6 || p.Now.Kind != quantity.Power {
			t.Errorf("%s: %+v", key, p)
		}
		if truth := times * p.Book.Value; p.Now.Low > truth || p.Now.High < truth {
			t.Errorf("%s: %g W (%g to %g), made with %g", key, p.Now.Value, p.Now.Low, p.Now.High, truth)
		}
	}
	if _, ok := found["power_at_8"]; ok {
		t.Error("a level nobody ran is listed")
	}
	if p := found["power_at_6"]; p.Now.Name != "mill.power_at" || p.Book.Basis != figure.Assumed {
		t.Errorf("%q, book's figure is %s", p.Now.Name, p.Book.Basis)
	}
}
