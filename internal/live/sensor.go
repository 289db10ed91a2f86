package live

import (
	"errors"
	"math"
	"slices"
	"time"

	"hopperful/plan/sensing"
	"hopperful/process/trace"
)

// When a sensor is thought silent or frozen. Judgement; a meter that reports on change
// only is quiet for minutes while nothing runs.
const (
	leastSilence   = 5 * time.Minute
	silentGaps     = 10
	frozenFor      = 60.0 // s
	frozenReadings = 20
	frozenWall     = 300.0 // s, a wall while the mill runs
	recentSpan     = 1800.0
	recentStep     = 5.0 // s between the readings kept of the last half hour
	keepStep       = 0.5 // s between readings in the ring
	keepSame       = 60.0
	mostSkews      = 15
)

// sensor is what is known of one of them.
type sensor struct {
	Sensor
	key       uint32
	scale     scaling
	path      []step
	timePath  []step
	view      sensing.Sensor
	last      trace.Reading // taken
	any       bool
	same      int     // readings on end with the same value, since
	sameSince float64 // [s]
	gap       float64 // usual, a running mean [s]
	kept      trace.Reading
	keptAny   bool
	own       time.Time // latest of its own times
	skews     []float64
	gone      bool
}

// waiting is a sensor from which nothing came yet.
func (s Sensor) waiting() sensing.Sensor {
	return sensing.Sensor{Name: s.Name, Machine: s.Machine, Topic: s.Topic, What: s.What, State: sensing.Waiting}
}

func newSensor(s Sensor) (*sensor, error) {
	n := &sensor{Sensor: s, key: SensorKey(s.Name), view: s.waiting()}
	var err error
	if n.scale, err = s.scale(); err != nil {
		return nil, err
	}
	if n.path, err = parsePath(s.Path); err != nil {
		return nil, err
	}
	n.timePath, err = parsePath(s.TimePath)
	return n, err
}

// read turns a message into a reading, false where there is none in it. v is the payload as
// JSON, nil where it is none.
func (n *sensor) read(m Message, v any, bad error, now float64) (trace.Reading, bool) {
	number, err := 0.0, bad
	switch {
	case len(m.Payload) > mostPayload:
		err = errTooLong
	case len(n.path) == 0:
		number, err = parseNumber(trimmed(m.Payload))
	case err == nil:
		var found any
		if found, err = at(v, n.path); err == nil {
			number, err = numberOf(found)
		}
	}
	if err == errAbsent {
		return trace.Reading{}, false
	}
	lo, hi := n.What.Bounds()
	si := n.scale.si(number)
	if err == nil && !(si >= lo && si <= hi) {
		err = errOutside
	}
	if err != nil {
		n.view.Unread++
		n.view.Fault = sensing.NoJSON
		if u := unread(""); errors.As(err, &u) {
			n.view.Fault = sensing.Fault(u)
		}
		return trace.Reading{}, false
	}
	if len(n.timePath) > 0 && v != nil && !n.inOrder(m, v, si) {
		return trace.Reading{}, false
	}
	if m.Again && n.any && n.last.Value == si {
		n.view.Repeated++
		return trace.Reading{}, false
	}
	n.gone = false
	return trace.Reading{At: now, Value: si}, true
}

// inOrder looks at the sensor's own clock: a message with the same time is a repetition, one
// from before came late. Arrival is what counts otherwise, however wrong that clock is.
func (n *sensor) inOrder(m Message, v any, si float64) bool {
	found, err := at(v, n.timePath)
	if err != nil {
		return true
	}
	own, ok := timeOf(found, m.At.Location())
	if !ok {
		return true
	}
	skew := m.At.Sub(own).Seconds()
	if !n.own.IsZero() {
		back := n.own.Sub(own)
		switch {
		case back == 0 && (own.Nanosecond() != 0 || n.any && n.last.Value == si): // many clocks show whole seconds only
			n.view.Repeated++
			return false
		case back > 0 && back < 10*time.Minute: // further back it was set anew
			n.view.Late++
			return false
		}
	}
	n.own = own
	n.skews = append(n.skews, skew)
	if len(n.skews) > mostSkews {
		n.skews = n.skews[1:]
	}
	sorted := slices.Sorted(slices.Values(n.skews))
	n.view.Skew = sorted[len(sorted)/2]
	return true
}

// take keeps a reading in mind.
func (n *sensor) take(r trace.Reading, at time.Time) {
	if n.any {
		if gap := r.At - n.last.At; gap > 0 && gap < 3600 {
			if n.gap == 0 {
				n.gap = gap
			}
			n.gap += (gap - n.gap) / 10
		}
	}
	if n.any && r.Value == n.last.Value {
		n.same++
	} else {
		n.same, n.sameSince = 1, r.At
	}
	n.last, n.any = r, true
	value := r.Value
	n.view.Value, n.view.At = &value, at
	n.view.Taken++
	recent := n.view.Recent
	if k := len(recent); k == 0 || r.At-recent[k-1].At >= recentStep {
		keep := 0
		for keep < len(recent) && recent[keep].At < r.At-recentSpan {
			keep++
		}
		n.view.Recent = append(slices.Clone(recent[keep:]), r) // those who look hold the old one
	}
}

// worth are the readings that the ring shall have now: not more than two a second, one that
// says the same again only every minute, and the last of those before the value changes.
func (n *sensor) worth(before, r trace.Reading) (all []trace.Reading) {
	if n.keptAny && (r.At-n.kept.At < keepStep || r.Value == n.kept.Value && r.At-n.kept.At < keepSame) {
		return nil
	}
	if n.keptAny && before.Value == n.kept.Value && before.At > n.kept.At && before.At < r.At {
		all = append(all, before)
	}
	n.kept, n.keptAny = r, true
	return append(all, r)
}

// state is how it is at a moment; running says that its mill is.
func (n *sensor) state(now float64, running bool) sensing.State {
	stuck := n.same >= frozenReadings && n.last.At-n.sameSince >= frozenFor
	switch {
	case n.gone:
		return sensing.Offline
	case !n.any:
		return sensing.Waiting
	case now-n.last.At > math.Max(leastSilence.Seconds(), silentGaps*n.gap):
		return sensing.Silent
	case stuck && n.What == sensing.Power && n.last.Value >= 5,
		stuck && n.What == sensing.Sound && running,
		stuck && n.What == sensing.Wall && running && n.last.At-n.sameSince >= frozenWall:
		return sensing.Frozen
	}
	return sensing.Fresh
}

func trimmed(b []byte) string {
	for len(b) > 0 && (b[0] <= ' ' || b[0] == '"') {
		b = b[1:]
	}
	for len(b) > 0 && (b[len(b)-1] <= ' ' || b[len(b)-1] == '"') {
		b = b[:len(b)-1]
	}
	return string(b[:min(len(b), 64)])
}
