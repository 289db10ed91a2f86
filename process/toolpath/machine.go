package toolpath

import "math"

// inch in metres, exact by definition.
const inch = 0.0254

// machine carries out blocks and adds up. Positions are machine coordinates in
// metres; what G92 shifts is kept apart, so that layers and the box do not jump.
type machine struct {
	opt  Options
	warn warnings

	pos, off [3]float64 // position, and machine minus programmed coordinate
	unit     float64    // metres in a length word
	relative bool       // G91
	centre   bool       // arc centres absolute, G90.1
	plane    int        // axis square to the arc plane: 2 is G17, 1 is G18, 0 is G19
	motion   int32      // motion in force, ten times the G number; -1 none

	feed       float64 // wanted speed along the path [m/s], with feedFactor
	inLine     bool    // the last move extruded: the box holds its end
	feedWord   float64 // last F [m/s]
	feedFactor float64 // M220
	feedKnown  bool

	ext   extruder
	limit limits
	turn  corner
	table layers

	legs *legBatch // where the legs of the batch at hand go

	box         Box
	count       Count
	time        float64 // by feed rate [s]
	extruding   float64 // part of it with melt flowing [s]
	printLength float64
	travel      float64
	bed         float64
	loaded      float64 // pushed to the nozzle after a tool change, not printed [m³]
	finished    bool
}

func newMachine(o Options) *machine {
	m := &machine{opt: o, unit: 1e-3, plane: 2, motion: -1, feedFactor: 1, feed: o.Feed, feedWord: o.Feed}
	m.ext.start(o)
	m.table.begin(o.MaxLayers)
	m.turn.jump2 = o.Jump * o.Jump
	m.limit.start(o.Acceleration)
	for i := range 3 {
		m.box.Min[i], m.box.Max[i] = math.Inf(1), math.Inf(-1)
	}
	return m
}

// do carries out a batch; each block gives at most one leg.
func (m *machine) do(b *batch, legs *legBatch) {
	m.legs, legs.n = legs, 0
	for i := range b.blocks[:b.n] {
		k := &b.blocks[i]
		if k.op == opG && k.code <= 10 && !m.finished {
			m.motion = k.code
			m.straight(k)
			continue
		}
		m.step(k)
	}
}

// step carries out any block.
func (m *machine) step(k *block) {
	if m.finished {
		m.warn.add(AfterEnd, k.line)
		return
	}
	switch k.op {
	case opG:
		m.doG(k)
	case opM:
		m.doM(k)
	case opTool:
		m.selectTool(k)
	case opFinish:
		m.rest(k.line, 0, 0)
		m.finished = true
	case opModal:
		switch {
		case k.has&(hasXYZ|hasE|hasI|hasJ|hasK) == 0:
			m.setFeed(k)
		case m.motion < 0:
			m.warn.add(NoMotion, k.line)
		default:
			m.move(k)
		}
	}
}

// move carries out the motion in force.
func (m *machine) move(k *block) {
	switch m.motion {
	case 20, 30:
		m.arc(k, m.motion == 20)
	default:
		m.straight(k)
	}
}

// setFeed takes an F word.
func (m *machine) setFeed(k *block) {
	if k.has&hasF == 0 {
		return
	}
	if k.v[slotF] <= 0 {
		m.warn.add(BadFeed, k.line)
		return
	}
	m.feedKnown = true
	m.feedWord = k.v[slotF] * m.unit / 60
	m.feed = m.feedWord * m.feedFactor
}

// leg gives the clock a leg in which melt leaves; the caller fills in the motion.
func (m *machine) leg(line int64, melt float64) *leg {
	l := &m.legs.legs[m.legs.n&(batchSize-1)]
	m.legs.n++
	l.melt, l.line, l.serial = melt, line, m.table.serial
	return l
}

// book adds up the time of a leg by feed rate.
func (m *machine) book(l *leg) {
	l.t = l.length / l.speed
	m.pass(l.t, l.melt)
}

// pass adds up t seconds by feed rate in which melt leaves.
func (m *machine) pass(t, melt float64) {
	m.time += t
	if melt > 0 {
		m.extruding += t
		m.ext.tools[m.ext.at].time += t
		m.table.row.Volume += melt
	}
}

// rest lets the machine come to a stop and wait t seconds, in which melt leaves.
func (m *machine) rest(line int64, t, melt float64) {
	m.turn.moving = false
	m.pass(t, melt)
	l := m.leg(line, melt)
	l.t, l.length = t, 0
}
