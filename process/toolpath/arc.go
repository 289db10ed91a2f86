package toolpath

import "math"

// mostTurns of one arc; more is a damaged number.
const mostTurns = 1000

// radiusSlack: an arc whose start and end lie on circles of radii that differ by
// more than this [m] and more than a hundredth is counted in BadArc. Kramer2000
// allows 2 µm; printers' files carry two or three digits, so 50 µm: judgement.
const radiusSlack = 50e-6

// arc carries out G2 (clockwise) and G3.
func (m *machine) arc(k *block, clockwise bool) {
	if k.has&(hasF|hasOther) != 0 {
		m.words(k)
	}
	var to [3]float64
	to[0], to[1], to[2] = m.target(k)
	// a and b span the plane so that a × b points along the third axis.
	n := m.plane
	a, b := (n+1)%3, (n+2)%3
	c := curve{a: a, b: b, n: n, from: m.pos, to: to}
	if !m.centreOf(k, &c, clockwise) {
		m.warn.add(BadArc, k.line)
		m.straight(&block{line: k.line, has: k.has &^ (hasF | hasOther), v: k.v})
		return
	}
	if k.has&hasP != 0 {
		m.warn.add(ArcTurns, k.line)
		turns := math.Floor(k.v[slotP])
		if turns > mostTurns {
			m.warn.add(BadArc, k.line)
		} else if turns > 1 {
			c.sweep += math.Copysign((turns-1)*2*math.Pi, c.sweep)
		}
	}
	melt := 0.0
	if k.has&hasE != 0 {
		melt, _ = m.push(k)
	}
	m.count.Arcs++
	p := c.path()
	if melt > 0 {
		c.enlarge(&m.box)
	}
	m.pos = to
	l := m.along(k, p.length, melt, p.level)
	if m.limit.axes {
		m.limit.hold(l, &p.reach)
	}
	m.book(l)
	l.corner2 = m.turn.into(l, p.first[0], p.first[1], p.first[2])
	m.turn.out(l, p.last[0], p.last[1], p.last[2])
}

// centreOf finds centre and sweep; it reports false when there is no arc.
func (m *machine) centreOf(k *block, c *curve, clockwise bool) bool {
	offsets := [3]int{slotI, slotJ, slotK}
	ia, ib := offsets[c.a], offsets[c.b]
	switch {
	case k.has&(1<<ia|1<<ib) != 0:
		c.ca, c.cb = m.centreWord(k, ia, c.a, c.from[c.a]), m.centreWord(k, ib, c.b, c.from[c.b])
	case k.has&hasR != 0:
		if !c.byRadius(k.v[slotR]*m.unit, clockwise) {
			return false
		}
	default:
		return false
	}
	ua, ub := c.from[c.a]-c.ca, c.from[c.b]-c.cb
	va, vb := c.to[c.a]-c.ca, c.to[c.b]-c.cb
	r0, r1 := math.Hypot(ua, ub), math.Hypot(va, vb)
	if r0 == 0 || r1 == 0 {
		return false
	}
	if d := math.Abs(r1 - r0); d > radiusSlack && d > r0/100 {
		m.warn.add(BadArc, k.line)
	}
	c.r0, c.r1 = r0, r1
	c.start = math.Atan2(ub, ua)
	c.sweep = math.Atan2(ua*vb-ub*va, ua*va+ub*vb)
	// The same point again is a full turn; within rounding, so is a hair's breadth.
	if full := math.Abs(c.sweep) < 1e-9; full || (c.sweep > 0) == clockwise {
		if full {
			c.sweep = 0
		}
		if clockwise {
			c.sweep -= 2 * math.Pi
		} else {
			c.sweep += 2 * math.Pi
		}
	}
	return true
}

// centreWord is one coordinate of the centre.
func (m *machine) centreWord(k *block, slot, axis int, from float64) float64 {
	v := 0.0
	if k.has&(1<<slot) != 0 {
		v = k.v[slot] * m.unit
	} else if m.centre {
		return from
	}
	if m.centre {
		return v + m.off[axis]
	}
	return from + v
}

// curve is an arc or a helix.
type curve struct {
	a, b, n  int // axes of the plane, and the one square to it
	from, to [3]float64
	ca, cb   float64 // centre
	r0, r1   float64 // radius at start and end
	start    float64 // angle [rad]
	sweep    float64 // angle, counter-clockwise positive [rad]
}

// byRadius finds the centre from a radius: above zero the arc of at most half a
// turn, below zero the other one (Kramer2000).
func (c *curve) byRadius(r float64, clockwise bool) bool {
	da, db := c.to[c.a]-c.from[c.a], c.to[c.b]-c.from[c.b]
	chord := math.Hypot(da, db)
	if chord == 0 || r == 0 {
		return false
	}
	h2 := r*r - chord*chord/4
	if h2 < 0 {
		if chord/2-math.Abs(r) > radiusSlack {
			return false
		}
		h2 = 0
	}
	h := math.Sqrt(h2) / chord
	// The centre lies left of the chord for the short counter-clockwise arc.
	if clockwise != (r < 0) {
		h = -h
	}
	c.ca = c.from[c.a] + da/2 - db*h
	c.cb = c.from[c.b] + db/2 + da*h
	return true
}

// path is the way of one curve: its length, its direction at both ends and the
// most it goes along each axis, all three as long as the path; and whether it
// goes sideways at all.
type path struct {
	length             float64
	first, last, reach [3]float64
	level              bool
}

// path is the way along the curve: an arc of the mean radius, drawn out by the
// rise square to its plane.
func (c *curve) path() path {
	round := math.Abs(c.sweep) * (c.r0 + c.r1) / 2
	rise := c.to[c.n] - c.from[c.n]
	length := math.Hypot(round, rise)
	turn := math.Copysign(round, c.sweep)
	end := c.start + c.sweep
	var first, last, reach [3]float64
	first[c.a], first[c.b], first[c.n] = -math.Sin(c.start)*turn, math.Cos(c.start)*turn, rise
	last[c.a], last[c.b], last[c.n] = -math.Sin(end)*turn, math.Cos(end)*turn, rise
	reach[c.a], reach[c.b], reach[c.n] = round, round, rise
	return path{length, first, last, reach, c.n == 2 || c.to[0] != c.from[0] || c.to[1] != c.from[1]}
}

// enlarge takes the ends and the quarter points the curve passes into the box.
func (c *curve) enlarge(box *Box) {
	box.add(c.from[0], c.from[1], c.from[2])
	box.add(c.to[0], c.to[1], c.to[2])
	r := (c.r0 + c.r1) / 2
	lo, hi := c.start, c.start+c.sweep
	if lo > hi {
		lo, hi = hi, lo
	}
	for q := math.Ceil(lo / (math.Pi / 2)); q*math.Pi/2 <= hi && q < math.Ceil(lo/(math.Pi/2))+4; q++ {
		at := c.from
		at[c.a] = c.ca + r*math.Cos(q*math.Pi/2)
		at[c.b] = c.cb + r*math.Sin(q*math.Pi/2)
		box.add(at[0], at[1], at[2])
	}
}
