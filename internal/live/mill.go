package live

import (
	"math"

	"hopperful/plan/sensing"
	"hopperful/process/trace"
)

// What of the time around a run belongs to it. Judgement.
const (
	beforeRun   = 120.0  // s, a temperature that old still holds at the start
	afterRun    = 60.0   // s, at the stop
	coolsFor    = 3600.0 // s
	coolStep    = 10.0
	mostMinute  = 64
	mostWalls   = 32
	mostEvents  = 32
	mostCooling = 360
	minuteSpan  = 60.0
	countsFor   = 600.0 // s
)

// mill follows one machine that has a power sensor.
type mill struct {
	name     string
	follower *trace.Follower
	minute   []trace.Reading
	walls    []trace.Reading // latest temperatures of the wall
	events   []trace.Event

	latest   map[sensing.What]trace.Reading
	atStart  map[sensing.What]trace.Reading
	loudest  float64
	lastStop float64 // [s]; 0: none seen

	counts int64    // idOf the run whose counter is still awaited; 0: none
	from   *float64 // what it showed before

	cooling []trace.Reading // of the wall since the last stop
	cools   int64           // idOf the run that it belongs to; 0: none
}

func newMill(name string, known trace.Known) *mill {
	f, err := trace.NewFollower(known)
	if err != nil { // what was believed of it cannot be: begin anew
		f, _ = trace.NewFollower(trace.Known{})
	}
	return &mill{name: name, follower: f, latest: map[sensing.What]trace.Reading{}}
}

// take gives it a reading and returns the run that ended with it, nil for none.
func (m *mill) take(what sensing.What, r trace.Reading) (*sensing.Run, *later) {
	m.latest[what] = r
	switch what {
	case sensing.Power:
		events, err := m.follower.Add(r)
		if err != nil {
			return nil, nil
		}
		m.minute = append(m.minute, r)
		keep := 0
		for keep < len(m.minute) && (m.minute[keep].At < r.At-minuteSpan || len(m.minute)-keep > mostMinute) {
			keep++
		}
		m.minute = append(m.minute[:0], m.minute[keep:]...)
		return m.saw(events)
	case sensing.Sound:
		if _, on := m.follower.Running(); on {
			m.loudest = math.Max(m.loudest, r.Value)
		}
	case sensing.Wall:
		if m.walls = append(m.walls, r); len(m.walls) > mostWalls {
			m.walls = append(m.walls[:0], m.walls[1:]...)
		}
		return nil, m.cool(r)
	case sensing.Energy:
		return nil, m.count(r)
	}
	return nil, nil
}

// count takes what the meter's own counter shows once the mill stands again.
func (m *mill) count(r trace.Reading) *later {
	if _, on := m.follower.Running(); on || m.counts == 0 || r.At <= m.lastStop {
		return nil
	}
	id, counted := m.counts, r.Value-*m.from
	m.counts = 0
	if counted < 0 || r.At-m.lastStop > countsFor {
		return nil
	}
	return &later{run: id, mill: m.name, counted: &counted}
}

// tick lets time pass.
func (m *mill) tick(now float64) (*sensing.Run, *later) { return m.saw(m.follower.Tick(now)) }

// saw keeps what the follower said.
func (m *mill) saw(events []trace.Event) (run *sensing.Run, done *later) {
	for _, e := range events {
		if e.What == trace.Started {
			done = m.cooledDown()
			m.events, m.loudest, m.atStart = nil, 0, map[sensing.What]trace.Reading{}
			for what, r := range m.latest {
				m.atStart[what] = r
			}
		}
		if len(m.events) < mostEvents {
			m.events = append(m.events, e)
		}
		if e.Run != nil {
			run = m.ended(*e.Run)
		}
	}
	return run, done
}

// idOf is the number of a run of one mill; where two mills started in the same second, one
// of them is listed under the next that is free.
func idOf(r trace.Run) int64 { return int64(r.Start.At) }

// ended is the run with what the other sensors showed around it.
func (m *mill) ended(r trace.Run) *sensing.Run {
	out := &sensing.Run{ID: idOf(r), Mill: m.name, Run: r}
	near := func(from map[sensing.What]trace.Reading, what sensing.What, at, within float64) *float64 {
		if x, ok := from[what]; ok && math.Abs(at-x.At) <= within {
			v := x.Value
			return &v
		}
		return nil
	}
	out.WallBefore = near(m.atStart, sensing.Wall, r.Start.At, beforeRun)
	out.WallAfter = m.wallAt(r.Stop.At)
	out.RoomAt = near(m.latest, sensing.Room, r.Stop.At, 3600)
	out.Damp = near(m.latest, sensing.Humidity, r.Stop.At, 3600)
	if m.loudest > 0 {
		loud := m.loudest
		out.Loud = &loud
	}
	if m.lastStop > 0 && r.Start.At > m.lastStop {
		rest := r.Start.At - m.lastStop
		out.Rest = &rest
	}
	m.counts, m.from = 0, nil
	if x, ok := m.atStart[sensing.Energy]; ok && x.At >= m.lastStop && r.Start.At-x.At < 24*3600 { // it did not run since
		m.counts, m.from = out.ID, &x.Value
	}
	m.lastStop, m.cools, m.cooling = r.Stop.At, out.ID, nil
	if r.Lost {
		m.lastStop, m.cools = 0, 0
	}
	return out
}

// wallAt is the wall's temperature nearest to a moment, nil where none was read near it.
func (m *mill) wallAt(at float64) *float64 {
	nearest := afterRun
	var v *float64
	for _, x := range m.walls {
		if gap := math.Abs(x.At - at); gap <= nearest {
			nearest, v = gap, &x.Value
		}
	}
	return v
}

// later is what turns out of a run when it is over.
type later struct {
	run     int64 // idOf it
	mill    string
	curve   *trace.Cooling
	counted *float64
}

// cool takes a temperature of the wall after a run.
func (m *mill) cool(r trace.Reading) *later {
	if _, on := m.follower.Running(); on || m.cools == 0 {
		return nil
	}
	if r.At-m.lastStop > coolsFor {
		return m.cooledDown()
	}
	if n := len(m.cooling); n == 0 || r.At-m.cooling[n-1].At >= coolStep {
		if n < mostCooling {
			m.cooling = append(m.cooling, r)
		}
	}
	return nil
}

// cooledDown is the curve, nil where none can be fitted; it is looked at once.
func (m *mill) cooledDown() *later {
	id, curve := m.cools, m.cooling
	m.cools, m.cooling = 0, nil
	room, ok := m.latest[sensing.Room]
	if id == 0 || !ok || len(curve) == 0 {
		return nil
	}
	c, err := trace.Cool(curve, room.Value)
	if err != nil {
		return nil
	}
	return &later{run: id, mill: m.name, curve: &c}
}

// view is the mill as it is.
func (m *mill) view() sensing.Mill {
	v := sensing.Mill{Name: m.name, Known: m.follower.Known(), Events: append([]trace.Event(nil), m.events...), Minute: append([]trace.Reading(nil), m.minute...)}
	v.Run, v.Running = m.follower.Sofar()
	return v
}
