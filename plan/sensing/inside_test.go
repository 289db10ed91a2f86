package sensing

import (
	"math"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/process/trace"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// a is a run of two minutes at noon, with 300 W.
func aRun(id int64) Run {
	at := float64(shoptest.Noon.Unix())
	r := Run{ID: id, Mill: "Pot"}
	r.Start, r.Stop = trace.Moment{At: at}, trace.Moment{At: at + 120}
	r.Energy = trace.Joules{Mid: 36e3, Low: 35e3, High: 37e3}
	return r
}

// A record fits a run that it was written down up to a minute and a half before or a quarter of an
// hour after, and that lasted as long within three tenths or twenty seconds.
func TestWhichRecordIsTheRun(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		after, lasted float64 // since the start, seconds
		mill          string
		fits          bool
	}{
		{60, 120, "Pot", true}, {-90, 120, "Pot", true}, {-91, 120, "Pot", false}, {120 + 900, 120, "Pot", true}, {120 + 901, 120, "Pot", false}, {60, 120, "Pan", false},
		{60, 156, "Pot", true}, {60, 157, "Pot", false}, {60, 84, "Pot", true}, {60, 83, "Pot", false},
	} {
		b := book{{7, shoptest.Noon.Add(time.Duration(c.after) * time.Second), &shop.Ground{Mill: c.mill, Run: c.lasted}}}
		if got, ok := b.of(aRun(1)); ok != c.fits || ok && got.id != 7 {
			t.Errorf("written down %g s after the start as %g s at %s: fits %t", c.after, c.lasted, c.mill, ok)
		}
	}
	// A short run may be off by twenty seconds, one whose ends were not seen by their doubt too.
	short := aRun(1)
	short.Stop.At = short.Start.At + 30
	at := func(lasted float64) book {
		return book{{7, shoptest.Noon.Add(time.Minute), &shop.Ground{Mill: "Pot", Run: lasted}}}
	}
	if _, ok := at(50).of(short); !ok {
		t.Error("50 s are not 30 s within twenty")
	}
	if _, ok := at(51).of(short); ok {
		t.Error("51 s are 30 s within twenty")
	}
	short.Stop.Doubt = 5
	if _, ok := at(54).of(short); !ok {
		t.Error("the doubt of the stop is not let be")
	}
	// The nearest to the stop of several, and of two runs the nearer has it.
	two := book{{1, shoptest.Noon.Add(5 * time.Minute), &shop.Ground{Mill: "Pot", Run: 120}}, {2, shoptest.Noon.Add(3 * time.Minute), &shop.Ground{Mill: "Pot", Run: 120}}}
	if got, _ := two.of(aRun(1)); got.id != 2 {
		t.Errorf("record %d has it", got.id)
	}
	first, second := aRun(1), aRun(2)
	second.Start.At, second.Stop.At = second.Start.At+200, second.Stop.At+200
	taken := book{two[0]}.taken([]Run{first, second}) // written 180 s after the first's stop, 20 s before the second's
	if w, ok := taken[2]; !ok || w.id != 1 || len(taken) != 1 {
		t.Errorf("%v", taken)
	}
}

// What a run drew while it was loaded: 36 kJ, of which 20 s empty at 100 W, over the other 100 s.
func TestWattsWhileLoaded(t *testing.T) {
	t.Parallel()
	r := aRun(1)
	if got := meanWhileLoaded(r); got != 300 {
		t.Errorf("%g W, never seen to end", got)
	}
	r.End, r.Empty, r.Idle = &trace.Moment{At: r.Stop.At - 20}, 20, 100
	if got := meanWhileLoaded(r); got != 340 {
		t.Errorf("%g W, wanted (36000 − 2000)/100", got)
	}
	r.Idle = 1e5
	if got := meanWhileLoaded(r); got != 0 {
		t.Errorf("%g W, below nothing", got)
	}
	r.Empty = 120
	if got := meanWhileLoaded(r); got != 300 {
		t.Errorf("%g W of a run that was empty all along", got)
	}
}

// Watts are written down anew where they differ by more than 3 W and 2 %.
func TestWhichWattsAreNew(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		level         int
		watts, reads  float64
		news          bool
		count, placed int
	}{{2, 100, 103, false, 1, 0}, {2, 100, 103.5, true, 1, 0}, {2, 400, 408, false, 1, 0}, {2, 400, 409, true, 1, 0}, {2, 400, 391, true, 1, 0}, {1, 400, 100, true, 2, 0}, {3, 400, 500, true, 2, 1}} {
		list := []shop.LevelWatts{{Level: 2, Watts: c.watts}}
		was := list
		if got := put(&list, c.level, c.reads); got != c.news || len(list) != c.count || c.news && list[c.placed].Watts != c.reads || was[0].Watts != c.watts {
			t.Errorf("%+v: new %t, %v", c, got, list)
		}
	}
	if m, ok := middle([]float64{100, 300.4, 200}); !ok || m != 200 {
		t.Errorf("the middle is %g", m)
	}
	if _, ok := middle(nil); ok {
		t.Error("nothing has a middle")
	}
}

// An energy is filled in where it is told within a factor of one and a half, to ten joules; one
// counted by the meter stands in; times are whole seconds, one at the least.
func TestWhatGoesIntoARecord(t *testing.T) {
	t.Parallel()
	into := func(change func(*Run)) shop.Ground {
		r, g := aRun(1), shop.Ground{}
		change(&r)
		r.Into(&g)
		return g
	}
	if g := into(func(r *Run) { r.Energy = trace.Joules{Mid: 36004, Low: 30e3, High: 45e3} }); g.Energy == nil || *g.Energy != 36000 || g.Run != 120 || g.Stalled {
		t.Errorf("%+v", g)
	}
	if g := into(func(r *Run) { r.Energy = trace.Joules{Mid: 36006, Low: 30e3, High: 45.1e3} }); g.Energy != nil {
		t.Errorf("%g J", *g.Energy)
	}
	if g := into(func(r *Run) { r.Energy.Low, r.Counted = 0, shoptest.P(41236) }); g.Energy == nil || *g.Energy != 41240 {
		t.Errorf("%+v", g.Energy)
	}
	if g := into(func(r *Run) { r.Energy.Low, r.Counted = 0, shoptest.P(0) }); g.Energy != nil {
		t.Errorf("%g J", *g.Energy)
	}
	if g := into(func(r *Run) { r.Stop.At = r.Start.At + 0.2 }); g.Run != 1 {
		t.Errorf("%g s", g.Run)
	}
	if Goes(Run{}).Code != "live.goes_nothing" || Goes(aRun(1)).Code != "live.goes" {
		t.Errorf("%s, %s", Goes(Run{}).Code, Goes(aRun(1)).Code)
	}
	flat := aRun(3)
	flat.Flat, flat.Level = true, 95
	if w := (Seen{Runs: []Run{flat, aRun(4)}}).LatestFlat("Pot"); w == nil || *w != 95 || (Seen{Runs: []Run{aRun(4)}}).LatestFlat("Pot") != nil || (Seen{Runs: []Run{flat}}).LatestFlat("Pan") != nil {
		t.Errorf("%v", w)
	}
	if Told(flat).Code != "live.ran_flat" || Told(aRun(1)).Code != "live.run_seen" {
		t.Errorf("%s %s", Told(flat).Code, Told(aRun(1)).Code)
	}
}

// The least a run lasted leaves out the doubt of ends that were not seen: of a start only where it
// had not begun, of a stop unless it was lost.
func TestTheLeastARunLasted(t *testing.T) {
	t.Parallel()
	r := aRun(1)
	r.Start.Doubt, r.Stop.Doubt, r.Begun = 10, 4, true
	for want, change := range map[float64]func(*Run){116: func(*Run) {}, 106: func(r *Run) { r.Begun = false }, 120: func(r *Run) { r.Lost = true }, 110: func(r *Run) { r.Lost, r.Begun = true, false }, 0: func(r *Run) { r.Stop.Doubt = 500 }} {
		x := r
		change(&x)
		if got := x.least(); math.Abs(got-want) > 1e-6 {
			t.Errorf("at least %g s, wanted %g", got, want)
		}
	}
}

// A sensor's own clock is told of from a minute on; unread messages where none was taken.
func TestSensorsThatAreOff(t *testing.T) {
	t.Parallel()
	of := func(x Sensor) (codes []string) {
		for _, f := range Alerts(&shop.State{}, Seen{Now: shoptest.Noon, Sensors: []Sensor{x}}, "") {
			codes = append(codes, f.Code)
		}
		return codes
	}
	for want, x := range map[string]Sensor{
		"live.sensor_skew":    {State: Fresh, Skew: -60.5},
		"live.sensor_offline": {State: Offline},
		"live.sensor_unread":  {State: Waiting, Unread: 1},
	} {
		if got := of(x); len(got) != 1 || got[0] != want {
			t.Errorf("%+v: %v", x, got)
		}
	}
	for _, x := range []Sensor{{State: Fresh, Skew: 60}, {State: Fresh, Skew: -60}, {State: Fresh, Unread: 3, Taken: 1}, {State: Waiting}} {
		if got := of(x); len(got) != 0 {
			t.Errorf("%+v: %v", x, got)
		}
	}
	if ago(shoptest.Noon, shoptest.Noon.Add(time.Minute)) != 0 || ago(shoptest.Noon.Add(time.Minute), shoptest.Noon) != 60 {
		t.Error("a moment to come is some time ago")
	}
}

// Air that grows damper is told of where a hygrometer of a dryer in use shows it for ten minutes,
// at least four readings and three hundredths of humidity ahead; each condition by itself.
func TestWhenDamperAirIsTold(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.DryerSet{Dryer: shop.Dryer{Name: "box", Way: shop.DesiccantBox}}, &shop.DryerSet{Dryer: shop.Dryer{Name: "old", Way: shop.Oven, Retired: true}})
	of := func(change func(*Sensor)) int {
		x := Sensor{Name: "hygro", Machine: "box", What: Humidity, State: Fresh}
		for i := range 61 {
			x.Recent = append(x.Recent, trace.Reading{At: 10 * float64(i), Value: 0.2 + 0.03*float64(i)/60})
		}
		v := x.Recent[60].Value
		x.Value = &v
		change(&x)
		w := watch{state: s}
		w.damp(x)
		if len(w.found) > 0 && (w.found[0].Code != "live.damper" || w.found[0].Weight != 0.4) {
			t.Errorf("%+v", w.found[0])
		}
		return len(w.found)
	}
	for name, c := range map[string]struct {
		want   int
		change func(*Sensor)
	}{
		"as it is":       {1, func(*Sensor) {}},
		"a thermometer":  {0, func(x *Sensor) { x.What = Room }},
		"of no machine":  {0, func(x *Sensor) { x.Machine = "" }},
		"of another":     {0, func(x *Sensor) { x.Machine = "Pot" }},
		"of a retired":   {0, func(x *Sensor) { x.Machine = "old" }},
		"silent":         {0, func(x *Sensor) { x.State = Silent }},
		"three readings": {0, func(x *Sensor) { x.Recent = []trace.Reading{x.Recent[0], x.Recent[30], x.Recent[60]} }},
		"nearly so long": {0, func(x *Sensor) { x.Recent = x.Recent[1:] }},
		"slower": {0, func(x *Sensor) {
			for i := range x.Recent {
				x.Recent[i].Value = 0.2 + 0.009*float64(i)/60
			}
		}},
		"drier": {0, func(x *Sensor) {
			for i := range x.Recent {
				x.Recent[i].Value = 0.3 - 0.03*float64(i)/60
			}
		}},
	} {
		if got := of(c.change); got != c.want {
			t.Errorf("%s: told %d times", name, got)
		}
	}
}

// How alerts weigh against each other: a stall before a wall, a wall before the draw, that before
// what is not kept, running empty, damp air, and a sensor that is deaf.
func TestHowAlertsWeigh(t *testing.T) {
	t.Parallel()
	last := 1.0
	for i, weight := range []float64{stallWeight, wallWeight, drawWeight, unkeptWeight, emptyWeight, dampWeight, deafWeight} {
		if weight > last || weight <= 0 || i > 0 && weight == last {
			t.Errorf("weight %d is %g after %g", i, weight, last)
		}
		last = weight
	}
	mill := shop.Mill{Name: "Pot", ContinuousPower: shoptest.P(400)}
	s := shoptest.Bin(t, &shop.MillSet{Mill: mill})
	m := Mill{Name: "Pot", Running: true, Events: []trace.Event{{What: trace.Stalled}, {What: trace.RunsEmpty}}}
	for i := range 61 {
		m.Minute = append(m.Minute, trace.Reading{At: float64(i), Value: 420})
	}
	found := Alerts(s, Seen{Now: time.Unix(60, 0), Unkept: "full", Mills: []Mill{m}, Sensors: []Sensor{{Name: "x", State: Offline}}}, "")
	want := []struct {
		code   string
		weight float64
	}{{"live.stall", 1}, {"live.over_rating", 0.8}, {"live.unkept", 0.6}, {"live.runs_empty", 0.5}, {"live.sensor_offline", 0.3}}
	if len(found) != len(want) {
		t.Fatalf("%+v", found)
	}
	for i, w := range want {
		if found[i].Code != w.code || found[i].Weight != w.weight {
			t.Errorf("%d: %s weighs %g, wanted %+v", i, found[i].Code, found[i].Weight, w)
		}
	}
}

// A wall at its limit weighs the same whether it passed, will pass or may.
func TestWallsWeighAlike(t *testing.T) {
	t.Parallel()
	for name, rise := range map[string]float64{"live.wall_over": 0, "live.wall_will_pass": 0.2, "live.wall_may_pass": 0.083} {
		limit := 325.0
		cycle := shop.Cycle{Charge: 0.08, Run: 120, Rest: 300, Charges: 3, Wall: &limit}
		records := []shop.Record{{Body: &shop.MillSet{Mill: shop.Mill{Name: "Pot"}}}, {Body: shoptest.Scrap("PLA", "black", 20)},
			{Body: &shop.CampaignBegun{Mill: "Pot", Polymer: "PLA", Wanted: 0.2, Cycle: cycle}}, {Body: &shop.CampaignMarked{Campaign: 3, What: shop.SheetSkipped}},
			{Body: &shop.CampaignMarked{Campaign: 3, What: shop.RunStarted, Cycle: &cycle}}}
		for i := range records {
			records[i].ID, records[i].At = shop.RecordID(i+1), shoptest.Noon.Add(time.Duration(i-64)*time.Second)
		}
		s, err := shop.Fold(records)
		if err != nil {
			t.Fatal(err)
		}
		now := float64(shoptest.Noon.Unix())
		x := Sensor{Name: "wall", Machine: "Pot", What: Wall, State: Fresh}
		for i := range 13 {
			at := float64(5 * (i - 12))
			x.Recent = append(x.Recent, trace.Reading{At: now + at, Value: 320 + rise*at + 0.3*float64(i%2)})
		}
		v := x.Recent[12].Value
		if rise == 0 {
			v = limit
		}
		x.Value = &v
		m := Mill{Name: "Pot", Running: true}
		m.Run.Start.At = now - 60
		found := Alerts(s, Seen{Now: shoptest.Noon, Mills: []Mill{m}, Sensors: []Sensor{x}}, "")
		if len(found) != 1 || found[0].Weight != 0.9 || found[0].Code != name {
			t.Errorf("%s: %+v", name, found)
		}
	}
}

// A mill whose idling nobody knows is asked about, one whose is known is not; of a run that ended before it stopped
// is told how long it broke anything; three runs that wait are steps, and twenty are listed, the newest first.
func TestStepsAndListOfRuns(t *testing.T) {
	t.Parallel()
	seen := Seen{Now: shoptest.Noon, Link: LinkUp, Mills: []Mill{{Name: "Pot"}, {Name: "Pan", Known: trace.Known{Idle: 80}}}}
	for i := range 22 {
		r := aRun(int64(i + 1))
		r.Start.At, r.Stop.At = r.Start.At+1000*float64(i), r.Stop.At+1000*float64(i)
		if i == 20 {
			r.End = &trace.Moment{At: r.Start.At + 90, Doubt: 2}
		}
		seen.Runs = append(seen.Runs, r)
	}
	doc := Of(shoptest.Bin(t), seen)
	var asked, confirm int
	for _, step := range doc.Steps {
		switch step.Do.Code {
		case "live.idle_unknown":
			if asked++; step.Do.Text("mill") != "Pot" {
				t.Errorf("asked about the idling of %s", step.Do.Text("mill"))
			}
		case "do.confirm_run":
			confirm++
		}
	}
	if asked != 1 || confirm != 3 {
		t.Errorf("%d mills are asked about, %d runs are to be confirmed", asked, confirm)
	}
	for _, table := range doc.Tables {
		if table.Key != "live_runs" {
			continue
		}
		if len(table.Rows) != 20 || table.Rows[0][0].Text != "22" {
			t.Errorf("%d runs are listed, the first is %q", len(table.Rows), table.Rows[0][0].Text)
			continue
		}
		if row := table.Rows[1]; row[5].Value != 90 || row[3].Value != 120 {
			t.Errorf("it ran for %g s, and broke for %g", row[3].Value, row[5].Value)
		}
	}
	// Figures are those of the newest run that waits: the energy with a twentieth for the meter, the end with its doubt.
	seen.Runs = seen.Runs[:21]
	for _, f := range Of(shoptest.Bin(t), seen).Figures {
		want := map[string][3]float64{"run_energy": {36e3, 35e3 * 0.95, 37e3 * 1.05}, "run_time": {120, 120, 120}, "run_end": {90, 88, 92}}[f.Key]
		if math.Abs(f.Value-want[0]) > 1e-6 || math.Abs(f.Low-want[1]) > 1e-6 || math.Abs(f.High-want[2]) > 1e-6 {
			t.Errorf("%s is %g of %g to %g, wanted %v", f.Key, f.Value, f.Low, f.High, want)
		}
	}
}

// Three quarters of a minute of readings make a mean: from 500 to 700 W are 600 W, told where motor or controller carry less all day.
func TestWhenTheDrawIsTold(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	of := func(motor, controller *float64, seconds int, gap float64) []answer.Finding {
		m := shop.Mill{Name: "Pot", ContinuousPower: motor, Controller: &shop.Control{Levels: 4, Continuous: controller}}
		w := watch{state: shoptest.Bin(t, &shop.MillSet{Mill: m})}
		minute := []trace.Reading{}
		for at := 0.0; at <= float64(seconds); at += gap {
			minute = append(minute, trace.Reading{At: at, Value: 500 + 200*at/float64(seconds)})
		}
		w.draw(Mill{Name: "Pot", Minute: minute})
		return w.found
	}
	for i, c := range []struct {
		motor, controller *float64
		seconds           int
		gap               float64
		told              bool
	}{
		{p(599.0), nil, 45, 5, true}, {p(601.0), nil, 45, 5, false}, {p(599.0), nil, 44, 4, false}, {p(900.0), p(599.0), 45, 5, true}, {p(599.0), p(900.0), 45, 5, true}, {nil, p(601.0), 45, 5, false},
		{nil, nil, 45, 5, false}, {p(599.0), nil, 60, 10, true}, {p(599.0), nil, 60, 12, false},
	} {
		found := of(c.motor, c.controller, c.seconds, c.gap)
		if (len(found) == 1) != c.told {
			t.Errorf("case %d: %+v", i, found)
		} else if c.told {
			if f, _ := found[0].Fact("draw"); math.Abs(f.Value-600) > 1e-6 {
				t.Errorf("case %d: a mean of %g W", i, f.Value)
			}
		}
	}
}
