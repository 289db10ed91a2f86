package toolpath

import "math"

// lookAhead legs are planned together; half of them leave at a time. What lies
// beyond is taken to begin at rest, which only ever makes the time longer.
const lookAhead = 64

// clock works out the time with acceleration: every leg is a trapezoid of
// speed, and at a corner the velocity may jump by a stated amount.
//
// At a corner turned by φ the speed v is the same before and after, so the
// velocity jumps by 2 v sin(φ/2); with cos φ the product of the directions,
// v² ≤ jump² / (2 (1 − cos φ)). Own derivation.
type clock struct {
	jump2 float64 // [m²/s²]
	table *layers
	legs  [lookAhead]leg
	head  int     // oldest leg
	n     int     // legs waiting
	enter float64 // speed at which the oldest leg begins [m/s]
	last  [3]float64
	total float64 // [s]
}

// leg is one move on its way through the plan; squares of speed in m²/s².
type leg struct {
	length, speed, accel float64
	corner2              float64 // the most the corner before it allows
	enter2               float64 // planned
	serial               int     // layer
}

func (c *clock) start(jump float64, t *layers) { c.jump2, c.table = jump*jump, t }

// push appends a leg.
func (c *clock) push(length, speed, accel float64, first, last *[3]float64, serial int) {
	corner2 := 0.0
	if c.n > 0 {
		before := c.legs[(c.head+c.n-1)%lookAhead].speed
		corner2 = min(speed, before)
		corner2 *= corner2
		turn := 2 * (1 - (first[0]*c.last[0] + first[1]*c.last[1] + first[2]*c.last[2]))
		if turn*corner2 > c.jump2 {
			corner2 = c.jump2 / turn
		}
	}
	c.last = *last
	l := &c.legs[(c.head+c.n)%lookAhead]
	l.length, l.speed, l.accel, l.corner2, l.serial = length, speed, accel, corner2, serial
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

// wait lets time pass at rest.
func (c *clock) wait(t float64, serial int) {
	c.total += t
	c.table.pass(serial, t)
}

// drain plans all legs and times the oldest of them.
func (c *clock) drain(count int) {
	exit2 := 0.0
	for i := c.n - 1; i > 0; i-- {
		l := &c.legs[(c.head+i)%lookAhead]
		exit2 = min(l.corner2, exit2+2*l.accel*l.length)
		l.enter2 = exit2
	}
	v0 := c.enter
	for i := range count {
		l := &c.legs[(c.head+i)%lookAhead]
		v1sq := 0.0
		if i+1 < c.n {
			v1sq = min(c.legs[(c.head+i+1)%lookAhead].enter2, v0*v0+2*l.accel*l.length)
		}
		v1 := math.Sqrt(v1sq)
		c.wait(l.time(v0, v1), l.serial)
		v0 = v1
	}
	c.enter = v0
	c.head = (c.head + count) % lookAhead
	c.n -= count
}

// time of a trapezoid that begins at v0 and ends at v1.
func (l *leg) time(v0, v1 float64) float64 {
	squares := v0*v0 + v1*v1
	top2 := l.accel*l.length + squares/2
	if cruise2 := l.speed * l.speed; top2 >= cruise2 {
		ramps := (2*l.speed - v0 - v1) / l.accel
		flat := l.length - (cruise2-squares/2)/l.accel
		return ramps + flat/l.speed
	}
	return (2*math.Sqrt(top2) - v0 - v1) / l.accel
}
