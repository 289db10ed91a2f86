package fit

// What records of a lot teach, by hand: one reading is enough, and what it is worth.

import (
	"math"
	"testing"
	"time"

	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/process/metal"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// asJob is a check of a lot as far as its beliefs are reckoned of it.
func asJob(t *testing.T, s *shop.State, id shop.LotID) *job {
	t.Helper()
	lot, ok := s.Lot(id)
	if !ok {
		t.Fatal(id)
	}
	j := &job{state: s, lot: lot, facts: factsOf(s, lot), req: Request{Lot: id, Now: shoptest.Noon.Add(time.Hour)}, beliefs: prior(), temperature: DefaultMelt}
	var err error
	if j.table, err = s.Table(); err != nil {
		t.Fatal(err)
	}
	if j.polymer, err = j.table.Find(lot.Polymer); err != nil {
		t.Fatal(err)
	}
	j.believeMaterial()
	return j
}

// One pass by the magnet, nothing seen on a scale of a milligram: half a milligram of 1.5 kg hung there, of which a magnet catches seven tenths.
func TestOnePassByTheMagnet(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	fine := &shop.ScaleSet{Scale: shop.Scale{Name: "fine", Resolution: 1e-6, Capacity: p(0.5)}}
	lot := &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: p(1), Mass: 1.5}
	for i, c := range []struct {
		pass   *shop.PassedMagnet
		caught float64
		of     float64
		runs   int
	}{
		{&shop.PassedMagnet{Lot: "R1", Metal: 0, Passed: p(1.5)}, 0.5e-6, 1.5, 1}, {&shop.PassedMagnet{Lot: "R1", Metal: 20e-6}, 20e-6, 1.5, 1}, {&shop.PassedMagnet{Lot: "R1", Metal: 20e-6, Passed: p(0.5)}, 20e-6, 0.5, 1},
		{&shop.PassedMagnet{Lot: "R1", Metal: 0, Passed: p(0.04)}, 0, 0, 0}, // 12.5 mg/kg at the most: the books think less
	} {
		j := asJob(t, shoptest.Bin(t, fine, lot, c.pass), "R1")
		want := j.beliefs[fWear]
		if c.runs > 0 {
			wear, err := metal.WearFromMagnet(metal.MagnetYield{Caught: c.caught, Ground: c.of, Catch: 0.7})
			if err != nil {
				t.Fatal(err)
			}
			b := prior()
			b.narrow(fWear, wear, 0.7, 1)
			want = b[fWear]
		}
		if err := j.metal(); err != nil {
			t.Fatal(err)
		}
		if got := j.beliefs[fWear]; math.Abs(got.Median/want.Median-1) > 1e-9 || got.Runs != c.runs {
			t.Errorf("case %d: %g kg/kg by %d, by hand %g", i, got.Median, got.Runs, want.Median)
		}
		if c.runs == 0 {
			continue
		}
		// One reading is one the shop made itself.
		j.rows, j.runs = [][]float64{j.medians()}, []run{{metal: 1e-6}}
		x, err := j.metalOut()
		if err != nil || !x.Known {
			t.Errorf("case %d: known %t, %v", i, x.Known, err)
		}
	}
}

// Grains of one size: the mean is held below the size that 95 % are finer than. All of it lies between 2.05 and 2 mm.
func TestGrainsOfOneSize(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Sieves: []shop.OnSieve{{Opening: 2.05e-3, Mass: 0}, {Opening: 2e-3, Mass: 0.1}}, Pan: 0})
	j := asJob(t, s, "R1")
	if err := j.sized(); err != nil {
		t.Fatal(err)
	}
	b := j.beliefs[fMean]
	if b.High != 0.999 || !(b.Median > 0.98 && b.Median < 0.999) || math.Abs(b.Low*1.05-b.Median) > 1e-12 || b.Check() != nil {
		t.Errorf("%+v: %v", b, b.Check())
	}
}

// A drying that lost more than the books' water: what came off and a twentieth, with what the dryer leaves, at rest in the room's air. By hand from what an
// oven leaves of the books' plastic however fast it dries.
func TestWetterThanTheBooks(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for humidity, learns := range map[float64]bool{0.5: true, 0.8: true, 0.04: false} {
		d := &shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 335, Time: 48 * 3600, In: p(1), Out: p(0.985)}
		s := shoptest.Bin(t, &shop.ShopSet{Name: "Bench", RoomTemperature: p(293.15), RoomHumidity: p(humidity)}, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PETG", Sure: p(1), Mass: 1}, d)
		j := asJob(t, s, "R1")
		row := j.medians()
		row[fDiffusivity] *= 1e3
		rest, err := j.after(row, j.wet(j.medians()), d)
		if err != nil || rest <= 0 {
			t.Fatal(rest, err)
		}
		var want beliefs
		want[fWater] = j.beliefs[fWater]
		before := want[fWater].Median
		if learns {
			want.narrow(fWater, (0.015*1.05+rest)*0.5/humidity, 0.3, 1)
		}
		if err := j.believeDry(); err != nil {
			t.Fatal(err)
		}
		got := j.beliefs[fWater]
		if math.Abs(got.Median/want[fWater].Median-1) > 1e-6 || (got.Median != before) != learns {
			t.Errorf("in air of %g: %g, by hand %g, the books have %g", humidity, got.Median, want[fWater].Median, before)
		}
	}
}

// One weighed drying is enough to know a plastic's water; what the books only assume is not.
func TestWhoKnowsItsWater(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		runs              int
		water, saturation bool // assumed
		knows             bool
	}{{0, true, true, false}, {0, false, true, false}, {0, true, false, false}, {0, false, false, true}, {1, true, true, true}, {2, true, false, true}} {
		j := &job{}
		j.beliefs[fWater] = estimate.Belief{Runs: c.runs, Assumed: c.water}
		j.beliefs[fSaturation].Assumed = c.saturation
		if j.knowsWater() != c.knows {
			t.Errorf("case %d: %t", i, !c.knows)
		}
	}
}

// Of a plastic nobody knows the grains stick from 55 to 61 °C (judgement): dried three kelvin and ten below the least of it.
func TestHowGentlyTheUnknownIsDried(t *testing.T) {
	t.Parallel()
	j := &dryJob{job: &job{state: &shop.State{}, polymer: polymer.Polymer{}}}
	if b := j.softens(); math.Abs(b.Median-331.15) > 1e-9 || math.Abs(b.Low-328.15) > 1e-9 || math.Abs(b.High-334.15) > 1e-9 {
		t.Errorf("%+v", b)
	}
	if got := j.usualDrying(); math.Abs(got-315.15) > 1e-9 {
		t.Errorf("dried at %g K", got)
	}
	j.with.Temperature = shoptest.P(310)
	if got := j.usualDrying(); got != 310 {
		t.Errorf("in a dryer of 310 K at %g K", got)
	}
	j.req.Way, j.with.Temperature = shop.DesiccantBox, nil
	j.state.Shop.RoomTemperature = shoptest.P(294)
	if got := j.usualDrying(); got != 294 {
		t.Errorf("a box stands at %g K", got)
	}
	j.with.Temperature = shoptest.P(312)
	if got := j.usualDrying(); got != 312 {
		t.Errorf("a warm box stands at %g K", got)
	}
}

// Chips that the model just sees are weighed by its word, those it does not by the records alone; a screen so fine that nothing that blocks comes
// through makes the answer known: one and a half holes against the share of the nozzle that blocks.
func TestWhereTheModelsWordEnds(t *testing.T) {
	t.Parallel()
	seen := []run{{rate: 1.5e-4, metal: 1e-6}}
	j := &job{facts: lotFacts{blocked: []int64{1}, printed: 1}}
	if err := j.learnChips(seen); err != nil || seen[0].rate > 2e-4 {
		t.Errorf("%g a kilogram, %v", seen[0].rate, err)
	}
	for hole, known := range map[float64]bool{0.6e-3: true, 0.66e-3: true, 0.67e-3: false, 1e-3: false} { // 3 mm · 1/3 / 1.5 = 0.667 mm
		j := &job{state: &shop.State{}, lot: &shop.Lot{Class: shop.Regrind}, beliefs: prior(), runs: []run{{mass: 0.1, chanceHit: 0.5}}}
		j.facts.hole = &hole
		j.beliefs.know(fNozzle, shoptest.P(3e-3))
		x, err := j.staysOpen()
		if err != nil || x.Known != known {
			t.Errorf("through %g mm: known %t, %v", hole*1e3, x.Known, err)
		}
	}
	for i, f := range []func(*job){func(j *job) { j.facts.printed = 0.3 }, func(j *job) { j.facts.blocked = []int64{3} }, func(j *job) { j.beliefs[fWear].Runs = 1 }, func(j *job) { j.facts.metal = "a nut" }, func(*job) {}} {
		j := &job{state: &shop.State{}, lot: &shop.Lot{Class: shop.Regrind}, beliefs: prior(), runs: []run{{mass: 0.1, chanceHit: 0.5}}}
		f(j)
		if x, err := j.staysOpen(); err != nil || x.Known != (i < 4) {
			t.Errorf("case %d: known %t, %v", i, x.Known, err)
		}
	}
}
