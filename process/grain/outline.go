// The edge of a grain, finer than pixels: its width, its length, its outline.

package grain

import (
	"cmp"
	"math"
	"slices"
)

// Point is a place in a picture [px] or on a sheet [m].
type Point struct{ X, Y float64 }

func (p Point) minus(q Point) Point   { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }
func (p Point) dot(q Point) float64   { return p.X*q.X + p.Y*q.Y }
func (p Point) length() float64       { return math.Hypot(p.X, p.Y) }
func (p Point) plus(q Point) Point    { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) times(f float64) Point { return Point{p.X * f, p.Y * f} }
func (p Point) to(q Point) float64    { return q.minus(p).length() }
func turn(a, b, c Point) float64      { return b.minus(a).cross(c.minus(a)) }
func between(a, b Point, t float64) Point {
	return Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)}
}

// Hull returns the corners of the convex hull of points, in turning order
// without any that lie on its sides.
//
//	points  any number, in any order [any length]; they are sorted in place
//
// Equation: the chains from left to right and back that turn only one way.
// Holds for: any points; fewer than three corners for points in a line.
// Source: own derivation, Andrew's chains, from memory.
// Errors: none.
// Checks: own derivation; TestHull.
func Hull(points []Point) []Point {
	slices.SortFunc(points, func(a, b Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	points = slices.Compact(points)
	if len(points) < 3 {
		return slices.Clone(points)
	}
	hull := make([]Point, 0, 32)
	for _, back := range [2]bool{false, true} {
		start := len(hull)
		for k := range points {
			p := points[k]
			if back {
				p = points[len(points)-1-k]
			}
			for len(hull) >= start+2 && turn(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		hull = hull[:len(hull)-1] // the end of one chain starts the other
	}
	return hull
}

// areaOf is the area of a polygon.
func areaOf(p []Point) float64 {
	sum := 0.0
	for i := range p {
		sum += p[i].cross(p[(i+1)%len(p)])
	}
	return math.Abs(sum) / 2
}

// Calipers returns the least distance between two parallel lines that hold the
// points between them, and the distance at right angles to it.
//
//	hull  corners of a convex polygon in turning order [any length]
//
// Equation: width = min over sides of the greatest distance of a corner from the side;
// length = extent of the corners along that side.
// Holds for: convex polygons; a side of the hull lies on one of the two lines.
// Source: Toussaint1983, rotating calipers.
// Errors: none; 0 for fewer than three corners' width.
// Checks: Calipers rows of checks.csv (3 own derivation).
func Calipers(hull []Point) (width, length float64) {
	width = math.Inf(1)
	for i := range hull {
		side := hull[(i+1)%len(hull)].minus(hull[i])
		n := side.length()
		if n == 0 {
			continue
		}
		far, lo, hi := 0.0, math.Inf(1), math.Inf(-1)
		for _, p := range hull {
			d := p.minus(hull[i])
			far = max(far, math.Abs(side.cross(d))/n)
			along := side.dot(d) / n
			lo, hi = min(lo, along), max(hi, along)
		}
		if far < width {
			width, length = far, hi-lo
		}
	}
	if math.IsInf(width, 1) {
		return 0, 0
	}
	return width, length
}

// edge are the places where a grain's brightness crosses half way to the ground,
// on the lines between each of its pixels and those beside it that are not its own.
//
// value is how much each pixel differs from the ground, half what makes the edge
// of this grain. Between two grains that touch, the edge lies in the middle.
func edge(l Labels, k int32, b box, value []float32, half float32, into []Point) []Point {
	w, h := l.W, l.H
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
			i := y*w + x
			if l.L[i] != k {
				continue
			}
			for side := range 4 {
				dx, dy := [4]int{1, 0, -1, 0}[side], [4]int{0, 1, 0, -1}[side]
				nx, ny := x+dx, y+dy
				t := 0.5
				if nx >= 0 && nx < w && ny >= 0 && ny < h {
					j := ny*w + nx
					if l.L[j] == k {
						continue
					}
					if in, out := value[i], value[j]; in > half && out < half && in > out {
						t = float64((in - half) / (in - out))
					}
				}
				into = append(into, Point{float64(x) + 0.5 + t*float64(dx), float64(y) + 0.5 + t*float64(dy)})
			}
		}
	}
	return into
}

// outline walks once round the patch k, along the sides of its pixels, and leaves
// out corners that lie within slack of the line [px].
func outline(l Labels, k int32, b box, slack float64) []Point {
	at := func(x, y int) bool {
		return x >= b.x0 && x < b.x1 && y >= b.y0 && y < b.y1 && l.L[y*l.W+x] == k
	}
	x0, y0 := b.x0, b.y0
	for !at(x0, y0) {
		x0++
	}
	var way []Point
	x, y, dx, dy := x0, y0, 1, 0 // on corners, the patch to the right of the way
	for {
		way = append(way, Point{float64(x), float64(y)})
		// The pixels ahead, to the left and to the right of the way.
		left := at(x+(dx+dy-1)/2, y+(dy-dx-1)/2)
		right := at(x+(dx-dy-1)/2, y+(dx+dy-1)/2)
		switch {
		case left:
			dx, dy = dy, -dx
		case !right:
			dx, dy = -dy, dx
		}
		x, y = x+dx, y+dy
		if x == x0 && y == y0 || len(way) > 8*(b.area+4) {
			return thinned(way, slack)
		}
	}
}

// thinned leaves out points of a closed way that lie within slack of the line
// between those kept (Douglas and Peucker's rule).
func thinned(way []Point, slack float64) []Point {
	if len(way) < 4 {
		return way
	}
	var far int
	for i := range way {
		if way[0].to(way[i]) > way[0].to(way[far]) {
			far = i
		}
	}
	keep := make([]bool, len(way)+1)
	closed := append(slices.Clone(way), way[0])
	keep[0], keep[far] = true, true
	var cut func(a, b int)
	cut = func(a, b int) {
		worst, at := slack, -1
		for i := a + 1; i < b; i++ {
			d := closed[a].to(closed[i])
			if n := closed[a].to(closed[b]); n > 0 {
				d = math.Abs(turn(closed[a], closed[b], closed[i])) / n
			}
			if d > worst {
				worst, at = d, i
			}
		}
		if at > 0 {
			keep[at] = true
			cut(a, at)
			cut(at, b)
		}
	}
	cut(0, far)
	cut(far, len(way))
	out := make([]Point, 0, 16)
	for i := range way {
		if keep[i] {
			out = append(out, way[i])
		}
	}
	return out
}
