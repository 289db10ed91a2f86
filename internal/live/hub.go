package live

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"hopperful/plan/sensing"
	"hopperful/process/trace"
)

// Keeper keeps what a hub finds out; its errors are shown for as long as they last, and do
// not stop the hub.
type Keeper struct {
	Reading func(sensor uint32, at, value float64) error
	Runs    func([]sensing.Run) error
}

// Hub takes messages in and knows how everything is. What it holds is bounded, whatever
// comes: messages wait in a queue of fixed length, and those that find it full are
// counted and dropped, so that who sends is never held up.
type Hub struct {
	watchers
	now    func() time.Time
	began  time.Time
	base   float64 // began, in seconds since 1970
	queue  chan Message
	keeper Keeper

	mu      sync.Mutex
	sensors []*sensor
	topics  map[string][]*sensor
	alive   map[string][]*sensor
	mills   []*mill
	runs    []sensing.Run
	link    sensing.Link
	since   time.Time
	why     string
	refused bool

	unkept, unkeptRuns error // why the latest reading, and the runs, could not be kept

	dropped atomic.Int64
}

// NewHub makes a hub for sensors. Runs were seen before, and kept are the readings of the
// ring, which it goes on from.
func NewHub(c Config, now func() time.Time, runs []sensing.Run, kept []Kept, keeper Keeper) (*Hub, error) {
	began := now()
	h := &Hub{now: now, began: began, base: float64(began.UnixMilli()) / 1000, queue: make(chan Message, mostWaiting), keeper: keeper,
		topics: map[string][]*sensor{}, alive: map[string][]*sensor{}, runs: runs, since: began}
	for _, s := range c.Sensors {
		n, err := newSensor(s)
		if err != nil {
			return nil, err
		}
		h.sensors = append(h.sensors, n)
		h.topics[s.Topic] = append(h.topics[s.Topic], n)
		if s.Alive != "" {
			h.alive[s.Alive] = append(h.alive[s.Alive], n)
		}
	}
	for _, m := range c.metered() {
		h.mills = append(h.mills, newMill(m.Name, m.Known))
	}
	h.replay(kept)
	return h, nil
}

// replayed is how far back a run may have begun that the program slept through [s].
const replayed = 6 * 3600

// replay lets the mills see again what the ring holds, so that a run that went on when the
// program died is still one run.
func (h *Hub) replay(kept []Kept) {
	byKey := map[uint32]*sensor{}
	for _, n := range h.sensors {
		byKey[n.key] = n
	}
	for _, k := range kept {
		n, ok := byKey[k.Sensor]
		if !ok || k.At < h.base-replayed || k.At > h.base {
			continue
		}
		r := trace.Reading{At: k.At, Value: k.Value}
		n.take(r, sensing.At(k.At))
		n.view.Taken = 0 // by this program
		h.give(n, r)
	}
	for _, m := range h.mills {
		h.keepRun(m.tick(h.base))
	}
}

// seconds is a moment on the clock of the readings: it goes on evenly, however the computer's
// clock is set meanwhile.
func (h *Hub) seconds(at time.Time) float64 { return h.base + at.Sub(h.began).Seconds() }

// Take hands a message in. It never waits.
func (h *Hub) Take(m Message) {
	if m.At.IsZero() {
		m.At = h.now()
	}
	if len(m.Payload) > mostPayload {
		m.Payload = m.Payload[:mostPayload+1]
	}
	select {
	case h.queue <- m:
	default:
		h.dropped.Add(1)
	}
}

// Run works on what comes until the context ends.
func (h *Hub) Run(ctx context.Context) {
	tick := time.NewTicker(time.Second)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case m := <-h.queue:
			h.handle(m)
		case <-tick.C:
			h.pass(h.now())
		}
	}
}

// handle reads one message.
func (h *Hub) handle(m Message) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, n := range h.alive[m.Topic] { // an old one says how it is now
		if isGone, ok := gone(m.Payload); ok {
			n.gone = isGone
		}
	}
	list := h.topics[m.Topic]
	if m.Retained { // a reading from yesterday is none
		for _, n := range list {
			n.view.Repeated++
		}
		list = nil
	}
	var v any
	var bad error
	for _, n := range list {
		if v == nil && bad == nil && (len(n.path) > 0 || len(n.timePath) > 0) {
			v, bad = decode(m.Payload)
		}
		r, ok := n.read(m, v, bad, h.seconds(m.At))
		if !ok {
			continue
		}
		before := n.last
		n.take(r, m.At)
		for _, x := range n.worth(before, r) {
			if h.keeper.Reading != nil {
				h.unkept = h.keeper.Reading(n.key, x.At, x.Value)
			}
		}
		h.give(n, r)
	}
	h.tell()
}

// give hands a reading to the mills that it concerns: its own, or all where it is of the
// room.
func (h *Hub) give(n *sensor, r trace.Reading) {
	for _, m := range h.mills {
		if m.name == n.Machine || n.Machine == "" {
			h.keepRun(m.take(n.What, r))
		}
	}
}

// pass lets time pass for the mills.
func (h *Hub) pass(now time.Time) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, m := range h.mills {
		h.keepRun(m.tick(h.seconds(now)))
	}
	h.tell()
}

// keepRun notes a run that ended, or what turned out later of an earlier one.
func (h *Hub) keepRun(run *sensing.Run, more *later) {
	changed := false
	for i := range h.runs {
		if o := &h.runs[i]; more != nil && idOf(o.Run) == more.run && o.Mill == more.mill {
			if more.curve != nil {
				o.Cooling, changed = more.curve, true
			}
			if more.counted != nil {
				o.Counted, changed = more.counted, true
			}
		}
	}
	if run != nil {
		var fresh bool
		h.runs, fresh = noted(h.runs, *run)
		changed = changed || fresh
	}
	if changed {
		h.keepRuns()
	}
}

// SetAside says that nobody wants a run on record, and reports whether there is one.
func (h *Hub) SetAside(id int64) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if !aside(h.runs, id) {
		return false
	}
	h.keepRuns()
	h.tell()
	return true
}

// keepRuns hands the runs to the keeper.
func (h *Hub) keepRuns() {
	if h.keeper.Runs != nil {
		h.unkeptRuns = h.keeper.Runs(h.runs)
	}
}

// Linked says how the broker is reached.
func (h *Hub) Linked(link sensing.Link, why error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.link != link {
		h.since = h.now()
	}
	h.link, h.why, h.refused = link, "", errors.Is(why, errRefused)
	if why != nil {
		h.why = why.Error()
	}
	h.tell()
}

// Look is how everything is.
func (h *Hub) Look() sensing.Seen {
	now := h.now()
	h.mu.Lock()
	defer h.mu.Unlock()
	seen := sensing.Seen{Now: now, Link: h.link, Since: h.since, Why: h.why, Refused: h.refused, Runs: append([]sensing.Run(nil), h.runs...)}
	if err := cmp.Or(h.unkeptRuns, h.unkept); err != nil {
		seen.Unkept = err.Error()
	}
	on := map[string]bool{}
	for _, m := range h.mills {
		v := m.view()
		on[m.name] = v.Running
		seen.Mills = append(seen.Mills, v)
	}
	dropped := h.dropped.Load()
	for _, n := range h.sensors {
		v := n.view
		v.State, v.Dropped = n.state(h.seconds(now), on[n.Machine]), dropped
		seen.Sensors = append(seen.Sensors, v)
	}
	return seen
}

// metered are the mills whose power some sensor shows, each once, as they are before anything
// came.
func (c Config) metered() (all []sensing.Mill) {
	for _, s := range c.Sensors {
		if s.What == sensing.Power && !slices.ContainsFunc(all, func(m sensing.Mill) bool { return m.Name == s.Machine }) {
			all = append(all, sensing.Mill{Name: s.Machine, Known: trace.Known{Idle: c.Idle[s.Machine]}})
		}
	}
	return all
}

// AsSetUp is a setup as it is seen where nobody listens: every sensor waits.
func (c Config) AsSetUp(now time.Time, runs []sensing.Run) sensing.Seen {
	seen := sensing.Seen{Now: now, Runs: runs, Mills: c.metered()}
	for _, s := range c.Sensors {
		seen.Sensors = append(seen.Sensors, s.waiting())
	}
	return seen
}

// topics are those that have to be listened to.
func (c Config) topics() (all []string) {
	for _, s := range c.Sensors {
		all = append(all, s.Topic)
		if s.Alive != "" {
			all = append(all, s.Alive)
		}
	}
	return all
}
