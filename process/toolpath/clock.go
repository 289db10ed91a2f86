package toolpath

import "math"

// lookAhead legs are planned together; half of them leave at a time. What lies
// beyond is taken to begin at rest, which only ever makes the time longer. A
// power of two, so that a place in the ring is found by a mask.
const lookAhead = 64

// clock works out what depends on time. With acceleration, every leg is a
// trapezoid of speed, entered no faster than the corner before it and the
// braking for what follows allow; by feed rate alone, legs make the flow whose
// peak is sought. It runs beside the machine.
type clock struct {
	legs  [lookAhead]leg
	head  int     // oldest leg
	n     int     // legs waiting
	enter float64 // speed at which the oldest leg begins [m/s]

	speed, accel       float64 // of the newest leg
	perSpeed, perAccel float64 // their inverses: they seldom change

	flow  window
	table timeTable
}

func newClock(o Options) *clock {
	c := &clock{table: timeTable{most: o.MaxLayers, peakSerial: -1}}
	c.flow.begin(o.Window)
	return c
}

// leg is one move, or a stop when its length is 0.
type leg struct {
	length, speed, accel float64
	corner2              float64 // the most the corner before it allows, squared [m²/s²]
	enter2               float64 // the same when braking for what follows is planned too
	t                    float64 // by feed rate; of a stop, the wait [s]
	melt                 float64 // [m³]
	line                 int64
	serial               int // layer
}

// legBatch is how legs travel from the machine to the clock.
type legBatch struct {
	legs [batchSize]leg
	n    int
}

// do takes a batch of legs.
func (c *clock) do(b *legBatch) {
	for i := range b.legs[:b.n] {
		l := &b.legs[i]
		row := c.table.row(l.serial)
		if v := c.flow.add(l.t, l.melt, row.peak); v > 0 {
			row.peak = v
			c.table.note(v, l)
		}
		if l.length > 0 {
			c.push(l)
			continue
		}
		c.stop()
		c.table.add(l.serial, l.t)
	}
}

// push appends a leg.
func (c *clock) push(l *leg) {
	at := &c.legs[(c.head+c.n)&(lookAhead-1)]
	at.length, at.speed, at.accel, at.corner2, at.serial = l.length, l.speed, l.accel, l.corner2, l.serial
	c.n++
	if c.n == lookAhead {
		c.drain(lookAhead / 2)
	}
}

// stop lets the machine come to rest.
func (c *clock) stop() {
	if c.n > 0 {
		c.drain(c.n)
	}
}

// drain plans all legs and times the oldest of them.
func (c *clock) drain(count int) {
	c.plan()
	v0, v0sq := c.enter, c.enter*c.enter
	serial, sum := c.legs[c.head].serial, 0.0
	for i := range count {
		l := &c.legs[(c.head+i)&(lookAhead-1)]
		v1sq := 0.0
		if i+1 < c.n {
			v1sq = v0sq + 2*l.accel*l.length
			if most := c.legs[(c.head+i+1)&(lookAhead-1)].enter2; v1sq > most {
				v1sq = most
			}
		}
		v1 := math.Sqrt(v1sq)
		if l.serial != serial {
			c.table.add(serial, sum)
			serial, sum = l.serial, 0
		}
		if l.speed != c.speed || l.accel != c.accel {
			c.speed, c.accel, c.perSpeed, c.perAccel = l.speed, l.accel, 1/l.speed, 1/l.accel
		}
		// Without a branch on whether the wanted speed is reached, for that is a
		// toss-up in most prints: below it, nothing is left to cruise.
		half := (v0sq + v1sq) / 2
		top2 := min(l.accel*l.length+half, l.speed*l.speed)
		flat := max(0, l.length-(top2-half)*c.perAccel)
		sum += (2*math.Sqrt(top2)-v0-v1)*c.perAccel + flat*c.perSpeed
		v0, v0sq = v1, v1sq
	}
	c.table.add(serial, sum)
	c.enter = v0
	c.head = (c.head + count) & (lookAhead - 1)
	c.n -= count
}

// plan finds, from the newest leg back, how fast each may be entered so that
// braking for what follows still succeeds.
func (c *clock) plan() {
	exit2 := 0.0
	for i := c.n - 1; i > 0; i-- {
		l := &c.legs[(c.head+i)&(lookAhead-1)]
		if exit2 += 2 * l.accel * l.length; exit2 > l.corner2 {
			exit2 = l.corner2
		}
		l.enter2 = exit2
	}
}
