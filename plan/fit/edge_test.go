package fit

import (
	"math"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/process/moisture"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Both ends of every number a check may be asked with, and the next beyond.
func TestRequestsAtTheEdge(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for name, c := range map[string]struct {
		set          func(r *Request, v float64)
		ends, refuse [2]float64
	}{
		"mass":        {func(r *Request, v float64) { r.Need.Mass = p(v) }, [2]float64{1e-9, 5000}, [2]float64{0, 5000.1}},
		"volume":      {func(r *Request, v float64) { r.Need.Mass, r.Need.Volume = nil, p(v) }, [2]float64{1e-12, 5}, [2]float64{0, 5.001}},
		"mean flow":   {func(r *Request, v float64) { r.Need.MeanFlow = p(v) }, [2]float64{1e-12, 1e-4}, [2]float64{0.9e-12, 1.01e-4}},
		"peak flow":   {func(r *Request, v float64) { r.Need.PeakFlow = p(v) }, [2]float64{1e-12, 1e-4}, [2]float64{0.9e-12, 1.01e-4}},
		"strength":    {func(r *Request, v float64) { r.Strength = p(v) }, [2]float64{1e-9, 1}, [2]float64{0, 1.001}},
		"nozzle":      {func(r *Request, v float64) { r.Nozzle = p(v) }, [2]float64{1e-4, 0.05}, [2]float64{0.99e-4, 0.0501}},
		"temperature": {func(r *Request, v float64) { r.Temperature = p(v) }, [2]float64{373.15, 773.15}, [2]float64{373.1, 773.2}},
		"draws":       {func(r *Request, v float64) { r.Draws = int(v) }, [2]float64{1, 20000}, [2]float64{-1, 20001}},
	} {
		at := func(v float64) error {
			r := Request{Need: shop.Need{Mass: p(1)}, Strength: p(0.8), Draws: 10}
			c.set(&r, v)
			return r.check()
		}
		for i := range 2 {
			if err := at(c.ends[i]); err != nil {
				t.Errorf("%s of %g: %v", name, c.ends[i], err)
			}
			if at(c.refuse[i]) == nil {
				t.Errorf("%s of %g: taken", name, c.refuse[i])
			}
		}
	}
	if (Request{Strength: p(0.8), Draws: 10}).check() == nil {
		t.Error("a print of no amount is taken")
	}
}

func TestDryRequestsAtTheEdge(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for name, c := range map[string]struct {
		set          func(r *DryRequest, v float64)
		ends, refuse [2]float64
	}{
		"temperature": {func(r *DryRequest, v float64) { r.Temperature = p(v) }, [2]float64{253.15, 473.15}, [2]float64{253.1, 473.2}},
		"bed":         {func(r *DryRequest, v float64) { r.Bed = p(v) }, [2]float64{1e-3, 5}, [2]float64{0.99e-3, 5.01}},
		"dew point":   {func(r *DryRequest, v float64) { r.DewPoint = p(v) }, [2]float64{173.15, 333.15}, [2]float64{173.1, 333.2}},
		"flow":        {func(r *DryRequest, v float64) { r.Flow = p(v) }, [2]float64{1e-6, 10}, [2]float64{0.99e-6, 10.1}},
		"humidity":    {func(r *DryRequest, v float64) { r.Humidity = p(v) }, [2]float64{0, 1}, [2]float64{-0.001, 1.001}},
		"mass":        {func(r *DryRequest, v float64) { r.Mass = p(v) }, [2]float64{1e-3, 1e3}, [2]float64{0.9e-3, 1001}},
		"start":       {func(r *DryRequest, v float64) { r.Start = p(v) }, [2]float64{0, 0.3}, [2]float64{-1e-6, 0.301}},
		"limit":       {func(r *DryRequest, v float64) { r.Limit = p(v) }, [2]float64{1e-6, 0.1}, [2]float64{0.9e-6, 0.101}},
		"draws":       {func(r *DryRequest, v float64) { r.Draws = int(v) }, [2]float64{1, 20000}, [2]float64{-1, 20001}},
	} {
		at := func(v float64) error {
			r := DryRequest{Draws: 10, Way: shop.Oven}
			c.set(&r, v)
			return r.check()
		}
		for i := range 2 {
			if err := at(c.ends[i]); err != nil {
				t.Errorf("%s of %g: %v", name, c.ends[i], err)
			}
			if at(c.refuse[i]) == nil {
				t.Errorf("%s of %g: taken", name, c.refuse[i])
			}
		}
	}
}

// Prints speak by their number: the model's word counts as four of them, one of its like half,
// one that failed a third; of age half, of what is dry only since it was dried.
func TestPrintsSpeakByTheirNumber(t *testing.T) {
	t.Parallel()
	f := lotFacts{ran: 4, failed: []string{"a", "b", "c"}, likeRan: 2, likeFailed: 6, ranSince: 1, failedSince: 3}
	for _, c := range []struct {
		key   string
		f     lotFacts
		want  float64
		known bool
	}{
		{"sizes", lotFacts{}, 0.5, false},
		{"sizes", lotFacts{ran: 4}, (4*0.5 + 4) / 8.0, true},
		{"sizes", lotFacts{likeRan: 2}, (4*0.5 + 1) / 5.0, false},
		{"sizes", lotFacts{likeFailed: 6}, 4 * 0.5 / 5.0, false},
		{"sizes", f, (4*0.5 + 5) / (4 + 5 + 1 + 1.0), true},
		{"strength", lotFacts{ran: 4}, (4*0.5 + 2) / 6.0, false},
		{"dry", f, (4*0.5 + 1) / (4 + 1 + 1.0), true},
		{"dry", lotFacts{ran: 4}, 0.5, false},
		{"enough", f, 0.5, false},
		{"polymer", f, 0.5, false},
	} {
		got, known := (&job{facts: c.f}).weighed(question{key: c.key}, 0.5)
		if math.Abs(got-c.want) > 1e-12 || known != c.known {
			t.Errorf("%s after %+v: %g, known %t; wanted %g", c.key, c.f, got, known, c.want)
		}
	}
}

// A print tries all of it at once: five of six that went well leave no chance of nought,
// whatever the draws say, and one without prints is what the draws say. By hand: the draws'
// word counts as four prints.
func TestAllAtOnceHearsThePrints(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ chance, good, bad, want float64 }{
		{0, 5, 1, 0.5}, {0, 0, 0, 0}, {0.8, 0, 0, 0.8}, {0.5, 4, 0, 0.75}, {1, 0, 4, 0.5},
	} {
		if got := (lotFacts{ranSince: int(c.good), failedSince: int(c.bad)}).whole(c.chance); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g after %g good and %g bad: %g, wanted %g", c.chance, c.good, c.bad, got, c.want)
		}
	}
}

// What the records of a lot say of it, told one by one.
func TestFactsOfALot(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	scrap := shoptest.Scrap("PLA", "black", 9)
	scrap.Lot = "S1"
	run := func(into shop.LotID, hole *float64) *shop.Ground {
		return &shop.Ground{Mill: "Rattle", From: "S1", Into: into, Charge: 0.5, Product: p(0.5), Run: 60, Hole: hole}
	}
	s := shoptest.Bin(t, scrap, &shop.MillSet{Mill: shop.Mill{Name: "Other", Magnet: shop.Yes}},
		run("R1", p(4e-3)), run("R1", p(3e-3)), run("R2", nil), // R2 came through the screen that Rattle has
		&shop.Ground{Mill: "Other", From: "S1", Into: "R3", Charge: 0.5, Product: p(0.5), Run: 60},
		&shop.PassedMagnet{Lot: "R1", Passed: p(0.5)}, &shop.PassedMagnet{Lot: "R1", Passed: p(0.5)}, &shop.PassedMagnet{Lot: "R3", Passed: p(0.5)},
		&shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.2}, {Lot: "R2", Mass: 0.2}}, Into: "B1"},
		&shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.2}, {Lot: "R3", Mass: 0.2}}, Into: "B2"},
		&shop.Printed{From: "R1", Print: "a", Mass: 0.1, Good: shop.Yes}, &shop.Printed{From: "R1", Print: "b", Mass: 0.05, Good: shop.No, Why: "warped"},
		&shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 320, Time: 3600},
		&shop.Printed{From: "R1", Print: "c", Mass: 0.04, Good: shop.Yes}, &shop.Printed{From: "R1", Print: "d", Mass: 0.02},
		&shop.Printed{From: "R2", Print: "e", Mass: 0.03, Good: shop.Yes}, &shop.Printed{From: "R2", Print: "f", Mass: 0.01, Good: shop.No},
		&shop.PrinterSet{Printer: shop.Printer{Name: "Puddle"}}, &shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "R1"},
		&shop.Happened{What: shop.BridgedHopper, Printer: "Puddle", Lot: "R1"}, &shop.Happened{What: shop.BridgedHopper, Printer: "Puddle", Lot: "R2"})
	of := func(id shop.LotID) lotFacts {
		lot, ok := s.Lot(id)
		if !ok {
			t.Fatalf("no lot %s", id)
		}
		return factsOf(s, lot)
	}
	f := of("R1")
	if f.hole == nil || *f.hole != 4e-3 || len(f.mills) != 1 || f.magnets != 3 || !f.magnet || // the mill has one too
		!f.granular || f.metal != "" {
		t.Errorf("R1 came through %v of %v, %d magnets (%t)", f.hole, f.mills, f.magnets, f.magnet)
	}
	// Its own 0.21 kg and 0.04 kg of R2, out of the same mill.
	if math.Abs(f.printed-0.25) > 1e-12 || len(f.blocked) != 1 || len(f.bridged) != 1 {
		t.Errorf("R1: %g kg, %v blocked, %v bridged", f.printed, f.blocked, f.bridged)
	}
	if f.ran != 2 || len(f.failed) != 1 || f.failed[0] != "warped" || f.ranSince != 1 || f.failedSince != 0 || f.likeRan != 1 || f.likeFailed != 1 {
		t.Errorf("R1: %d ran, %v failed, since %d and %d, its like %d and %d", f.ran, f.failed, f.ranSince, f.failedSince, f.likeRan, f.likeFailed)
	}
	if g := of("R2"); g.hole == nil || g.magnets != 1 || g.ran != 1 || g.ranSince != 1 || g.failedSince != 1 || g.likeRan != 2 || g.likeFailed != 1 || len(g.bridged) != 1 {
		t.Errorf("R2: %+v", g)
	}
	if g := of("R3"); g.hole != nil || g.magnets != 2 || !g.magnet || g.likeRan != 0 { // a mill of which no screen is known, with a magnet
		t.Errorf("R3: %+v", g)
	}
	// A blend went by a magnet as often as what went by fewest.
	if b, c := of("B1"), of("B2"); b.magnets != 1 || !b.magnet || c.magnets != 2 || c.hole != nil || b.hole == nil || *b.hole < 4e-3 {
		t.Errorf("B1 %d, B2 %d magnets, holes %v %v", b.magnets, c.magnets, b.hole, c.hole)
	}
	if g := of("S1"); g.granular || g.hole != nil || g.magnet {
		t.Errorf("scrap: %+v", g)
	}
}

// One cut of a melt-flow test says the same as three alike, with less certainty.
func TestOneCutOfAMeltFlow(t *testing.T) {
	t.Parallel()
	runny := func(cuts ...float64) (mid, width float64) {
		all := []shop.Body{&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1}}
		if len(cuts) > 0 {
			all = append(all, &shop.FlowTested{Lot: "R1", Load: shoptest.P(2.16), Temperature: shoptest.P(463.15), CutTime: shoptest.P(20), Cuts: cuts})
		}
		s := shoptest.Bin(t, all...)
		lot, _ := s.Lot("R1")
		j := &job{state: s, lot: lot, facts: factsOf(s, lot), req: Request{Now: shoptest.Noon}, beliefs: prior()}
		var err error
		if j.table, err = s.Table(); err != nil {
			t.Fatal(err)
		}
		if mixed, err := j.material(); err != nil || !mixed.Empty() {
			t.Fatal(err)
		}
		j.believeMaterial()
		j.believeFlow()
		b := j.beliefs[fRunny]
		return b.Median, math.Log(b.High / b.Low)
	}
	one, wide := runny(0.6e-3)
	three, narrow := runny(0.6e-3, 0.6e-3, 0.6e-3)
	none, prior := runny()
	if math.Abs(one/three-1) > 0.1 || wide <= narrow || wide >= prior || one == none {
		t.Errorf("one cut: %g in %g; three: %g in %g; none: %g in %g", one, wide, three, narrow, none, prior)
	}
	// Twice as much in the same time flows more than twice as fast: a melt thins where it is pressed.
	if twice, _ := runny(1.2e-3); twice <= one*1.2 || twice > one*3 {
		t.Errorf("0.6 g: %g times as runny, 1.2 g: %g times", one, twice)
	}
}

// A weighing at the printer: 10 turns gave 2 g of a melt, so a turn gives 0.2 g; another lot
// speaks where this one was not weighed, less surely, and a second weighing widens by its scatter.
func TestTurnsAreWeighed(t *testing.T) {
	t.Parallel()
	turn := func(all ...shop.Body) (mass, width float64) {
		s := shoptest.Bin(t, append([]shop.Body{&shop.PrinterSet{Printer: shop.Printer{Name: "Puddle"}}, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1},
			&shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1}}, all...)...)
		lot, _ := s.Lot("R1")
		j := &job{state: s, lot: lot, printer: s.Printers[0], beliefs: prior()}
		j.turned()
		b := j.beliefs[fPerTurn]
		return b.Median * j.beliefs[fSolid].Median * j.beliefs[fMelt].Median, math.Log(b.High / b.Low)
	}
	weighed := func(lot shop.LotID, grams float64) shop.Body { // 10 turns in a minute
		return &shop.FlowTested{Lot: lot, Printer: "Puddle", Screw: shoptest.P(10 * 2 * math.Pi / 60), Time: shoptest.P(60), Extruded: shoptest.P(grams / 1000)}
	}
	own, width := turn(weighed("R1", 2), weighed("R2", 3))
	if math.Abs(own-0.2e-3) > 1e-9 || math.Abs(width-2*answer.Ninety*0.05) > 1e-9 {
		t.Errorf("a turn gives %g kg within %g", own, width)
	}
	other, wider := turn(weighed("R2", 3))
	if math.Abs(other-0.3e-3) > 1e-9 || math.Abs(wider-2*answer.Ninety*0.2) > 1e-9 {
		t.Errorf("by another lot a turn gives %g kg within %g", other, wider)
	}
	// 1 and 4 g scatter by ln 4 / √2 around 2 g.
	two, widest := turn(weighed("R1", 1), weighed("R1", 4))
	if math.Abs(two-0.2e-3) > 1e-9 || math.Abs(widest-2*answer.Ninety*math.Log(4)/math.Sqrt2) > 1e-9 {
		t.Errorf("two weighings: %g kg within %g", two, widest)
	}
	if none, _ := turn(); none != 0 {
		t.Errorf("nothing weighed: %g", none)
	}
}

// A drying that lost just what the books' plastic loses teaches nothing new of how fast; one
// that lost less teaches slower, one that lost more faster.
func TestDryingTeachesBothWays(t *testing.T) {
	t.Parallel()
	diffusivity := func(part float64) (before, after float64) {
		lost := 0.0
		for range 2 { // first what the books expect, then weighed as a part of it
			d := &shop.Dried{Lot: "R1", Way: shop.DryAir, Temperature: 320.15, Time: 1800}
			if lost > 0 {
				d.In, d.Out = shoptest.P(1), shoptest.P(1-lost*part)
			}
			s := shoptest.Bin(t, &shop.ScaleSet{Scale: shop.Scale{Name: "fine", Resolution: 1e-7, Capacity: shoptest.P(2)}},
				&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1}, d)
			lot, _ := s.Lot("R1")
			j := &job{state: s, lot: lot, facts: factsOf(s, lot), req: Request{Now: shoptest.Noon.Add(time.Hour)}, beliefs: prior(), temperature: DefaultMelt}
			var err error
			if j.table, err = s.Table(); err != nil {
				t.Fatal(err)
			}
			if j.polymer, err = j.table.Find("PLA"); err != nil {
				t.Fatal(err)
			}
			j.believeMaterial()
			before = j.beliefs[fDiffusivity].Median
			if lost == 0 {
				row := j.medians()
				dry, err := j.after(row, j.wet(row), d)
				if err != nil {
					t.Fatal(err)
				}
				lost = j.wet(row) - dry
				continue
			}
			if err := j.believeDry(); err != nil {
				t.Fatal(err)
			}
			after = j.beliefs[fDiffusivity].Median
		}
		return before, after
	}
	if before, after := diffusivity(1); math.Abs(after/before-1) > 0.02 {
		t.Errorf("what was expected moves the diffusivity from %g to %g", before, after)
	}
	if before, after := diffusivity(0.5); after >= before {
		t.Errorf("half the loss moves it from %g to %g", before, after)
	}
	if before, after := diffusivity(1.3); after <= before {
		t.Errorf("more loss moves it from %g to %g", before, after)
	}
}

// Where forecast and books meet, every part of a drying is moved alike: they add up to the whole,
// and after the whole time the grains are as far as they were reckoned to be.
func TestPartsOfADryingAddUp(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PETG", Sure: shoptest.P(1), Mass: 2})
	for _, way := range []shop.Way{shop.DryAir, shop.DesiccantBox} {
		j, err := newDryJob(s, DryRequest{Lot: "R1", Way: way, Now: shoptest.Noon, Draws: 20, Start: shoptest.P(0.003), Temperature: shoptest.P(333.15), Humidity: shoptest.P(0.02)})
		if err != nil {
			t.Fatal(err)
		}
		if err := j.prepare(); err != nil {
			t.Fatal(err)
		}
		d, err := j.plan()
		if err != nil || !d.Possible {
			t.Fatalf("%s: %+v %v", way, d.Blocked, err)
		}
		moved := 0
		for _, x := range j.draws {
			if !x.works() || x.Time == 0 {
				continue
			}
			if math.Abs(x.Warm+x.Grain+x.Bed+x.Air-x.Time) > 1e-9*x.Time {
				t.Errorf("%s: %g + %g + %g + %g are not %g s", way, x.Warm, x.Grain, x.Bed, x.Air, x.Time)
			}
			if x.stretch > 0 {
				moved++
				if math.Abs(x.inGrains(x.Time)*x.stretch-x.Grain) > 1e-9*x.Grain {
					t.Errorf("%s: after all of it the grains are at %g of %g s", way, x.inGrains(x.Time), x.Grain)
				}
			}
		}
		if (moved > 0) != (way == shop.DryAir) { // a box that stands in the room has no hours in the books
			t.Errorf("%s: %d draws were moved", way, moved)
		}
	}
}

// The air a dryer blows where nobody said: as much as a desk dehydrator, as a dry-air dryer at −30 °C,
// a tenth of humidity over fresh desiccant; an oven blows none.
func TestDryersNobodyDescribed(t *testing.T) {
	t.Parallel()
	of := func(way shop.Way) (flow, vapour float64) {
		d, err := Air{Way: way, Temperature: 333.15, Room: 293.15, Moist: 0.5}.Dryer()
		if err != nil {
			t.Fatal(err)
		}
		return d.Flow, d.Vapour
	}
	room, err := moisture.VapourPressure(293.15, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	dry, err := moisture.VapourPressure(243.15, 1)
	if err != nil {
		t.Fatal(err)
	}
	box, err := moisture.VapourPressure(333.15, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	for way, want := range map[shop.Way][2]float64{shop.Oven: {0, room}, shop.Dehydrator: {0.01, room}, shop.DryAir: {0.003, dry}, shop.DesiccantBox: {0, box}} {
		if flow, vapour := of(way); flow != want[0] || math.Abs(vapour/want[1]-1) > 0.02 {
			t.Errorf("%s: %g m³/s of %g Pa, wanted %v", way, flow, vapour, want)
		}
	}
}
