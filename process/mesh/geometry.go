// Volume, area and box of a stream of facets.

package mesh

import "math"

// point is a place in metres, or in file units before scaling.
type point [3]float64

func (a point) minus(b point) point { return point{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func (a point) cross(b point) point {
	return point{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func (a point) dot(b point) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a point) norm() float64 { return math.Sqrt(a.dot(a)) }

func (a point) bounded() bool {
	for _, v := range a {
		// Written so that a NaN fails it.
		if !(math.Abs(v) <= maxCoordinate) {
			return false
		}
	}
	return true
}

// sum adds with Neumaier's correction, so that a million small facets lose
// nothing against a large total.
type sum struct{ value, lost float64 }

func (s *sum) add(x float64) {
	t := s.value + x
	if math.Abs(s.value) >= math.Abs(x) {
		s.lost += (s.value - t) + x
	} else {
		s.lost += (x - t) + s.value
	}
	s.value = t
}

func (s sum) total() float64 { return s.value + s.lost }

// geometry gathers facets. Volumes are reckoned from the first vertex and not
// from the file's origin: a part far out on the bed would otherwise drown in
// the difference of large cones.
type geometry struct {
	origin       point
	volume, area sum // six times the volume, twice the area
	min, max     point
	facets       int
	degenerate   int
}

// sliver is the height of a facet over its longest edge below which it counts
// as having no area; far below what single-precision vertices can tell (judgement).
const sliver = 1e-9

// add takes one facet and returns six times the volume of the tetrahedron it
// spans with the origin.
func (g *geometry) add(a, b, c point) float64 {
	if g.facets == 0 {
		g.origin, g.min, g.max = a, a, a
	}
	g.facets++
	g.hold(&a)
	g.hold(&b)
	g.hold(&c)
	ab, ac, bc := b.minus(a), c.minus(a), c.minus(b)
	n := ab.cross(ac)
	double := n.norm()
	if double <= sliver*max(ab.dot(ab), ac.dot(ac), bc.dot(bc)) {
		g.degenerate++
	}
	six := a.minus(g.origin).dot(n)
	g.volume.add(six)
	g.area.add(double)
	return six
}

// hold widens the box to a point. Plain comparisons: nothing here is NaN, and the
// built-in min and max pay for it.
func (g *geometry) hold(p *point) {
	for i, v := range p {
		if v < g.min[i] {
			g.min[i] = v
		}
		if v > g.max[i] {
			g.max[i] = v
		}
	}
}
