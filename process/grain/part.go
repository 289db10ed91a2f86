// Parting grains that touch, and filling the shine on those that do not.

package grain

// part fills holes and parts patches that hold more than one grain. Each patch is
// a raster of its own, so that the work goes with the grains and not with the
// field.
func (g *finder) part() {
	n := g.l.N
	parts := make([]patch, n+1)
	bands(n, func(from, to int) {
		for k := from + 1; k <= to; k++ {
			if g.boxes[k].area >= least {
				parts[k] = g.open(int32(k))
			}
		}
	})
	g.split = make([]bool, n+1)
	for k := 1; k <= n; k++ {
		p := parts[k]
		if p.mine == nil {
			continue
		}
		for i, part := range p.mine {
			at := (p.y0+i/p.w)*g.W + p.x0 + i%p.w
			switch {
			case part == 1:
				g.l.L[at] = int32(k)
			case part > 1:
				g.l.L[at] = int32(g.l.N) + part - 1
			}
		}
		for range p.n - 1 {
			g.level = append(g.level, g.level[k])
			g.split = append(g.split, true)
			g.l.N++
		}
		g.split[k] = p.n > 1
	}
	g.boxes = g.l.boxes()
}

// patch is one patch by itself, its pixels numbered by part; nil where nothing
// has changed.
type patch struct {
	x0, y0, w, n int
	mine         []int32
}

// open looks at the patch k.
func (g *finder) open(k int32) patch {
	b := g.boxes[k]
	w, h := b.w()+2, b.h()+2 // with a rim of ground
	set := make([]bool, w*h)
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
			set[(y-b.y0+1)*w+x-b.x0+1] = g.l.L[y*g.W+x] == k
		}
	}
	hull := areaOf(Hull(edge(g.l, k, b, g.V, g.level[k], nil)))
	filled := g.fill(w, h, set, b.area, hull)
	area := b.area + filled
	out := patch{b.x0 - 1, b.y0 - 1, w, 1, nil}
	if area >= leastSplit && float64(area) < solid*hull {
		d := Distance(w, h, set)
		tops := Tops(w, h, d, func(top float64) float64 { return max(leastTop, topShare*top) })
		for _, t := range tops {
			out.n = max(out.n, int(t))
		}
		if out.n > 1 {
			out.mine = Watershed(w, h, d, tops)
			return out
		}
	}
	if filled > 0 {
		out.mine = make([]int32, len(set))
		for i, s := range set {
			if s {
				out.mine[i] = 1
			}
		}
	}
	return out
}

// fill sets the holes of a patch where they are small, or where the patch with
// them is as solid as one grain; grains in a ring keep the ground between them.
// It returns how many pixels it set.
func (g *finder) fill(w, h int, set []bool, area int, hull float64) int {
	holes := Label(w, h, func(i int) bool { return !set[i] }, false)
	if holes.N == rim {
		return 0
	}
	size := make([]int, holes.N+1)
	for _, k := range holes.L {
		size[k]++
	}
	all := 0
	for _, n := range size[rim+1:] {
		all += n
	}
	whole := float64(area+all) >= filledSolid*hull
	filled := 0
	for i, k := range holes.L {
		if k > rim && (whole || float64(size[k]) < smallHole*float64(area)) {
			set[i] = true
			filled++
		}
	}
	return filled
}
