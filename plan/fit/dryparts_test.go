package fit

// Small parts of drying and of the line, by hand.

import (
	"math"
	"testing"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/moisture"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Too deep in most draws: it is told to spread it as deep as nine of ten of them bear. What most draws are refused for is the obstacle, heat before air, air before depth.
func TestWhatStandsInTheWay(t *testing.T) {
	t.Parallel()
	of := func(hot, wet, deep int) *dryJob {
		j := &dryJob{job: &job{state: &shop.State{}}, depth: 0.05}
		for i := range 10 {
			d := dryDraw{limit: 1e-4, rest: 2e-4, hot: i < hot, wet: i >= hot && i < hot+wet, deep: i >= hot+wet && i < hot+wet+deep, Drying: moisture.Drying{Deepest: 1e-3 * float64(i+1)}}
			j.draws, j.rows = append(j.draws, d), append(j.rows, prior().asRow())
		}
		return j
	}
	for i, c := range []struct {
		hot, wet, deep int
		by             string
	}{{4, 3, 3, "softening"}, {4, 4, 2, "softening"}, {3, 4, 3, "air"}, {2, 4, 4, "air"}, {3, 3, 4, "depth"}, {0, 0, 2, "depth"}, {0, 1, 0, "air"}} {
		why, by := of(c.hot, c.wet, c.deep).obstacle()
		if by != c.by || why.Empty() || len(why.Remedies) != 1 {
			t.Errorf("case %d: %s, %+v", i, by, why)
		}
	}
	why, _ := of(0, 0, 10).obstacle()
	deepest := make([]float64, 10)
	for i := range deepest {
		deepest[i] = 1e-3 * float64(i+1)
	}
	if depth := factOf(why.Remedies[0], "depth"); math.Abs(depth-answer.Quantile(deepest, 0.1)) > 1e-12 || depth > 2.1e-3 || factOf(why.Saying, "depth") != 0.05 {
		t.Errorf("spread to %g", depth)
	}
	// The grains stick at 58 °C, of 55 to 61: set to 52 °C, in whole degrees.
	sticks, _ := of(10, 0, 0).obstacle()
	if at := factOf(sticks.Remedies[0], "at"); math.Abs(at-325.15) > 1e-9 {
		t.Errorf("set to %g K", at)
	}
	if got := factOf(sticks.Saying, "soft"); math.Abs(got-331.15) > 1e-9 {
		t.Errorf("it sticks at %g K", got)
	}
}

// asRow is the draw in the middle of everything.
func (b beliefs) asRow() []float64 { return (&job{beliefs: b}).medians() }

// A weighing of which something is missing teaches nothing of a turn.
func TestWeighingsThatAreWhole(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	whole := shop.FlowTested{Lot: "R1", Printer: "Puddle", Screw: p(6), Time: p(60), Extruded: p(0.004)}
	for i, c := range []struct {
		set    func(*shop.FlowTested)
		taught bool
	}{{func(*shop.FlowTested) {}, true}, {func(b *shop.FlowTested) { b.Screw = nil }, false}, {func(b *shop.FlowTested) { b.Time = nil }, false}, {func(b *shop.FlowTested) { b.Extruded = nil }, false}, {func(b *shop.FlowTested) { b.Extruded = p(0) }, false}, {func(b *shop.FlowTested) { b.Extruded = p(1e-6) }, true}} {
		b := whole
		c.set(&b)
		s := &shop.State{}
		if made, err := shoptest.Bin(t, &shop.PrinterSet{Printer: shop.Printer{Name: "Puddle"}}, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}).With(shop.Record{At: shoptest.Noon, Body: &b}); err == nil {
			s = made
		} else {
			continue // not even taken
		}
		lot, _ := s.Lot("R1")
		j := &job{state: s, lot: lot, printer: s.Printers[0], beliefs: prior()}
		if j.turned(); j.measuredTurn() != c.taught {
			t.Errorf("case %d: taught %t", i, j.measuredTurn())
		}
	}
}

// Whose word a material's number is: the shop's own, its measuring, a source's or a guess.
func TestWhoseWordTheMaterialIs(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, &shop.MaterialSet{Polymer: "PLA", Property: string(polymer.Density), Value: 1250, Low: 1240, High: 1260})
	plain := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1})
	if b := asJob(t, s, "R1").beliefs[fSolid]; !b.FromUser || b.Assumed || b.Median != 1250 || beliefFigure(b).Basis != figure.Entered {
		t.Errorf("%+v", b)
	}
	if b := asJob(t, plain, "R1").beliefs[fSolid]; b.FromUser {
		t.Errorf("%+v", b)
	}
}

// The head has to bear the pressure, and the screw to pump so much, both in most draws.
func TestWhatAHeadBears(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		pressure, pumps float64
		chance          float64
	}{{5e6, 2e-5, 1}, {13e6, 2e-5, 0}, {5e6, 0.5e-5, 0}, {13e6, 0.5e-5, 0}} {
		j := &job{state: &shop.State{}, lot: &shop.Lot{}, beliefs: prior(), runs: []run{{pressure: c.pressure, bears: 12e6, pumps: c.pumps, mean: 1e-5}}}
		j.law.How = "law.usual"
		x, err := j.bearable()
		if err != nil || x.Chance != c.chance {
			t.Errorf("case %d: %g, %v", i, x.Chance, err)
		}
		if c.chance == 0 && (x.Change == nil || x.Change.Time != 300) {
			t.Errorf("case %d: %+v", i, x.Change)
		}
	}
	if rows := (&job{rows: [][]float64{prior().asRow()}}); true {
		before := rows.rows[0][fNozzle]
		if widened(rows); math.Abs(rows.rows[0][fNozzle]-1.5*before) > 1e-15 {
			t.Errorf("widened to %g", rows.rows[0][fNozzle])
		}
	}
}

// What each dryer would take is told where there are several and it is not dry already.
func TestWhatEachDryerTakes(t *testing.T) {
	t.Parallel()
	tower, oven := &shop.DryerSet{Dryer: shop.Dryer{Name: "Tower", Way: shop.DryAir}}, &shop.DryerSet{Dryer: shop.Dryer{Name: "Oven", Way: shop.Oven}}
	lot := &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1}
	for i, c := range []struct {
		of   []shop.Body
		req  DryRequest
		with int
		by   string
	}{
		{[]shop.Body{lot, tower}, DryRequest{Lot: "R1"}, 0, "Tower"}, {[]shop.Body{lot, oven, tower}, DryRequest{Lot: "R1"}, 2, "Tower"}, {[]shop.Body{lot}, DryRequest{Lot: "R1", Way: shop.DryAir}, 0, ""}, {[]shop.Body{lot, oven, tower}, DryRequest{Lot: "R1", Start: shoptest.P(1e-5)}, 0, "Oven"},
	} {
		c.req.Now, c.req.Draws = shoptest.Noon, 10
		d, err := Dry(shoptest.Bin(t, c.of...), c.req)
		if err != nil || len(d.With) != c.with || d.Dryer != c.by || d.Assumed {
			t.Errorf("case %d: %d told, by %q, assumed %t, %v", i, len(d.With), d.Dryer, d.Assumed, err)
		}
	}
}
