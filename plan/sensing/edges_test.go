package sensing

// Both sides of each condition of what sensors tell, by hand.

import (
	"math"
	"testing"
	"time"

	"hopperful/process/trace"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What a sensor can mean, quantity by quantity.
func TestWhatASensorCanMean(t *testing.T) {
	t.Parallel()
	for what, want := range map[What]struct {
		lo, hi float64
		kind   quantity.Kind
	}{Power: {0, 20000, quantity.Power}, Energy: {0, 1e13, quantity.Energy}, Wall: {233.15, 600, quantity.Temperature}, Room: {233.15, 600, quantity.Temperature}, Humidity: {0, 1.05, quantity.Humidity}, Sound: {0, 160, quantity.SoundLevel}} {
		if lo, hi := what.Bounds(); lo != want.lo || hi != want.hi || what.Kind() != want.kind {
			t.Errorf("%s: %g to %g of %v", what, lo, hi, what.Kind())
		}
	}
	for f, code := range map[Fault]string{NoNumber: "live.fault_number", NoJSON: "live.fault_json", Outside: "live.fault_outside", TooLong: "live.fault_long", TooDeep: "live.fault_deep"} {
		if got := faultWords(f).Code; got != code {
			t.Errorf("%s is told as %s", f, got)
		}
	}
}

// potShop is a shop with a mill Pot of three levels and runs of it, a minute apart, the last at noon.
func potShop(t *testing.T, runs ...*shop.Ground) *shop.State {
	t.Helper()
	records := []shop.Record{{Body: &shop.MillSet{Mill: shop.Mill{Name: "Pot", Controller: &shop.Control{Levels: 3}}}}, {Body: shoptest.Scrap("PLA", "black", 500)}}
	for _, r := range runs {
		records = append(records, shop.Record{Body: r})
	}
	for i := range records {
		records[i].ID, records[i].At = shop.RecordID(i+1), shoptest.Noon.Add(time.Duration(i+1-len(records))*time.Minute)
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Of the records the latest thousand are looked through, and none from more than a minute and a half before the first run that was seen.
func TestHowFarBackRecordsAreRead(t *testing.T) {
	t.Parallel()
	var runs []*shop.Ground
	for i := range 1003 {
		runs = append(runs, &shop.Ground{Mill: "Pot", From: "S1", Into: "R1", Charge: 0.01, Run: 60 + float64(i), Product: shoptest.P(0.009)})
	}
	s := potShop(t, runs...)
	seen := func(before time.Duration) Seen {
		r := aRun(1)
		r.Start.At, r.Stop.At = r.Start.At-before.Seconds(), r.Stop.At-before.Seconds()
		return Seen{Runs: []Run{aRun(2), r}}
	}
	for before, want := range map[time.Duration]int{0: 2, 10*time.Minute + time.Second: 12, 990 * time.Minute: 992, 1001 * time.Minute: 1000} {
		if got := bookOf(s, seen(before)); len(got) != want || got[0].at != shoptest.Noon {
			t.Errorf("a run seen %s before noon: %d records, wanted %d", before, len(got), want)
		}
	}
	if bookOf(s, Seen{}) != nil {
		t.Error("nothing was seen, and records are looked through")
	}
}

// A run teaches its level's watts where it ran at a level, all of it was seen, and nothing stalled; what it drew empty only
// where its end was seen for more than 15 s.
func TestWhichRunsTeachWatts(t *testing.T) {
	t.Parallel()
	level := 2
	of := func(record func(*shop.Ground), run func(*Run)) []taught {
		g := &shop.Ground{Mill: "Pot", From: "S1", Into: "R1", Charge: 0.05, Run: 120, Level: &level, Product: shoptest.P(0.04)}
		record(g)
		r := aRun(1)
		r.Level, r.Idle, r.Empty, r.End = 300, 100, 20, &trace.Moment{At: r.Stop.At - 20}
		run(&r)
		s := potShop(t, g)
		m, _ := s.Mill("Pot")
		return levelsOf(s, Seen{Runs: []Run{r}}, m)
	}
	as := func(*shop.Ground) {}
	at := func(n int) func(*shop.Ground) { return func(g *shop.Ground) { g.Level = &n } }
	still := func(*Run) {}
	for name, c := range map[string]struct {
		record       func(*shop.Ground)
		run          func(*Run)
		levels, idle int
	}{
		"as it is": {as, still, 1, 1}, "another mill": {as, func(r *Run) { r.Mill = "Pan" }, 0, 0}, "set aside": {as, func(r *Run) { r.Aside = true }, 0, 0}, "lost": {as, func(r *Run) { r.Lost = true }, 0, 0},
		"stalled": {as, func(r *Run) { r.Stalls = []trace.Moment{{}} }, 0, 0}, "nothing drawn": {as, func(r *Run) { r.Level = 0 }, 0, 0}, "little drawn": {as, func(r *Run) { r.Level = 0.5 }, 1, 1},
		"not on record": {as, func(r *Run) { r.Stop.At += 3600; r.Start.At += 3600 }, 0, 0}, "no level": {func(g *shop.Ground) { g.Level = nil }, still, 0, 0}, "the lowest": {at(1), still, 1, 1}, "the highest": {at(3), still, 1, 1},
		"never empty": {as, func(r *Run) { r.Idle = 0 }, 1, 0}, "next to nothing when empty": {as, func(r *Run) { r.Idle = 0.5 }, 1, 1}, "its end not seen": {as, func(r *Run) { r.End = nil }, 1, 0},
		"empty for 15 s": {as, func(r *Run) { r.Empty = 15 }, 1, 0}, "empty for 16 s": {as, func(r *Run) { r.Empty = 16 }, 1, 1},
	} {
		got := of(c.record, c.run)
		if len(got) != c.levels || len(got) > 0 && (len(got[0].grind) != 1 || len(got[0].idle) != c.idle || len(got[0].runs) != 1) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// The latest stop of a campaign belongs to the run that stopped within a minute and a half of it, at its mill, that nobody set aside.
func TestWhichRunACampaignStopped(t *testing.T) {
	t.Parallel()
	s := potShop(t)
	stop := At(aRun(1).Stop.At)
	c := shop.Campaign{CampaignBegun: shop.CampaignBegun{Mill: "Pot"}, Stage: shop.NoteStage, Stopped: stop}
	for name, x := range map[string]struct {
		c    func(*shop.Campaign)
		r    func(*Run)
		want bool
	}{
		"as it is": {func(*shop.Campaign) {}, func(*Run) {}, true}, "another mill": {func(*shop.Campaign) {}, func(r *Run) { r.Mill = "Pan" }, false}, "set aside": {func(*shop.Campaign) {}, func(r *Run) { r.Aside = true }, false},
		"90 s off": {func(c *shop.Campaign) { c.Stopped = stop.Add(90 * time.Second) }, func(*Run) {}, true}, "91 s off": {func(c *shop.Campaign) { c.Stopped = stop.Add(91 * time.Second) }, func(*Run) {}, false},
		"91 s before": {func(c *shop.Campaign) { c.Stopped = stop.Add(-91 * time.Second) }, func(*Run) {}, false}, "still running": {func(c *shop.Campaign) { c.Stage = shop.RunStage }, func(*Run) {}, false}, "never stopped": {func(c *shop.Campaign) { c.Stopped = time.Time{} }, func(*Run) {}, false},
	} {
		c, r := c, aRun(1)
		x.c(&c)
		x.r(&r)
		if got, ok := (Seen{Runs: []Run{r}}).OfCampaign(s, c); ok != x.want || ok && got.ID != 1 {
			t.Errorf("%s: %t", name, ok)
		}
	}
	two, later := aRun(1), aRun(2)
	later.Stop.At += 10
	if got, ok := (Seen{Runs: []Run{two, later}}).OfCampaign(s, c); !ok || got.ID != 2 {
		t.Errorf("of two the latest: %d", got.ID)
	}
	known := potShop(t, &shop.Ground{Mill: "Pot", From: "S1", Into: "R1", Charge: 0.05, Run: 120, Product: shoptest.P(0.04)})
	if got, ok := (Seen{Runs: []Run{aRun(1)}}).OfCampaign(known, c); ok || got.ID != 1 {
		t.Errorf("one on record: %d %t", got.ID, ok)
	}
}

// Readings in a line: at 0.2 of humidity that rises by a ten-thousandth a second it is 0.26 after ten minutes, and 0.44 half an hour later;
// never more than all of it.
func TestHowDampItWillBe(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.DryerSet{Dryer: shop.Dryer{Name: "box", Way: shop.DesiccantBox}})
	for rise, want := range map[float64]float64{1e-4: 0.44, 1e-3: 1} {
		x := Sensor{Name: "hygro", Machine: "box", What: Humidity, State: Fresh}
		for i := range 7 {
			x.Recent = append(x.Recent, trace.Reading{At: 100 * float64(i), Value: 0.2 + rise*100*float64(i)})
		}
		now := x.Recent[6].Value
		x.Value = &now
		w := watch{state: s}
		if w.damp(x); len(w.found) != 1 {
			t.Fatalf("%g: %+v", rise, w.found)
		}
		if soon, _ := w.found[0].Fact("soon"); math.Abs(soon.Value-want) > 1e-9 {
			t.Errorf("rising by %g a second it will be %g, by hand %g", rise, soon.Value, want)
		}
		if now, _ := w.found[0].Fact("now"); math.Abs(now.Value-(0.2+600*rise)) > 1e-12 {
			t.Errorf("now %g", now.Value)
		}
	}
}

// What is wrong with a sensor weighs three tenths; that its clock is off weighs nothing.
func TestHowDeafSensorsWeigh(t *testing.T) {
	t.Parallel()
	for code, c := range map[string]struct {
		x      Sensor
		weight float64
	}{
		"live.sensor_silent": {Sensor{State: Silent, At: shoptest.Noon.Add(-90 * time.Second)}, 0.3}, "live.sensor_offline": {Sensor{State: Offline}, 0.3}, "live.sensor_frozen": {Sensor{State: Frozen}, 0.3},
		"live.sensor_unread": {Sensor{State: Waiting, Unread: 2}, 0.3}, "live.sensor_skew": {Sensor{State: Fresh, Skew: 75}, 0},
	} {
		found := Alerts(&shop.State{}, Seen{Now: shoptest.Noon, Sensors: []Sensor{c.x}}, "")
		if len(found) != 1 || found[0].Code != code || found[0].Weight != c.weight {
			t.Errorf("%s: %+v", code, found)
			continue
		}
		if since, ok := found[0].Fact("since"); ok && since.Value != 90 {
			t.Errorf("silent for %g s", since.Value)
		}
		if by, ok := found[0].Fact("by"); ok && by.Value != 75 {
			t.Errorf("off by %g s", by.Value)
		}
	}
}

// Which wall sensor is asked: a fresh one of this mill that shows something. A stall of a mill that stands is told for ten minutes.
func TestWhichWallIsAsked(t *testing.T) {
	t.Parallel()
	limit := 325.0
	cycle := shop.Cycle{Charge: 0.08, Run: 120, Rest: 300, Charges: 3, Wall: &limit}
	records := []shop.Record{{Body: &shop.MillSet{Mill: shop.Mill{Name: "Pot"}}}, {Body: shoptest.Scrap("PLA", "black", 20)}, {Body: &shop.CampaignBegun{Mill: "Pot", Polymer: "PLA", Wanted: 0.2, Cycle: cycle}}}
	for i := range records {
		records[i].ID, records[i].At = shop.RecordID(i+1), shoptest.Noon.Add(time.Duration(i-64)*time.Second)
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	hot := Sensor{Name: "wall", Machine: "Pot", What: Wall, State: Fresh, Value: shoptest.P(326)}
	for name, c := range map[string]struct {
		change func(*Sensor)
		told   int
	}{
		"as it is": {func(*Sensor) {}, 1}, "of the room": {func(x *Sensor) { x.What = Room }, 0}, "of another mill": {func(x *Sensor) { x.Machine = "Pan" }, 0}, "shows nothing": {func(x *Sensor) { x.Value = nil }, 0}, "silent": {func(x *Sensor) { x.State = Silent }, 0},
		"just at it": {func(x *Sensor) { x.Value = &limit }, 1}, "below, before the run": {func(x *Sensor) { x.Value = shoptest.P(324) }, 0},
	} {
		x := hot
		c.change(&x)
		w := watch{state: s, seen: Seen{Now: shoptest.Noon, Sensors: []Sensor{x}}}
		if w.wall(Mill{Name: "Pot"}); len(w.found) != c.told {
			t.Errorf("%s: %+v", name, w.found)
		}
	}
	now := float64(shoptest.Noon.Unix())
	for before, told := range map[float64]int{599: 1, 601: 0} {
		m := Mill{Name: "Pot", Events: []trace.Event{{What: trace.Stalled, At: trace.Moment{At: now - before}}, {What: trace.Stalled, At: trace.Moment{At: now - before}}}}
		if found := Alerts(s, Seen{Now: shoptest.Noon, Mills: []Mill{m}}, ""); len(found) != told {
			t.Errorf("a stall %g s ago at a mill that stands: %+v", before, found)
		}
	}
}

// A wall past its limit by its trend already is told to pass at once.
func TestAWallThatShouldHavePassed(t *testing.T) {
	t.Parallel()
	limit := 325.0
	cycle := shop.Cycle{Charge: 0.08, Run: 600, Rest: 300, Charges: 3, Wall: &limit}
	records := []shop.Record{{Body: &shop.MillSet{Mill: shop.Mill{Name: "Pot"}}}, {Body: shoptest.Scrap("PLA", "black", 20)}, {Body: &shop.CampaignBegun{Mill: "Pot", Polymer: "PLA", Wanted: 0.2, Cycle: cycle}},
		{Body: &shop.CampaignMarked{Campaign: 3, What: shop.SheetSkipped}}, {Body: &shop.CampaignMarked{Campaign: 3, What: shop.RunStarted, Cycle: &cycle}}}
	for i := range records {
		records[i].ID, records[i].At = shop.RecordID(i+1), shoptest.Noon.Add(time.Duration(i-124)*time.Second)
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	now := float64(shoptest.Noon.Unix())
	for late, want := range map[float64]float64{0: 20, 30: 0} { // 4 K at 0.2 K/s, read now or half a minute ago
		x := Sensor{Name: "wall", Machine: "Pot", What: Wall, State: Fresh}
		for i := range 13 {
			at := float64(5 * (i - 12))
			x.Recent = append(x.Recent, trace.Reading{At: now + at - late, Value: 321 + 0.2*at})
		}
		v := x.Recent[12].Value
		x.Value = &v
		m := Mill{Name: "Pot"}
		m.Run.Start.At = now - 120
		w := watch{state: s, seen: Seen{Now: shoptest.Noon, Sensors: []Sensor{x}}}
		if w.wall(m); len(w.found) != 1 {
			t.Fatalf("%+v", w.found)
		}
		if in, _ := w.found[0].Fact("in"); math.Abs(in.Value-want) > 0.01 {
			t.Errorf("read %g s ago it passes in %g s, by hand %g", late, in.Value, want)
		}
	}
}

// An energy told closely is filled in however small, and one that the meter counted too; less than five joules is none.
func TestSmallEnergiesGoIntoARecord(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		low, mid, high float64
		counted        *float64
		lost           bool
		want           float64 // -1: none
	}{
		{0.8, 0.9, 1, nil, false, 0}, {0, 0.9, 1, nil, false, -1}, {0, 0, 0, shoptest.P(0.5), false, 0}, {800, 900, 1000, nil, true, -1}, {800, 900, 1000, shoptest.P(700), true, 700}, {800, 900, 1201, nil, false, -1}, {800, 900, 1200, shoptest.P(5000), false, 900},
	} {
		r, g := aRun(1), shop.Ground{}
		r.Energy, r.Counted, r.Lost = trace.Joules{Low: c.low, Mid: c.mid, High: c.high}, c.counted, c.lost
		r.Into(&g)
		if (g.Energy == nil) != (c.want < 0) || g.Energy != nil && *g.Energy != c.want {
			t.Errorf("case %d: %v", i, g.Energy)
		}
	}
}

// Two levels teach: what is known of one and new of the other is new; a mill without levels is taught nothing.
func TestWhatIsNewOfTwoLevels(t *testing.T) {
	t.Parallel()
	level := func(n int) *int { return &n }
	for i, c := range []struct {
		known []shop.LevelWatts
		idle  []shop.LevelWatts
		news  bool
	}{
		{nil, nil, true}, {[]shop.LevelWatts{{Level: 1, Watts: 300}}, nil, true}, {[]shop.LevelWatts{{Level: 2, Watts: 300}}, nil, true}, {[]shop.LevelWatts{{Level: 1, Watts: 300}, {Level: 2, Watts: 300}}, []shop.LevelWatts{{Level: 1, Watts: 100}, {Level: 2, Watts: 100}}, false},
		{[]shop.LevelWatts{{Level: 1, Watts: 300}, {Level: 2, Watts: 300}}, []shop.LevelWatts{{Level: 2, Watts: 100}}, true}, {[]shop.LevelWatts{{Level: 1, Watts: 300}, {Level: 2, Watts: 300}}, []shop.LevelWatts{{Level: 1, Watts: 100}}, true},
	} {
		records := []shop.Record{{Body: &shop.MillSet{Mill: shop.Mill{Name: "Pot", Controller: &shop.Control{Levels: 3, Watts: c.known, IdleWatts: c.idle}}}}, {Body: shoptest.Scrap("PLA", "black", 5)},
			{Body: &shop.Ground{Mill: "Pot", From: "S1", Into: "R1", Charge: 0.05, Run: 120, Level: level(1), Product: shoptest.P(0.04)}}, {Body: &shop.Ground{Mill: "Pot", From: "S1", Into: "R1", Charge: 0.05, Run: 120, Level: level(2), Product: shoptest.P(0.04)}}}
		var runs []Run
		for k := range records {
			records[k].ID, records[k].At = shop.RecordID(k+1), shoptest.Noon.Add(time.Duration(k)*time.Hour)
			if k > 1 {
				r := aRun(int64(k))
				r.Start.At, r.Stop.At = r.Start.At+3600*float64(k)-60, r.Stop.At+3600*float64(k)-60
				r.Level, r.Idle, r.Empty, r.End = 300, 100, 20, &trace.Moment{At: r.Stop.At - 20}
				r.Energy.Mid = 300*100 + 100*20
				runs = append(runs, r)
			}
		}
		s, err := shop.Fold(records)
		if err != nil {
			t.Fatal(err)
		}
		doc, set, err := Teach(s, Seen{Runs: runs}, "Pot")
		if err != nil || (set != nil) != c.news || len(doc.Tables[0].Rows) != 2 {
			t.Errorf("case %d: new %t, %v", i, set != nil, err)
			continue
		}
		if row := doc.Tables[0].Rows[0]; row[0].Value != 1 || row[1].Value != 300 || row[2].Value != 100 || row[3].Value != 1 {
			t.Errorf("case %d: %+v", i, row)
		}
	}
	for i, control := range []*shop.Control{nil, {}} {
		s := &shop.State{Mills: []shop.MillState{{Mill: shop.Mill{Name: "Pot", Controller: control}}}}
		if doc, set, err := Teach(s, Seen{}, "Pot"); err != nil || set != nil || doc.Head.Code != "live.no_levels" {
			t.Errorf("case %d: %s, %v", i, doc.Head.Code, err)
		}
	}
	one := shoptest.Bin(t, &shop.MillSet{Mill: shop.Mill{Name: "Pot", Controller: &shop.Control{Levels: 1}}})
	if doc, _, err := Teach(one, Seen{}, "Pot"); err != nil || doc.Head.Code != "live.taught_nothing" {
		t.Errorf("%s, %v", doc.Head.Code, err)
	}
}

// A trend of half a kelvin is followed as well, one that falls is not; damper air is told of from three hundredths on.
func TestSmallTrends(t *testing.T) {
	t.Parallel()
	line := func(at, rise float64) (all []trace.Reading) {
		for i := range 13 {
			all = append(all, trace.Reading{At: float64(5 * i), Value: at + rise*float64(5*i-60)})
		}
		return all
	}
	b, passes, ok := heading(line(324.8, 0.01), 0, 110, 325) // half a kelvin more in 50 s
	if !ok || math.Abs(b.Mid-325.3) > 1e-6 || math.Abs(passes-80) > 1e-6 {
		t.Errorf("%g K, past its limit at %g s: %t", b.Mid, passes, ok)
	}
	if b, passes, ok := heading(line(324, -0.01), 0, 110, 325); !ok || math.Abs(b.Mid-323.5) > 1e-6 || passes != 110 {
		t.Errorf("%g K, past its limit at %g s: %t", b.Mid, passes, ok)
	}
	for i, c := range []struct {
		recent     []trace.Reading
		start, end float64
		ok         bool
	}{{nil, 0, 110, false}, {line(300, 0.1), 61, 110, false}, {line(300, 0.1), 41, 110, false}, {line(300, 0.1), 40, 110, true}, {line(300, 0.1), 0, 60, false}, {line(300, 0.1), 0, 61, true}} {
		if _, _, ok := heading(c.recent, c.start, c.end, 400); ok != c.ok {
			t.Errorf("case %d: %t", i, ok)
		}
	}
	s := shoptest.Bin(t, &shop.DryerSet{Dryer: shop.Dryer{Name: "box", Way: shop.DesiccantBox}})
	for more, told := range map[float64]int{0.028: 0, 0.032: 1, 0.05: 1} { // in half an hour
		x := Sensor{Name: "hygro", Machine: "box", What: Humidity, State: Fresh}
		for i := range 7 {
			x.Recent = append(x.Recent, trace.Reading{At: 100 * float64(i), Value: 0.2 + more*float64(i)/18})
		}
		now := x.Recent[6].Value
		x.Value = &now
		w := watch{state: s}
		if w.damp(x); len(w.found) != told {
			t.Errorf("%g damper in half an hour: %+v", more, w.found)
		}
	}
}

// What stands behind a run that waits: its cooling as it was learned from it alone; a word of messages dropped, for the first sensor that lost any.
func TestWhatIsToldBesideRuns(t *testing.T) {
	t.Parallel()
	r := aRun(1)
	r.Cooling = &trace.Cooling{Tau: trace.Band{Mid: 900, Low: 700, High: 1200}}
	k := &told{waiting: []Run{r}}
	last := k.figures()[len(k.figures())-1]
	if last.Key != "cooling_time" || last.Value != 900 || last.Low != 700 || last.High != 1200 || last.Runs != 1 {
		t.Errorf("%+v", last)
	}
	k = &told{seen: Seen{Sensors: []Sensor{{Name: "a"}, {Name: "b", Dropped: 1}, {Name: "c", Dropped: 4}}}}
	k.sensors()
	notes := k.doc.Tables[0].Notes
	if len(notes) != 1 || len(k.doc.Tables[0].Rows) != 3 {
		t.Fatalf("%+v", notes)
	}
	if n, _ := notes[0].Fact("n"); n.Value != 1 {
		t.Errorf("%g were dropped", n.Value)
	}
	k = &told{seen: Seen{Sensors: []Sensor{{Name: "a"}}}}
	if k.sensors(); len(k.doc.Tables[0].Notes) != 0 {
		t.Errorf("%+v", k.doc.Tables[0].Notes)
	}
}
