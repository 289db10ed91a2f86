package live

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hopperful/plan/sensing"
)

// clock is a time that tests set.
type clock struct {
	mu sync.Mutex
	at time.Time
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

func (c *clock) pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(d)
}

func noon() *clock { return &clock{at: time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC)} }

var plug = Sensor{Name: "plug", Machine: "Grumble", What: sensing.Power, Topic: "mill/power"}

// hubOf makes a hub that handles each message at once, and what it kept.
func hubOf(t *testing.T, c *clock, sensors ...Sensor) (h *Hub, send func(topic, payload string), kept *[]sensing.Run) {
	t.Helper()
	kept = &[]sensing.Run{}
	h, err := NewHub(Config{Sensors: sensors, Idle: map[string]float64{"Grumble": 120}}, c.now, nil, nil,
		Keeper{Runs: func(runs []sensing.Run) error { *kept = slices.Clone(runs); return nil }})
	if err != nil {
		t.Fatal(err)
	}
	return h, func(topic, payload string) { h.handle(Message{Topic: topic, Payload: []byte(payload), At: c.now()}) }, kept
}

// The payloads are those that the open conventions document, written anew with other numbers.
func TestPayloads(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		payload, path string
		want          float64
		err           error
	}{
		{"56.5", "", 56.5, nil},
		{` "56" `, "", 56, nil},
		{`{"Time":"2026-11-20T12:00:00","ENERGY":{"Total":514.153,"Power":56,"Factor":0.61,"Voltage":234}}`, "ENERGY.Power", 56, nil},
		{`{"ENERGY":{"Power":[52,5]}}`, "ENERGY.Power[1]", 5, nil},
		{`{"method":"NotifyStatus","params":{"ts":1732104000.5,"switch:0":{"id":0,"apower":240.1}}}`, `params."switch:0".apower`, 240.1, nil},
		{`{"method":"NotifyStatus","params":{"ts":1732104000.5,"switch:0":{"id":0,"current":1.1}}}`, `params."switch:0".apower`, 0, errAbsent},
		{`{"power":31,"state":"ON"}`, "power", 31, nil},
		{`{"power":null}`, "power", 0, errAbsent},
		{`{"Status":{"Power":"on"}}`, "Status.Power", 0, errNoNumber},
		{"nan", "", 0, errNoNumber},
		{"0x1p4", "", 0, errNoNumber},
		{"Inf", "", 0, errNoNumber},
		{"", "", 0, errNoNumber},
		{"[1,2]", "[1]", 0, nil}, // no path begins with a bracket: refused below
	} {
		path, err := parsePath(c.path)
		if strings.HasPrefix(c.path, "[") {
			if err == nil {
				t.Errorf("the path %q was taken", c.path)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		var got float64
		if len(path) == 0 {
			got, err = parseNumber(trimmed([]byte(c.payload)))
		} else {
			var v any
			if v, err = decode([]byte(c.payload)); err == nil {
				if v, err = at(v, path); err == nil {
					got, err = numberOf(v)
				}
			}
		}
		if got != c.want || !errors.Is(err, c.err) {
			t.Errorf("%q at %q: %g, %v; wanted %g, %v", c.payload, c.path, got, err, c.want, c.err)
		}
	}
}

func FuzzPayload(f *testing.F) {
	for _, s := range []string{"1", `{"a":{"b":[1,2]}}`, strings.Repeat("[", 5000), `{"a":"b`, `"\"`} {
		f.Add([]byte(s), `a.b[1]`)
	}
	f.Fuzz(func(t *testing.T, payload []byte, path string) {
		steps, err := parsePath(path)
		if err != nil {
			return
		}
		if len(steps) > mostDeep {
			t.Fatal("a path deeper than allowed")
		}
		if v, err := decode(payload); err == nil {
			if found, err := at(v, steps); err == nil {
				if n, err := numberOf(found); err == nil && (math.IsNaN(n) || math.IsInf(n, 0)) {
					t.Fatal("no number was taken for one")
				}
			}
			timeOf(v, time.UTC)
		}
		gone(payload)
	})
}

// A repeated message, one that came late and a wrong clock are told from readings.
func TestOrderAndClocks(t *testing.T) {
	t.Parallel()
	c := noon()
	s := plug
	s.Path, s.TimePath = "P", "ts"
	h, send, _ := hubOf(t, c, s)
	anHourBehind := func() float64 { return float64(c.now().Add(-time.Hour).UnixMilli()) / 1000 }
	for i := range 20 {
		c.pass(1100 * time.Millisecond)
		text := fmt.Sprintf(`{"P":%d,"ts":%.3f}`, 200+i, anHourBehind())
		send("mill/power", text)
		send("mill/power", text)
		send("mill/power", fmt.Sprintf(`{"P":9,"ts":%.3f}`, anHourBehind()-20))
	}
	got := h.Look().Sensors[0]
	if got.Taken != 20 || got.Repeated != 20 || got.Late != 20 || *got.Value != 219 {
		t.Errorf("taken %d, repeated %d, late %d, value %g", got.Taken, got.Repeated, got.Late, *got.Value)
	}
	if math.Abs(got.Skew-3600) > 2 {
		t.Errorf("its clock is told %g s behind; it is an hour", got.Skew)
	}
	// A reading kept by the broker is from another day; one sent again is the same.
	h.handle(Message{Topic: "mill/power", Payload: []byte(`{"P":5}`), Retained: true, At: c.now()})
	h.handle(Message{Topic: "mill/power", Payload: []byte(`{"P":219}`), Again: true, At: c.now()})
	if got := h.Look().Sensors[0]; got.Taken != 20 || *got.Value != 219 {
		t.Errorf("an old message was taken: %+v", got)
	}
}

// Silent, frozen, offline by its last will, unreadable, out of range: each is told.
func TestStatesOfSensors(t *testing.T) {
	t.Parallel()
	c := noon()
	s := plug
	s.Alive = "mill/alive"
	h, send, _ := hubOf(t, c, s)
	state := func() sensing.State { return h.Look().Sensors[0].State }
	if state() != sensing.Waiting {
		t.Errorf("before anything came: %s", state())
	}
	send("mill/power", "150")
	if state() != sensing.Fresh {
		t.Errorf("after a reading: %s", state())
	}
	for range 70 {
		c.pass(time.Second)
		send("mill/power", "150.0")
	}
	if state() != sensing.Frozen {
		t.Errorf("after 70 s of the same watts: %s", state())
	}
	send("mill/power", "151")
	if state() != sensing.Fresh {
		t.Errorf("when they waver again: %s", state())
	}
	send("mill/alive", "Offline")
	if state() != sensing.Offline {
		t.Errorf("after its last will: %s", state())
	}
	send("mill/alive", `{"state":"online"}`)
	c.pass(10 * time.Minute)
	if state() != sensing.Silent {
		t.Errorf("after ten minutes of silence: %s", state())
	}
	send("mill/power", "fifty")
	send("mill/power", "-3")
	send("mill/power", "99999999")
	send("mill/power", strings.Repeat("1", 5000))
	got := h.Look().Sensors[0]
	if got.Unread != 4 || got.Fault == "" || *got.Value != 151 {
		t.Errorf("unread %d, fault %q, value %g", got.Unread, got.Fault, *got.Value)
	}
	for range 100 { // zero watts may stay for ever
		c.pass(time.Second)
		send("mill/power", "0")
	}
	if state() != sensing.Fresh {
		t.Errorf("a mill that is off is told as %s", state())
	}
}

// A run is seen with the temperatures around it and its rest, and kept once.
func TestARunIsSeen(t *testing.T) {
	t.Parallel()
	c := noon()
	sensors := []Sensor{plug, {Name: "wall", Machine: "Grumble", What: sensing.Wall, Topic: "mill/wall"}, {Name: "air", What: sensing.Room, Topic: "room/t"},
		{Name: "count", Machine: "Grumble", What: sensing.Energy, Topic: "mill/kwh"}}
	h, send, kept := hubOf(t, c, sensors...)
	send("room/t", "20")
	second := func(p, wall float64) {
		c.pass(time.Second)
		send("mill/power", fmt.Sprint(p))
		if c.now().Second()%5 == 0 {
			send("mill/wall", fmt.Sprintf("%.1f", wall))
			send("room/t", "20.0")
		}
		h.pass(c.now())
	}
	send("mill/kwh", "100.000")
	for run := range 2 {
		for range 20 {
			second(0, 25)
		}
		for i := range 60 {
			second(300+float64(i%7), 25+float64(i)/6)
		}
		for range 10 {
			second(0, 35)
		}
		send("mill/kwh", fmt.Sprintf("%.3f", 100+0.005*float64(run+1)))
		for i := range 1190 {
			second(0, 20+15*math.Exp(-float64(i)/900))
		}
	}
	if len(*kept) != 2 {
		t.Fatalf("%d runs were kept", len(*kept))
	}
	r := (*kept)[1]
	if r.Mill != "Grumble" || math.Abs(r.Time()-60) > 2 || r.WallBefore == nil || r.WallAfter == nil || math.Abs(*r.WallAfter-(273.15+34.5)) > 1.5 || r.RoomAt == nil {
		t.Errorf("the second run is %+v", r)
	}
	if r.Rest == nil || math.Abs(*r.Rest-1220) > 3 {
		t.Errorf("its rest is %v", r.Rest)
	}
	if r.Counted == nil || math.Abs(*r.Counted-0.005*3.6e6) > 1 {
		t.Errorf("its counter says %v", r.Counted)
	}
	if first := (*kept)[0]; first.Cooling == nil || math.Abs(first.Cooling.Tau.Mid-900) > 60 {
		t.Errorf("the first run cooled as %+v; the time was 900 s", first.Cooling)
	}
	if !h.SetAside(r.ID) || h.SetAside(4711) || !(*kept)[1].Aside {
		t.Error("a run could not be set aside, or one that is not there could")
	}
}

// Of two mills that started in the same second each gets what its own counter showed later.
func TestTwoMillsStartAtOnce(t *testing.T) {
	t.Parallel()
	c := noon()
	var sensors []Sensor
	for _, mill := range []string{"Grumble", "Rattle"} {
		sensors = append(sensors, Sensor{Name: "plug " + mill, Machine: mill, What: sensing.Power, Topic: mill + "/w"}, Sensor{Name: "count " + mill, Machine: mill, What: sensing.Energy, Topic: mill + "/kwh"})
	}
	_, send, kept := hubOf(t, c, sensors...)
	send("Grumble/kwh", "1.000")
	send("Rattle/kwh", "2.000")
	for i := range 60 {
		c.pass(time.Second)
		p := "0"
		if i >= 5 && i < 40 {
			p = "300"
		}
		send("Grumble/w", p)
		send("Rattle/w", p)
	}
	send("Grumble/kwh", "1.003")
	send("Rattle/kwh", "2.004")
	if len(*kept) != 2 || (*kept)[0].ID == (*kept)[1].ID {
		t.Fatalf("kept were %+v", *kept)
	}
	for i, kWh := range []float64{0.003, 0.004} {
		if got := (*kept)[i].Counted; got == nil || math.Abs(*got-kWh*3.6e6) > 1 {
			t.Errorf("the counter of %s says %v; it went on by %g kWh", (*kept)[i].Mill, got, kWh)
		}
	}
}

// However much comes, the queue has an end, what finds it full is counted, and who
// sends is not held up.
func TestAFloodIsBounded(t *testing.T) {
	// Not parallel: what is held is measured of the whole program, and hashing beside it takes 19 MB.
	c := noon()
	h, _, _ := hubOf(t, c, plug)
	payload := []byte(strings.Repeat("9", 1<<20))
	for range mostWaiting + 5000 {
		h.Take(Message{Topic: "mill/power", Payload: payload[:3], At: c.now()})
	}
	if got := len(h.queue); got != mostWaiting {
		t.Errorf("%d messages wait; %d may", got, mostWaiting)
	}
	if got := h.Look().Sensors[0].Dropped; got != 5000 {
		t.Errorf("%d are told as dropped; 5000 were", got)
	}
	h.Take(Message{Topic: "mill/power", Payload: payload})
	for len(h.queue) > 0 {
		h.handle(<-h.queue)
	}
	// Thousand a second for ten minutes: what is held does not grow.
	before := heap()
	for range 600000 {
		c.pass(time.Millisecond)
		h.handle(Message{Topic: "mill/power", Payload: []byte("300"), At: c.now()})
	}
	if grown := int64(heap()) - int64(before); grown > 4<<20 {
		t.Errorf("600 000 messages left %d kB behind", grown>>10)
	}
	if got := len(h.Look().Sensors[0].Recent); got > recentSpan/recentStep+2 {
		t.Errorf("%d readings of the last half hour are held", got)
	}
}

func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// Setups that cannot be are refused with what to do, and the file is its owner's alone.
func TestSetup(t *testing.T) {
	t.Parallel()
	shop := filepath.Join(t.TempDir(), "shop.db")
	good := Config{Broker: Broker{URL: "mqtt://broker.lan:1883", User: "hopperful", Password: "correct horse"}, Sensors: []Sensor{plug}}
	if err := good.Save(shop); err != nil {
		t.Fatal(err)
	}
	got, err := Load(shop)
	if err != nil || got.Broker.Password != "correct horse" || got.Sensors[0] != plug {
		t.Fatalf("%+v, %v", got, err)
	}
	name := filepath.Join(Folder(shop), configFile)
	if about, err := os.Stat(name); err != nil || about.Mode().Perm() != 0o600 {
		t.Errorf("the file has the mode %v", about.Mode())
	}
	if err := os.Chmod(name, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Load(shop); err == nil {
		t.Error("a file that others can read was taken")
	}
	with := func(change func(*Config)) Config {
		c := good
		c.Sensors = slices.Clone(good.Sensors)
		change(&c)
		return c
	}
	for name, bad := range map[string]Config{
		"address":     with(func(c *Config) { c.Broker.URL = "broker" }),
		"password":    with(func(c *Config) { c.Broker.URL = "mqtt://a:b@host" }),
		"twice":       with(func(c *Config) { c.Sensors = append(c.Sensors, plug) }),
		"wildcard":    with(func(c *Config) { c.Sensors[0].Topic = "mill/#" }),
		"no topic":    with(func(c *Config) { c.Sensors[0].Topic = "" }),
		"no machine":  with(func(c *Config) { c.Sensors[0].Machine = "" }),
		"what":        with(func(c *Config) { c.Sensors[0].What = "speed" }),
		"unit":        with(func(c *Config) { c.Sensors[0].Unit = "°C" }),
		"path":        with(func(c *Config) { c.Sensors[0].Path = "a..b" }),
		"deep":        with(func(c *Config) { c.Sensors[0].Path = "a.b.c.d.e.f.g" }),
		"hidden":      with(func(c *Config) { c.Sensors[0].Name = "a\u202eb" }),
		"own address": with(func(c *Config) { c.Broker = Broker{Own: &Own{Listen: "1883"}} }),
	} {
		var r *Refusal
		if err := bad.Check(); !errors.As(err, &r) || r.What.Empty() || r.Advice.Empty() {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What cannot be kept is said while it cannot, also where the broker is reached.
func TestWhatIsNotKeptIsSaid(t *testing.T) {
	t.Parallel()
	c := noon()
	var full, fullRuns error
	seen := []sensing.Run{{ID: 7, Mill: "Grumble"}}
	h, err := NewHub(Config{Sensors: []Sensor{plug}}, c.now, seen, nil,
		Keeper{Reading: func(uint32, float64, float64) error { return full }, Runs: func([]sensing.Run) error { return fullRuns }})
	if err != nil {
		t.Fatal(err)
	}
	h.Linked(sensing.LinkUp, nil)
	unkept := func(watts string) string {
		c.pass(time.Second)
		h.handle(Message{Topic: "mill/power", Payload: []byte(watts), At: c.now()})
		return h.Look().Unkept
	}
	if got := unkept("0"); got != "" {
		t.Errorf("all well is told as %q", got)
	}
	full = errors.New("no space left")
	if got := unkept("1"); got != "no space left" {
		t.Errorf("a full disk is told as %q", got)
	}
	full, fullRuns = nil, errors.New("not allowed")
	h.SetAside(7)
	if got := unkept("2"); got != "not allowed" {
		t.Errorf("runs that are not kept are told as %q", got)
	}
	fullRuns = nil
	h.SetAside(7)
	if got := unkept("3"); got != "" {
		t.Errorf("what is over is told as %q", got)
	}
}

// Two plugs at one mill are one mill, whether somebody listens or not.
func TestAMillWithTwoPlugs(t *testing.T) {
	t.Parallel()
	second := plug
	second.Name, second.Topic = "other plug", "mill/other"
	conf := Config{Sensors: []Sensor{plug, second}, Idle: map[string]float64{"Grumble": 120}}
	h, err := NewHub(conf, noon().now, nil, nil, Keeper{})
	if err != nil {
		t.Fatal(err)
	}
	for name, seen := range map[string]sensing.Seen{"heard": h.Look(), "as set up": conf.AsSetUp(noon().now(), nil)} {
		if len(seen.Mills) != 1 || seen.Mills[0].Known.Idle != 120 || len(seen.Sensors) != 2 || seen.Sensors[1].State != sensing.Waiting {
			t.Errorf("%s: %+v", name, seen)
		}
	}
}

// Each preset makes a sensor that can be, for each quantity it knows.
func TestPresets(t *testing.T) {
	t.Parallel()
	for _, p := range Presets {
		for what := range p.Paths {
			s, err := p.Fill(Sensor{Name: "x", Machine: "Grumble", What: what}, "prefix/plug1")
			if err == nil {
				err = s.check()
			}
			if err != nil || strings.Contains(s.Topic, "{") {
				t.Errorf("%s, %s: %+v, %v", p.Name, what, s, err)
			}
		}
	}
}

func TestWaitGrowsAndEnds(t *testing.T) {
	t.Parallel()
	for n := range 40 {
		if w := waitFor(n, 1); w > 2*longestWait || w < firstWait {
			t.Errorf("try %d waits %v", n, w)
		}
	}
	if waitFor(3, 0.5) <= waitFor(1, 0.5) {
		t.Error("the wait does not grow")
	}
}

func BenchmarkMessages(b *testing.B) {
	c := noon()
	s := plug
	s.Path, s.TimePath = "ENERGY.Power", "Time"
	h, err := NewHub(Config{Sensors: []Sensor{s}}, c.now, nil, nil, Keeper{})
	if err != nil {
		b.Fatal(err)
	}
	payload := []byte(`{"Time":"2026-11-20T12:00:00","ENERGY":{"Total":514.153,"Power":56,"Factor":0.61,"Voltage":234}}`)
	b.ReportAllocs()
	for b.Loop() {
		c.pass(time.Millisecond)
		h.handle(Message{Topic: "mill/power", Payload: payload, At: c.now()})
	}
}
