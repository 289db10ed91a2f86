// Finding the four marks of a sheet in a picture.

package grain

import (
	"cmp"
	"math"
	"slices"
)

const (
	looking      = 1600 // px, the longer side of the picture marks are looked for in
	leastMark    = 9    // px of that picture
	darkMark     = 0.65 // of the brightness around: darker than that is a mark
	mostMarks    = 9    // candidates of which four are chosen
	marksError   = 0.001
	mostBent     = 0.013 // of a mark's side, that its corners may lie off
	mostTilt     = 0.5
	crossProbes  = 40 // places along a mark's side where its edge is looked for
	trimmedSides = 0.15
)

// mark is a candidate.
type mark struct {
	corners [4]Point // turning clockwise
	middle  Point
	dotted  bool
	side    float64
}

// FindMarks looks for the four marks of a sheet.
//
//	g  the picture's luma
//
// Equation: dark squares with a light hole in their middle; straight lines through the
// half-way crossings of their sides, the corners where these meet, and the homography
// of all sixteen; ink that ran makes marks larger and is taken off.
// Holds for: a sheet that lies flat, seen within about 40° of upright, all marks in the
// picture, each at least 9 pixels wide when the longer side is brought to 1600.
// Source: own derivation; Hartley1997 for the homography.
// Errors: *Refusal Unscaled without four marks, WideAngle where their corners lie in no
// plane, Tilted.
// Checks: own derivation; TestMarks, TestRefusals.
func FindMarks(g Gray) (Standing, error) {
	k := max(1, (max(g.W, g.H)+looking-1)/looking)
	all := candidates(shrink(g, k))
	for i := range all {
		all[i] = g.refine(all[i], float64(k))
	}
	all = slices.DeleteFunc(all, func(m mark) bool { return m.side == 0 })
	if len(all) > mostMarks {
		slices.SortFunc(all, func(a, b mark) int { return cmp.Compare(b.side, a.side) })
		all = all[:mostMarks]
	}
	best, found := Standing{Off: math.Inf(1)}, false
	fours(len(all), func(pick [4]int) {
		var four [4]mark
		for i, k := range pick {
			four[i] = all[k]
		}
		if s, ok := stand(four); ok && s.Off/s.Sheet.Mark < best.Off {
			best, found = s, true
			best.Off /= s.Sheet.Mark // sheets of different size compare by share
		}
	})
	if !found {
		return Standing{}, refuse(Unscaled, float64(len(all)), 4, "")
	}
	if best.Off > mostBent {
		return best, refuse(WideAngle, best.Off, mostBent, "")
	}
	best.Off *= best.Sheet.Mark
	best.Error = marksError
	return best.levelled(best.Sheet.W, best.Sheet.H)
}

// levelled fills in field and tilt.
func (s Standing) levelled(w, h float64) (Standing, error) {
	s.Field = [4]float64{-w / 2, -h / 2, w / 2, h / 2}
	most, fewest := 0.0, math.Inf(1)
	for _, p := range []Point{{}, {-w / 2, -h / 2}, {w / 2, -h / 2}, {w / 2, h / 2}, {-w / 2, h / 2}} {
		a, b := s.scales(p)
		most, fewest = max(most, a), min(fewest, b)
	}
	s.Tilt = fewest / most
	if !(s.Tilt >= mostTilt) {
		return s, refuse(Tilted, s.Tilt, mostTilt, "")
	}
	return s, nil
}

// fours visits every four of n.
func fours(n int, visit func([4]int)) {
	for a := 0; a < n; a++ {
		for b := a + 1; b < n; b++ {
			for c := b + 1; c < n; c++ {
				for d := c + 1; d < n; d++ {
					visit([4]int{a, b, c, d})
				}
			}
		}
	}
}

// candidates are the dark squares with a light hole in their middle.
func candidates(g Gray) []mark {
	dark := darker(g)
	l := Label(g.W, g.H, func(i int) bool { return dark[i] }, true)
	var all []mark
	for k, b := range l.boxes() {
		if k == 0 || b.w() < leastMark || b.h() < leastMark || max(b.w(), b.h()) > 3*min(b.w(), b.h()) ||
			b.w() > g.W/3 || b.h() > g.H/3 || b.area*5 < b.w()*b.h() {
			continue
		}
		if m, ok := l.mark(int32(k), b); ok {
			all = append(all, m)
		}
	}
	return all
}

// darker marks pixels much darker than what is around them.
func darker(g Gray) []bool {
	w := g.W + 1
	sum := make([]uint64, w*(g.H+1))
	for y := range g.H {
		row := uint64(0)
		for x := range g.W {
			row += uint64(g.V[y*g.W+x])
			sum[(y+1)*w+x+1] = sum[y*w+x+1] + row
		}
	}
	r := max(max(g.W, g.H)/12, 8)
	out := make([]bool, len(g.V))
	for y := range g.H {
		y0, y1 := max(y-r, 0), min(y+r+1, g.H)
		for x := range g.W {
			x0, x1 := max(x-r, 0), min(x+r+1, g.W)
			mean := float64(sum[y1*w+x1]-sum[y0*w+x1]-sum[y1*w+x0]+sum[y0*w+x0]) / float64((y1-y0)*(x1-x0))
			out[y*g.W+x] = float64(g.V[y*g.W+x]) < darkMark*mean
		}
	}
	return out
}

// rim is the number of the ground around a patch laid out with a rim of it: it is met first.
const rim = 1

// mark judges one dark patch.
func (l Labels) mark(k int32, b box) (mark, bool) {
	w, h := b.w()+2, b.h()+2
	set := make([]bool, w*h)
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
			set[(y-b.y0+1)*w+x-b.x0+1] = l.L[y*l.W+x] == k
		}
	}
	holes := Label(w, h, func(i int) bool { return !set[i] }, false)
	hb := holes.boxes()
	if holes.N == rim {
		return mark{}, false
	}
	hole := rim + 1
	for i := hole; i <= holes.N; i++ {
		if hb[i].area > hb[hole].area {
			hole = i
		}
	}
	full := float64(w*h - hb[rim].area)
	inner := float64(hb[hole].area)
	if s := inner / full; s < 0.08 || s > 0.5 {
		return mark{}, false
	}
	var corners []Point
	var mid, holeMid Point
	for i, q := range holes.L {
		p := Point{float64(i%w) + 0.5, float64(i/w) + 0.5}
		if q != rim {
			mid = mid.plus(p.times(1 / full))
			corners = append(corners, p)
		}
		if int(q) == hole {
			holeMid = holeMid.plus(p.times(1 / inner))
		}
	}
	if mid.to(holeMid) > 0.1*math.Sqrt(full) {
		return mark{}, false
	}
	q, ok := fourCorners(Hull(corners))
	if !ok || areaOf(q[:]) < 0.75*full || areaOf(q[:]) > 1.1*full || solidity(corners, full) < 0.88 {
		return mark{}, false
	}
	off := Point{float64(b.x0 - 1), float64(b.y0 - 1)}
	m := mark{middle: mid.plus(off), dotted: l.dot(b, hb[hole], set, w), side: math.Sqrt(full)}
	for i := range q {
		m.corners[i] = q[i].plus(off)
	}
	return m, true
}

func solidity(points []Point, area float64) float64 { return area / math.Max(areaOf(Hull(points)), 1) }

// dot reports whether something dark stands in the middle of a mark's hole: the
// hole then has less of its own than its box holds. What is looked at never leaves the mark.
func (l Labels) dot(b, hole box, set []bool, w int) bool {
	dark := 0
	cx, cy := (hole.x0+hole.x1)/2, (hole.y0+hole.y1)/2
	r := max(1, min(hole.w(), hole.h())/4)
	n := 0
	for y := cy - r; y <= cy+r; y++ {
		for x := cx - r; x <= cx+r; x++ {
			n++
			if l.L[(y+b.y0-1)*l.W+x+b.x0-1] != 0 && !set[y*w+x] {
				dark++
			}
		}
	}
	return float64(dark) > 0.2*float64(n)
}

// fourCorners picks the corners of a quadrilateral from a hull: the two farthest
// apart, and on either side of them the farthest from their line. In a picture, whose y
// runs down, they run clockwise, for b lies left of the way from a to c.
func fourCorners(hull []Point) ([4]Point, bool) {
	if len(hull) < 4 {
		return [4]Point{}, false
	}
	var a, c int
	for i := range hull {
		for j := i + 1; j < len(hull); j++ {
			if hull[i].to(hull[j]) > hull[a].to(hull[c]) {
				a, c = i, j
			}
		}
	}
	b, d, left, right := -1, -1, 0.0, 0.0
	for i := range hull {
		switch t := turn(hull[a], hull[c], hull[i]); {
		case t < left:
			left, b = t, i
		case t > right:
			right, d = t, i
		}
	}
	if b < 0 || d < 0 {
		return [4]Point{}, false
	}
	return [4]Point{hull[a], hull[b], hull[c], hull[d]}, true
}

// refine brings a mark from a picture k times smaller into the large one and puts
// its corners where its sides meet.
func (g Gray) refine(m mark, k float64) mark {
	for i := range m.corners {
		m.corners[i] = m.corners[i].times(k)
	}
	m.middle, m.side = m.middle.times(k), m.side*k
	lines := [4][2]Point{}
	for i := range 4 {
		a, b := m.corners[i], m.corners[(i+1)%4]
		line, ok := g.side(a, b, m.middle)
		if !ok {
			m.side = 0
			return m
		}
		lines[i] = line
	}
	for i := range 4 {
		p, ok := meet(lines[(i+3)%4], lines[i])
		if !ok || p.to(m.corners[i]) > 0.3*m.side {
			m.side = 0
			return m
		}
		m.corners[i] = p
	}
	if p, ok := meet([2]Point{m.corners[0], m.corners[2]}, [2]Point{m.corners[1], m.corners[3]}); ok {
		m.middle = p
	}
	return m
}

// side finds the straight edge of a dark patch near the line from a to b.
func (g Gray) side(a, b, inside Point) ([2]Point, bool) {
	along := b.minus(a)
	n := along.length()
	if n < 4 {
		return [2]Point{}, false
	}
	return g.edgeBy(a, b, max(0.3*along.cross(inside.minus(a))/n, 3), crossProbes) // within the ring, however foreshortened
}

// edgeBy is the edge where brightness rises outwards, looked for within reach of the way from a to b with so many
// probes, half of which have to find it. What is dark lies right of that way, which runs clockwise round it.
func (g Gray) edgeBy(a, b Point, reach float64, probes int) ([2]Point, bool) {
	along := b.minus(a)
	out := Point{along.Y, -along.X}.times(1 / along.length())
	var found []Point
	for i := range probes {
		at := between(a, b, trimmedSides+(1-2*trimmedSides)*(float64(i)+0.5)/float64(probes))
		if p, ok := g.crossing(at, out, reach); ok {
			found = append(found, p)
		}
	}
	return lineThrough(found, probes/2)
}

// crossing is where brightness rises half way from dark to light along a direction,
// within reach of a place.
func (g Gray) crossing(at, out Point, reach float64) (Point, bool) {
	const steps = 48
	var v [steps + 1]float64
	for i := range v {
		s := (2*float64(i)/steps - 1) * reach
		light, ok := g.light(at.X+s*out.X, at.Y+s*out.Y)
		if !ok {
			return Point{}, false
		}
		v[i] = light
	}
	const end = steps / 8
	dark, light := 0.0, 0.0
	for i := range end {
		dark += v[i] / end
		light += v[steps-i] / end
	}
	if light-dark < 0.08 {
		return Point{}, false
	}
	half := (dark + light) / 2
	for i := range steps {
		if v[i] <= half && v[i+1] > half {
			s := (2*(float64(i)+(half-v[i])/(v[i+1]-v[i]))/steps - 1) * reach
			return at.plus(out.times(s)), true
		}
	}
	return Point{}, false
}

// lineThrough fits a line to points, leaving out those far from it, and gives two
// points on it.
func lineThrough(all []Point, fewest int) ([2]Point, bool) {
	for range 3 {
		if len(all) < fewest {
			return [2]Point{}, false
		}
		mid, dir := axis(all)
		off := make([]float64, len(all))
		for i, p := range all {
			off[i] = math.Abs(dir.cross(p.minus(mid)))
		}
		sorted := slices.Clone(off)
		slices.Sort(sorted)
		limit := math.Max(3*spreadOfMAD*sorted[len(sorted)/2], 0.05)
		kept := all[:0:0]
		for i, p := range all {
			if off[i] <= limit {
				kept = append(kept, p)
			}
		}
		if len(kept) == len(all) {
			return [2]Point{mid, mid.plus(dir.times(100))}, true
		}
		all = kept
	}
	mid, dir := axis(all)
	return [2]Point{mid, mid.plus(dir.times(100))}, len(all) >= fewest
}

// axis is the middle of points and the direction in which they lie.
func axis(all []Point) (mid, dir Point) {
	for _, p := range all {
		mid = mid.plus(p.times(1 / float64(len(all))))
	}
	var xx, xy, yy float64
	for _, p := range all {
		d := p.minus(mid)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	angle := 0.5 * math.Atan2(2*xy, xx-yy)
	return mid, Point{math.Cos(angle), math.Sin(angle)}
}

// meet is where two lines cross.
func meet(a, b [2]Point) (Point, bool) {
	u, v := a[1].minus(a[0]), b[1].minus(b[0])
	d := u.cross(v)
	if math.Abs(d) < 1e-9*u.length()*v.length() {
		return Point{}, false
	}
	t := b[0].minus(a[0]).cross(v) / d
	return between(a[0], a[1], t), true
}
