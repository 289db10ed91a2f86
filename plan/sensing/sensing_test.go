package sensing_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/plan/sensing"
	"hopperful/process/trace"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

var noon = shoptest.Noon

func sec(at time.Time) float64 { return float64(at.UnixMilli()) / 1000 }

// bench is a shop with a mill of three levels, scrap, and a campaign that runs, begun and
// started a minute before noon; its run shall take two minutes and stay below 325 K.
func bench(t *testing.T, more ...shop.Record) *shop.State {
	t.Helper()
	m := shoptest.Mill()
	m.ContinuousPower = shoptest.P(400)
	m.RatedPower = shoptest.P(1200)
	m.Controller = &shop.Control{Levels: 3, Watts: []shop.LevelWatts{{Level: 1, Watts: 150}}}
	level := 2
	cycle := shop.Cycle{Charge: 0.08, Level: &level, Run: 120, Rest: 300, Charges: 3, Wall: shoptest.P(325)}
	records := []shop.Record{
		{Body: &shop.ShopSet{Name: "Test bench"}}, {Body: &shop.MillSet{Mill: m}}, {Body: &shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.001}}},
		{Body: shoptest.Scrap("PLA", "black", 20)}, {Body: &shop.DryerSet{Dryer: shop.Dryer{Name: "box", Way: shop.DesiccantBox}}},
		{Body: &shop.CampaignBegun{Mill: m.Name, Polymer: "PLA", Wanted: 0.2, Cycle: cycle}},
		{Body: &shop.CampaignMarked{Campaign: 6, What: shop.SheetSkipped}},
		{Body: &shop.CampaignMarked{Campaign: 6, What: shop.RunStarted, Cycle: &cycle}},
	}
	for i := range records {
		records[i].ID, records[i].At = shop.RecordID(i+1), noon.Add(time.Duration(i-len(records)-60)*time.Second)
	}
	records[7].At = noon.Add(-time.Minute)
	for _, r := range more {
		r.ID = shop.RecordID(len(records) + 1)
		records = append(records, r)
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// wall is a sensor whose readings of the last minute rise by that much a second to a value.
func wall(to, rise float64) sensing.Sensor {
	x := sensing.Sensor{Name: "wall", Machine: shoptest.Mill().Name, What: sensing.Wall, State: sensing.Fresh, At: noon}
	for i := range 12 {
		ripple := 0.05 * float64(i%2)
		x.Recent = append(x.Recent, trace.Reading{At: sec(noon) - 55 + float64(5*i), Value: to - rise*float64(55-5*i) + ripple})
	}
	v := x.Recent[11].Value
	x.Value = &v
	return x
}

func running(minute float64) sensing.Mill {
	m := sensing.Mill{Name: shoptest.Mill().Name, Running: true, Known: trace.Known{Idle: 120}}
	m.Run.Start = trace.Moment{At: sec(noon) - 60}
	for i := range 61 {
		m.Minute = append(m.Minute, trace.Reading{At: sec(noon) - 60 + float64(i), Value: minute + float64(i%3) - 1})
	}
	return m
}

func codes(all []answer.Finding) (list []string) {
	for _, f := range all {
		list = append(list, f.Code)
	}
	return list
}

// One thing wrong at a time, and what is told of it.
func TestAlerts(t *testing.T) {
	t.Parallel()
	s := bench(t)
	event := func(what trace.What, before float64) []trace.Event {
		return []trace.Event{{What: trace.Started, At: trace.Moment{At: sec(noon) - 60}}, {What: what, At: trace.Moment{At: sec(noon) - before}}}
	}
	damp := func(rise float64) sensing.Sensor {
		x := sensing.Sensor{Name: "hygro", Machine: "box", What: sensing.Humidity, State: sensing.Fresh}
		for i := range 121 {
			x.Recent = append(x.Recent, trace.Reading{At: sec(noon) - 1800 + float64(15*i), Value: 0.2 + rise*float64(i)/120})
		}
		v := x.Recent[120].Value
		x.Value = &v
		return x
	}
	with := func(m sensing.Mill, change func(*sensing.Mill)) sensing.Mill { change(&m); return m }
	for name, c := range map[string]struct {
		seen sensing.Seen
		want string // "" for nothing
	}{
		"all well":                     {sensing.Seen{Mills: []sensing.Mill{running(300)}, Sensors: []sensing.Sensor{wall(310, 0.1)}}, ""},
		"the wall will be too hot":     {sensing.Seen{Mills: []sensing.Mill{running(300)}, Sensors: []sensing.Sensor{wall(320, 0.2)}}, "live.wall_will_pass"},
		"just short of it":             {sensing.Seen{Mills: []sensing.Mill{running(300)}, Sensors: []sensing.Sensor{wall(320, 0.075)}}, ""},
		"it is too hot":                {sensing.Seen{Mills: []sensing.Mill{running(300)}, Sensors: []sensing.Sensor{wall(326, 0.1)}}, "live.wall_over"},
		"a frozen one is not believed": {sensing.Seen{Mills: []sensing.Mill{running(300)}, Sensors: []sensing.Sensor{func() sensing.Sensor { x := wall(326, 0); x.State = sensing.Frozen; return x }()}}, "live.sensor_frozen"},
		"above the continuous rating":  {sensing.Seen{Mills: []sensing.Mill{running(420)}}, "live.over_rating"},
		"just below it":                {sensing.Seen{Mills: []sensing.Mill{running(395)}}, ""},
		"a stall":                      {sensing.Seen{Mills: []sensing.Mill{with(running(300), func(m *sensing.Mill) { m.Events = event(trace.Stalled, 5) })}}, "live.stall"},
		"a stall of long ago":          {sensing.Seen{Mills: []sensing.Mill{with(running(0), func(m *sensing.Mill) { m.Running, m.Events = false, event(trace.Stalled, 900) })}}, ""},
		"on empty":                     {sensing.Seen{Mills: []sensing.Mill{with(running(120), func(m *sensing.Mill) { m.Events = event(trace.RunsEmpty, 1) })}}, "live.runs_empty"},
		"damper while drying":          {sensing.Seen{Sensors: []sensing.Sensor{damp(0.06)}}, "live.damper"},
		"drier while drying":           {sensing.Seen{Sensors: []sensing.Sensor{damp(-0.06)}}, ""},
		"damper elsewhere":             {sensing.Seen{Sensors: []sensing.Sensor{func() sensing.Sensor { x := damp(0.06); x.Machine = ""; return x }()}}, ""},
		"not kept":                     {sensing.Seen{Unkept: "no space left"}, "live.unkept"},
		"silent":                       {sensing.Seen{Sensors: []sensing.Sensor{{Name: "x", What: sensing.Room, State: sensing.Silent}}}, "live.sensor_silent"},
		"unreadable":                   {sensing.Seen{Sensors: []sensing.Sensor{{Name: "x", What: sensing.Room, State: sensing.Waiting, Unread: 3, Fault: sensing.NoJSON}}}, "live.sensor_unread"},
	} {
		c.seen.Now = noon
		got := codes(sensing.Alerts(s, c.seen, ""))
		switch {
		case c.want == "" && len(got) > 0, c.want != "" && (len(got) != 1 || got[0] != c.want):
			t.Errorf("%s: told %v, wanted %q", name, got, c.want)
		}
	}
}

// The moment that the wall passes its limit is that of the line: 5 K at 0.2 K/s.
func TestWhenTheWallPasses(t *testing.T) {
	t.Parallel()
	found := sensing.Alerts(bench(t), sensing.Seen{Now: noon, Mills: []sensing.Mill{running(300)}, Sensors: []sensing.Sensor{wall(320, 0.2)}}, "")
	in, ok := found[0].Fact("in")
	if !ok || math.Abs(in.Value-25) > 1 {
		t.Errorf("told to pass in %g s, wanted 25 s", in.Value)
	}
	soon, _ := found[0].Fact("wall")
	if math.Abs(soon.Value-332) > 0.5 { // a minute ahead
		t.Errorf("told to reach %g K, wanted 332 K", soon.Value)
	}
}

func seenRun(stop time.Time, seconds, watts float64) sensing.Run {
	r := sensing.Run{ID: stop.Unix() - int64(seconds), Mill: shoptest.Mill().Name}
	r.Start, r.Stop = trace.Moment{At: sec(stop) - seconds, Doubt: 0.5}, trace.Moment{At: sec(stop), Doubt: 0.5}
	r.Level, r.Energy = watts, trace.Joules{Mid: watts * seconds, Low: watts * seconds * 0.99, High: watts * seconds * 1.01}
	return r
}

func ground(at time.Time, run float64, level int) shop.Record {
	return shop.Record{At: at, Body: &shop.Ground{Mill: shoptest.Mill().Name, From: "S1", Into: "R1", Charge: 0.08, Run: run, Level: &level, Product: shoptest.P(0.07)}}
}

// Nothing is on record by itself; once somebody wrote the run down, whether typed or
// confirmed, it waits no more, and another does not go with it.
func TestRunsWaitUntilTheyAreOnRecord(t *testing.T) {
	t.Parallel()
	first, second, other := seenRun(noon.Add(2*time.Minute), 120, 300), seenRun(noon.Add(8*time.Minute), 121, 305), seenRun(noon.Add(14*time.Minute), 30, 310)
	other.Aside = true
	seen := sensing.Seen{Now: noon.Add(time.Hour), Runs: []sensing.Run{first, second, other}}
	ids := func(s *shop.State) (list []int64) {
		for _, r := range sensing.Unconfirmed(s, seen) {
			list = append(list, r.ID)
		}
		return list
	}
	if got := ids(bench(t)); len(got) != 2 {
		t.Errorf("with nothing on record %v wait", got)
	}
	s := bench(t, ground(noon.Add(9*time.Minute), 120, 2))
	if got := ids(s); len(got) != 1 || got[0] != first.ID {
		t.Errorf("with the second written down %v wait; the first is %d", got, first.ID)
	}
	if got := ids(bench(t, ground(noon.Add(9*time.Minute), 600, 2))); len(got) != 2 {
		t.Errorf("with a run of ten minutes written down %v wait", got)
	}
	var refused *shop.Error
	if _, _, err := sensing.Draft(s, seen, second.ID); !errors.As(err, &refused) || refused.Code != shop.Conflict {
		t.Errorf("a run on record was offered again: %v", err)
	}
	if _, _, err := sensing.Draft(s, seen, 4711); !errors.As(err, &refused) || refused.Code != shop.NotFound {
		t.Errorf("a run that is not there was offered: %v", err)
	}
}

// A draft holds what the sensors showed, the rest as the campaign plans it; what went unseen
// it leaves out.
func TestDrafts(t *testing.T) {
	t.Parallel()
	s := bench(t)
	r := seenRun(noon.Add(2*time.Minute), 118, 300)
	r.WallBefore, r.WallAfter, r.RoomAt, r.Rest = shoptest.P(296.149), shoptest.P(311.26), shoptest.P(294.2), shoptest.P(240.4)
	r.Stalls = []trace.Moment{{At: r.Start.At + 50}}
	g, at, err := sensing.Draft(s, sensing.Seen{Runs: []sensing.Run{r}}, r.ID)
	if err != nil {
		t.Fatal(err)
	}
	if !at.Equal(noon.Add(2*time.Minute)) || g.Run != 118 || g.Charge != 0.08 || g.From != "S1" || *g.Level != 2 || *g.Energy != 35400 || !g.Stalled {
		t.Errorf("the draft is %+v at %v", g, at)
	}
	if *g.WallBefore != 296.1 || *g.WallAfter != 311.3 || *g.Room != 294.2 || *g.RestBefore != 240 {
		t.Errorf("temperatures and rest are %g %g %g %g", *g.WallBefore, *g.WallAfter, *g.Room, *g.RestBefore)
	}
	r.Energy.High *= 2
	if g, _, _ = sensing.Draft(s, sensing.Seen{Runs: []sensing.Run{r}}, r.ID); g.Energy != nil {
		t.Errorf("an energy between %g and %g J was filled in as %g", r.Energy.Low, r.Energy.High, *g.Energy)
	}
	r.Counted = shoptest.P(36000)
	if g, _, _ = sensing.Draft(s, sensing.Seen{Runs: []sensing.Run{r}}, r.ID); g.Energy == nil || *g.Energy != 36000 {
		t.Error("what the meter counted was left out")
	}
}

// A run whose meter fell silent for ten hours ran for as long as it was seen, at least.
func TestARunThatWasLost(t *testing.T) {
	t.Parallel()
	s := bench(t)
	r := seenRun(noon.Add(2*time.Minute), 118, 300)
	r.Lost, r.Stop.Doubt = true, 36000
	seen := sensing.Seen{Now: noon, Runs: []sensing.Run{r}}
	g, _, err := sensing.Draft(s, seen, r.ID)
	if err != nil || g.Run != 118 || g.Energy != nil {
		t.Errorf("the draft is %+v, %v", g, err)
	}
	if f := sensing.Of(s, seen).Figures[0]; f.Low != 117.5 || f.High < 36000 {
		t.Errorf("it is told to have run %g to %g s", f.Low, f.High)
	}
}

// Runs on record teach the watts of their levels, and only those: the plan then has them as
// metered.
func TestTeach(t *testing.T) {
	t.Parallel()
	runs := []sensing.Run{seenRun(noon.Add(2*time.Minute), 120, 300), seenRun(noon.Add(12*time.Minute), 120, 310), seenRun(noon.Add(22*time.Minute), 120, 320), seenRun(noon.Add(32*time.Minute), 120, 900)}
	runs[0].Idle, runs[0].Empty, runs[0].End = 130, 20, &trace.Moment{At: runs[0].Stop.At - 20}
	runs[0].Energy.Mid = 300*100 + 130*20
	s := bench(t, ground(noon.Add(2*time.Minute), 120, 2), ground(noon.Add(12*time.Minute), 120, 2), ground(noon.Add(22*time.Minute), 120, 2))
	seen := sensing.Seen{Runs: runs}
	doc, set, err := sensing.Teach(s, seen, shoptest.Mill().Name)
	if err != nil || set == nil {
		t.Fatalf("%v, %+v", err, doc.Head)
	}
	c := set.Mill.Controller
	if len(c.Watts) != 2 || c.Watts[0] != (shop.LevelWatts{Level: 1, Watts: 150}) || c.Watts[1] != (shop.LevelWatts{Level: 2, Watts: 310}) {
		t.Errorf("the watts are %v; the median of three runs at level 2 is 310 W, the fourth is not on record", c.Watts)
	}
	if len(c.IdleWatts) != 1 || c.IdleWatts[0].Watts != 130 {
		t.Errorf("empty they are %v", c.IdleWatts)
	}
	if len(s.Mills[0].Controller.Watts) != 1 {
		t.Error("the shop itself was changed")
	}
	known := bench(t, ground(noon.Add(2*time.Minute), 120, 2), ground(noon.Add(12*time.Minute), 120, 2), ground(noon.Add(22*time.Minute), 120, 2), shop.Record{At: noon.Add(time.Hour), Body: set})
	if _, again, err := sensing.Teach(known, seen, shoptest.Mill().Name); err != nil || again != nil {
		t.Errorf("what is on record is offered again: %v, %v", again, err)
	}
	if _, none, err := sensing.Teach(bench(t), seen, shoptest.Mill().Name); err != nil || none != nil {
		t.Errorf("runs that nobody confirmed taught %v, %v", none, err)
	}
}

// A shop without sensors, one whose broker is lost, one with a run that waits.
func TestWhatIsTold(t *testing.T) {
	t.Parallel()
	s := bench(t)
	r := seenRun(noon.Add(-5*time.Minute), 60, 300)
	for name, c := range map[string]struct {
		seen sensing.Seen
		want string
	}{
		"none":          {sensing.Seen{}, "live.none"},
		"not listening": {sensing.Seen{Sensors: []sensing.Sensor{{Name: "x"}}}, "live.not_listening"},
		"broker lost":   {sensing.Seen{Link: sensing.LinkDown, Why: "no route to host"}, "live.link_down"},
		"refused":       {sensing.Seen{Link: sensing.LinkDown, Refused: true}, "live.refused"},
		"no sensor":     {sensing.Seen{Link: sensing.LinkUp}, "live.no_sensor"},
		"heard":         {sensing.Seen{Link: sensing.LinkUp, Runs: []sensing.Run{r}, Sensors: []sensing.Sensor{{Name: "x", What: sensing.Room, State: sensing.Fresh}}}, "live.heard"},
		"running":       {sensing.Seen{Link: sensing.LinkUp, Mills: []sensing.Mill{running(300)}, Sensors: []sensing.Sensor{{Name: "x", What: sensing.Room, State: sensing.Fresh}}}, "live.mill_runs"},
	} {
		c.seen.Now = noon
		doc := sensing.Of(s, c.seen)
		if doc.Head.Code != c.want {
			t.Errorf("%s: %s, wanted %s", name, doc.Head.Code, c.want)
		}
		if codes(doc.Cautions)[0] != "live.no_safety_device" {
			t.Errorf("%s: no word that it is no safety device", name)
		}
		if waits := len(c.seen.Runs) > 0; waits && (len(doc.Steps) != 1 || doc.Steps[0].Do.Code != "do.confirm_run" || len(doc.Figures) < 2) {
			t.Errorf("%s: the run that waits is told as %+v", name, doc.Steps)
		}
	}
}
