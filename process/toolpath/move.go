package toolpath

import "math"

// standing2 [m²]: a way shorter than its root, a picometre, is none.
const standing2 = 1e-24

// target is where the axis words of a block lead.
func (m *machine) target(k *block) (x, y, z float64) {
	x, y, z = m.pos[0], m.pos[1], m.pos[2]
	if m.relative {
		if k.has&hasX != 0 {
			x += k.v[slotX] * m.unit
		}
		if k.has&hasY != 0 {
			y += k.v[slotY] * m.unit
		}
		if k.has&hasZ != 0 {
			z += k.v[slotZ] * m.unit
		}
		return x, y, z
	}
	if k.has&hasX != 0 {
		x = k.v[slotX]*m.unit + m.off[0]
	}
	if k.has&hasY != 0 {
		y = k.v[slotY]*m.unit + m.off[1]
	}
	if k.has&hasZ != 0 {
		z = k.v[slotZ]*m.unit + m.off[2]
	}
	return x, y, z
}

// straight carries out G0 and G1.
func (m *machine) straight(k *block) {
	if k.has&(hasF|hasOther) != 0 {
		m.words(k)
	}
	x, y, z := m.target(k)
	dx, dy, dz := x-m.pos[0], y-m.pos[1], z-m.pos[2]
	melt, way := 0.0, 0.0
	if k.has&hasE != 0 {
		melt, way = m.push(k)
	}
	l2 := dx*dx + dy*dy + dz*dz
	if l2 < standing2 {
		if way != 0 {
			m.inPlace(k, m.onTheSpot(k, melt, way), way)
		}
		return
	}
	length := math.Sqrt(l2)
	if melt > 0 {
		if !m.inLine {
			m.box.add(m.pos[0], m.pos[1], m.pos[2])
		}
		m.box.add(x, y, z)
	}
	m.pos[0], m.pos[1], m.pos[2] = x, y, z
	l := m.along(k, length, melt, dx != 0 || dy != 0)
	if m.limit.axes {
		m.limit.hold(l, &[3]float64{dx, dy, dz})
	}
	m.book(l)
	l.corner2 = m.turn.into(l, dx, dy, dz)
	m.turn.out(l, dx, dy, dz)
}

// words takes what a move carries beside axes.
func (m *machine) words(k *block) {
	m.setFeed(k)
	if k.has&hasOther != 0 {
		m.warn.add(OtherAxes, k.line)
	}
}

// along makes a leg of a path, at the wanted speed; level says that it goes sideways.
func (m *machine) along(k *block, length, melt float64, level bool) *leg {
	if !m.feedKnown {
		m.warn.add(NoFeed, k.line)
	}
	m.count.Moves++
	m.inLine = melt > 0
	accel := m.limit.travel
	if melt > 0 {
		accel = m.limit.print
		m.printLength += length
		m.ext.printed()
		if level {
			m.table.at(m.pos[2], k.line)
		}
		m.table.row.Moves++
	} else {
		m.travel += length
	}
	l := m.leg(k.line, melt)
	l.length, l.speed, l.accel = length, m.feed, accel
	return l
}

// inPlace books a move of E alone: it takes the way of E at the feed rate, and
// the axes stand still.
func (m *machine) inPlace(k *block, melt, way float64) {
	if !m.feedKnown {
		m.warn.add(NoFeed, k.line)
	}
	t := math.Abs(way) * m.unit / m.feed
	m.count.Moves++
	m.rest(k.line, t, melt)
}

// add takes a point in. Plain comparisons: nothing here is NaN, and the built-in
// min and max pay for it.
func (b *Box) add(x, y, z float64) {
	if x < b.Min[0] {
		b.Min[0] = x
	}
	if x > b.Max[0] {
		b.Max[0] = x
	}
	if y < b.Min[1] {
		b.Min[1] = y
	}
	if y > b.Max[1] {
		b.Max[1] = y
	}
	if z < b.Min[2] {
		b.Min[2] = z
	}
	if z > b.Max[2] {
		b.Max[2] = z
	}
}
