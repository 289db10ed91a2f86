package plan

// How a plan is laid out, and where its parts begin: both sides of each condition.

import (
	"math"
	"slices"
	"testing"

	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What a person acts on leads: a rest only between charges; the rest is behind it, each once; where nothing is ground only the need.
func TestHowAPlanIsLaidOut(t *testing.T) {
	t.Parallel()
	j, one := round(t)
	g, err := j.report(Grinding{}, one, nil)
	if err != nil {
		t.Fatal(err)
	}
	keys := func(all []figure.Figure) (out []string) {
		for _, f := range all {
			out = append(out, f.Key)
		}
		return out
	}
	acted, behind := g.shown()
	if got := keys(acted); !slices.Equal(got, []string{"charge", "charges", "level", "run", "stop_at", "rest"}) {
		t.Errorf("acted on: %v", got)
	}
	if got := keys(behind)[:8]; !slices.Equal(got, []string{"need", "total", "product", "jar_every", "power", "in", "left", "lost"}) || len(behind) != 8+len(g.Figures) {
		t.Errorf("behind: %v", keys(behind))
	}
	d := g.Document()
	if len(d.Tables) != 1 || len(d.Tables[0].Rows) != 2 || len(d.Charts) != 3 || len(d.Limits) != 9 || len(d.Reasons) != 2 || len(d.Reasons[1].Notes) != 2 || len(d.Head.Remedies) == 0 || d.Head.Remedies[0].Code != "plan.enough" {
		t.Errorf("%+v", d.Head)
	}
	g.OnHand = g.Take
	if len(g.tables()) != 2 {
		t.Error("what is ready is not listed")
	}
	g.Setting.Charges.Value, g.Setting.Level = 1, nil
	acted, behind = g.shown()
	if slices.Contains(keys(acted), "rest") || slices.Contains(keys(acted), "level") || !slices.Contains(keys(behind), "rest") {
		t.Errorf("one charge: %v", keys(acted))
	}
	if g.Need.High = 0; len(g.leads()) != 0 {
		t.Errorf("enough of nothing: %v", g.leads())
	}
	j.want.figure = figure.Exact("need", "plan.wanted", quantity.Mass, 0.25, figure.Reckoned)
	g = Grinding{Need: j.want.figure}
	j.still(&g)
	if acted, behind = g.shown(); !slices.Equal(keys(acted), []string{"need"}) || behind != nil || len(g.leads()) != 0 || len(g.Document().Reasons) != 1 || len(g.Document().Reasons[0].Notes) != 1 {
		t.Errorf("nothing is ground: %v, %v", keys(acted), g.leads())
	}
	for runs, charts := range map[int]int{0: 0, 1: 1} {
		if got := (Learning{Runs: runs}).Document().Charts; len(got) != charts {
			t.Errorf("%d charts of %d runs", len(got), runs)
		}
	}
	// The room is as the shop says, as the mill's wall told, or assumed.
	if f := j.roomFigure(); f.Basis != figure.Entered || f.Value != 293 || f.Records != nil {
		t.Errorf("%+v", f)
	}
	j.state.Shop.RoomTemperature = nil
	if f := j.roomFigure(); f.Basis != figure.Assumed {
		t.Errorf("%+v", f)
	}
	wall := &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Run: 60, Room: shoptest.P(290)}
	j.state, j.mill.Name = shoptest.Bin(t, shoptest.Scrap("PLA", "black", 3), wall), "Rattle"
	j.state.Shop.RoomTemperature = nil
	if f := j.roomFigure(); f.Basis != figure.Measured || len(f.Records) != 1 {
		t.Errorf("%+v", f)
	}
}

// Where parts begin: level 1 is a level, a wall is e^0.2 times as warm inside as read in the middle, and no less than read.
func TestWherePartsBegin(t *testing.T) {
	t.Parallel()
	for level, noted := range map[int]bool{0: false, 1: true} {
		if p := (practice{levels: 20, deeds: []deed{done(0.1, 60, level)}}); p.noted() != noted {
			t.Errorf("level %d noted: %t", level, !noted)
		}
	}
	for score, want := range map[float64]float64{0: math.Exp(0.2), 1: math.Exp(0.5), -0.5: math.Exp(0.05), -1: 1} {
		near(t, "inside", innerOf(score), want)
	}
	// Of pieces ten times as wide as thick and wider the section is that of ten times.
	near(t, "a wide piece", section(0.03, 0.002), 4e-5)
	near(t, "a narrow one", section(0.01, 0.002), 2e-5)
	// An ordinary touch, fill and rating, and half of what a protector promises.
	for what, v := range map[string][2]float64{"margin": {usual.margin, 10}, "touch": {usual.touch, 328.15}, "fill": {usual.fill, 1.0 / 3}, "jar": {usual.jarShare, 0.9}, "load": {usual.load, 0.8},
		"stall": {usual.stall, 0.02}, "noise": {usual.noise, 85}, "protection": {protection, 15}} {
		near(t, what, v[0], v[1])
	}
	j := pressed(t, func(*shop.Mill, *Request) {})
	b := j.bench
	near(t, "a minute to fill it", b.handling, 60)
	near(t, "no end", b.within, math.Inf(1))
	near(t, "the scrap that is left", b.available, 5-0.083-0.084-0.085-0.086)
	// What cannot be told surprises nobody.
	r := j.known.log.runs[3]
	for i, change := range []func(*estimate.Run){func(r *estimate.Run) { r.Load.Watts = 0 }, func(r *estimate.Run) { r.Stalled = true }, func(r *estimate.Run) { r.Load.Level = 21 }} {
		one := r
		if change(&one); true {
			if _, most, err := b.surprise(one, j.known.log); most != 0 || err != nil {
				t.Errorf("case %d: surprises by %g, %v", i, most, err)
			}
		}
	}
	for _, wall := range []float64{400, 200} { // far warmer and far cooler than anybody expects
		one := r
		one.WallAfter = shoptest.P(wall)
		found, most, err := b.surprise(one, j.known.log)
		if err != nil || most < 5 || found.Forecast.Key != "wall_after" || found.Inside || found.Actual.Value != wall || !slices.Equal(found.Actual.Records, []int64{r.Record}) {
			t.Errorf("%g K: %s surprises by %g, %v", wall, found.Forecast.Key, most, err)
		}
		if found.forget(&one); one.WallAfter != nil {
			t.Error("the wall is not left out")
		}
	}
	// A campaign that is done in time is settled, and one that is late by a second is not.
	_, _, best, ok, err := b.chosen()
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	for late, settled := range map[float64]bool{0: true, 1: false} {
		b.within = best.total() - late
		if _, ok, err := b.settle(best); ok != settled || err != nil {
			t.Errorf("%g s late: %t, %v", late, ok, err)
		}
	}
	// One second breaks next to nothing: what went in lies there, and the wall is as warm as it was read.
	n := len(b.rows)
	s := &still{wall: make([]float64, n), inside: make([]float64, n)}
	short := estimate.Run{Charge: 0.08, Time: 1, Room: 293.15, Load: r.Load, Polymer: "PLA", WallAfter: shoptest.P(b.room + 7)}
	if err := b.ranOn(s, short, b.levels[11], 60); err != nil {
		t.Fatal(err)
	}
	for i := range s.inside {
		if near(t, "the wall", s.wall[i], 7); s.inside[i] < 0.06 || s.inside[i] > 0.08 {
			t.Errorf("of 80 g %g kg lie there", s.inside[i])
		}
	}
	short.Follows, short.WallAfter, short.WallBefore = true, nil, shoptest.P(b.room+20)
	if err := b.ranOn(s, short, b.levels[11], 60); err != nil || s.wall[0] < 18 || s.wall[0] > 23 || s.inside[0] < 0.12 {
		t.Errorf("a wall of 20 K is at %g K, %g kg lie there, %v", s.wall[0], s.inside[0], err)
	}
}
