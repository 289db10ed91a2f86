package toolpath

import "math"

// lookAhead legs are planned together; half of them leave at a time. What lies
// beyond is taken to begin at rest, which only ever makes the time longer. A
// power of two, so that a place in the ring is found by a mask.
const lookAhead = 64

// clock works out the time with acceleration: every leg is a trapezoid of
// speed, entered no faster than the corner before it and the braking for what
// follows allow. It runs beside the machine.
type clock struct {
	legs  [lookAhead]leg
	head  int     // oldest leg
	n     int     // legs waiting
	enter float64 // speed at which the oldest leg begins [m/s]

	speed, accel       float64 // of the newest leg
	perSpeed, perAccel float64 // their inverses: they seldom change

	times layerTimes
}

func newClock(o Options) *clock {
	return &clock{times: layerTimes{most: o.MaxLayers}}
}

// leg is one move, or a stop when its length is 0.
type leg struct {
	length, speed, accel float64
	corner2              float64 // the most the corner before it allows, squared [m²/s²]
	enter2               float64 // the same when braking for what follows is planned too
	wait                 float64 // at rest, of a stop [s]
	serial               int     // layer
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
		if l.length > 0 {
			c.push(l)
			continue
		}
		c.stop()
		c.times.add(l.serial, l.wait)
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
			v1sq = min(c.legs[(c.head+i+1)&(lookAhead-1)].enter2, v0sq+2*l.accel*l.length)
		}
		v1 := math.Sqrt(v1sq)
		if l.serial != serial {
			c.times.add(serial, sum)
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
	c.times.add(serial, sum)
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
		exit2 = min(l.corner2, exit2+2*l.accel*l.length)
		l.enter2 = exit2
	}
}

// layerTimes adds up time by layer with the bound and the merging of [layers].
type layerTimes struct {
	rows  []float64 // [s]
	most  int
	shift uint
	start float64 // before the first layer [s]
	total float64 // [s]
}

// add books time to a layer.
func (l *layerTimes) add(serial int, t float64) {
	l.total += t
	if serial < 0 {
		l.start += t
		return
	}
	if serial>>l.shift >= l.most {
		l.halve()
	}
	for len(l.rows) <= serial>>l.shift {
		l.rows = append(l.rows, 0)
	}
	l.rows[serial>>l.shift] += t
}

// halve merges rows in pairs.
func (l *layerTimes) halve() {
	half := (len(l.rows) + 1) / 2
	for i := range half {
		t := l.rows[2*i]
		if 2*i+1 < len(l.rows) {
			t += l.rows[2*i+1]
		}
		l.rows[i] = t
	}
	l.rows = l.rows[:half]
	l.shift++
}
