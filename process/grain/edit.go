// What an eye sees better: a grain that is none, two that were taken for one.

package grain

import "math"

// Without returns the spread with some grains struck out and others parted in two.
// A grain that has no waist stays whole.
//
//	struck, parted  whether the grain of that number is [1]
func (s *Spread) Without(struck, parted func(grain int) bool) *Spread {
	out := *s
	out.Grains = make([]Grain, 0, len(s.Grains))
	for i, g := range s.Grains {
		switch {
		case struck(i):
			continue
		case parted(i):
			if a, b, ok := g.Parted(); ok {
				out.Grains = append(out.Grains, a, b)
				continue
			}
		}
		out.Grains = append(out.Grains, g)
	}
	return &out
}

// Parted cuts a grain in two at its waist: the straight cut between two corners of
// its outline that is shortest for the smaller piece it cuts off.
func (g Grain) Parted() (a, b Grain, ok bool) {
	n := len(g.Outline)
	if n < 6 {
		return g, g, false
	}
	along := make([]float64, n+1)
	for i := range n {
		along[i+1] = along[i] + g.Outline[i].to(g.Outline[(i+1)%n])
	}
	var from, to int
	best := math.Inf(1)
	for i := range n {
		for k := i + 2; k < n; k++ {
			way := along[k] - along[i]
			if way = math.Min(way, along[n]-way); way < along[n]/6 {
				continue // a corner nicked off is no grain
			}
			if r := g.Outline[i].to(g.Outline[k]) / way; r < best {
				best, from, to = r, i, k
			}
		}
	}
	if math.IsInf(best, 1) {
		return g, g, false
	}
	one := append([]Point{}, g.Outline[from:to+1]...)
	other := append(append([]Point{}, g.Outline[to:]...), g.Outline[:from+1]...)
	whole := areaOf(one) + areaOf(other)
	if whole <= 0 {
		return g, g, false
	}
	return g.piece(one, g.Area/whole), g.piece(other, g.Area/whole), true
}

// piece is a grain of another outline.
func (g Grain) piece(outline []Point, scale float64) Grain {
	hull := Hull(append([]Point{}, outline...))
	lo, hi := hull[0], hull[0]
	mid, twice := Point{}, 0.0 // of the triangles to the first corner
	for i, p := range outline {
		lo, hi = Point{min(lo.X, p.X), min(lo.Y, p.Y)}, Point{max(hi.X, p.X), max(hi.Y, p.Y)}
		q := outline[(i+1)%len(outline)]
		t := turn(outline[0], p, q)
		mid, twice = mid.plus(outline[0].plus(p).plus(q).times(t/3)), twice+t
	}
	if twice != 0 {
		mid = mid.times(1 / twice)
	}
	out := g
	out.Outline, out.Split = outline, true
	out.X, out.Y, out.Area = mid.X, mid.Y, areaOf(outline)*scale
	out.Width, out.Length = Calipers(hull)
	out.Across, out.Down = hi.X-lo.X, hi.Y-lo.Y
	out.Solid = min(1, areaOf(outline)/math.Max(areaOf(hull), 1e-18))
	return out
}
