package grain

import (
	"cmp"
	"math"
	"slices"
)

// measure makes grains of the patches, and refuses what is too fine or blurred.
func (g *finder) measure() error {
	n := g.l.N
	grains := make([]Grain, n+1)
	state := make([]int8, n+1) // 1 a grain, 2 one that touches the edge
	blurs := make([]float64, n+1)
	bands(n, func(from, to int) {
		var points []Point
		for k := from + 1; k <= to; k++ {
			b := g.boxes[k]
			switch {
			case b.area < least:
				continue
			case g.touches(int32(k), b):
				state[k] = 2
				continue
			}
			points = edge(g.l, int32(k), b, g.V, g.level[k], points[:0])
			grains[k], blurs[k] = g.grain(int32(k), b, points)
			state[k] = 1
		}
	})
	for k := 1; k <= n; k++ {
		switch state[k] {
		case 1:
			g.out.Grains = append(g.out.Grains, grains[k])
		case 2:
			g.out.Touching++
		}
	}
	if len(g.out.Grains) == 0 {
		return refuse(NoGrains, 0, 1, "")
	}
	return g.sharp(grains, blurs)
}

// touches reports whether a patch touches the edge of the field.
func (g *finder) touches(k int32, b box) bool {
	if b.x0 == 0 || b.y0 == 0 || b.x1 == g.W || b.y1 == g.H {
		return true
	}
	if g.Mask == nil {
		return false
	}
	for y := b.y0; y < b.y1; y++ {
		for x := b.x0; x < b.x1; x++ {
			if i := y*g.W + x; g.l.L[i] == k && !(g.Mask[i-1] && g.Mask[i+1] && g.Mask[i-g.W] && g.Mask[i+g.W]) {
				return true
			}
		}
	}
	return false
}

// grain measures one patch from the points of its edge, and how blurred that is [px].
func (g *finder) grain(k int32, b box, points []Point) (Grain, float64) {
	x, y := 0.0, 0.0
	for py := b.y0; py < b.y1; py++ {
		for px := b.x0; px < b.x1; px++ {
			if g.l.L[py*g.W+px] == k {
				x += float64(px) + 0.5
				y += float64(py) + 0.5
			}
		}
	}
	blur := g.blur(k, points)
	hull := Hull(points)
	width, length := Calipers(hull)
	p, a := g.Pixel, float64(b.area)
	out := Grain{X: x / a * p, Y: y / a * p, Area: a * p * p, Width: width * p, Length: length * p,
		Level: 2 * float64(g.level[k]), Solid: min(1, a/math.Max(areaOf(hull), 1e-9)), Split: g.split[k], Outline: outline(g.l, k, b, outlineSlack)}
	lo, hi := hull[0], hull[0]
	for _, q := range hull {
		lo, hi = Point{min(lo.X, q.X), min(lo.Y, q.Y)}, Point{max(hi.X, q.X), max(hi.Y, q.Y)}
	}
	out.Across, out.Down = (hi.X-lo.X)*p, (hi.Y-lo.Y)*p
	for i := range out.Outline {
		out.Outline[i] = out.Outline[i].times(p)
	}
	return out, blur
}

// blur is the standard deviation of the blur at a grain's edge [px]: a step of
// height c blurred by σ is c/(σ√2π) steep. The softening of our own, and that of
// a pixel's width, are taken off. 0: not told.
func (g *finder) blur(k int32, points []Point) float64 {
	if g.boxes[k].area < int(blurOf*blurOf) || len(points) == 0 {
		return 0
	}
	var steep []float64
	for i := 0; i < len(points); i += 1 + len(points)/64 {
		x, y := int(points[i].X), int(points[i].Y)
		if x < 1 || y < 1 || x >= g.W-1 || y >= g.H-1 {
			continue
		}
		at := y*g.W + x
		steep = append(steep, math.Hypot(float64(g.V[at+1]-g.V[at-1]), float64(g.V[at+g.W]-g.V[at-g.W]))/2)
	}
	if len(steep) == 0 {
		return 0
	}
	slices.Sort(steep)
	s := steep[len(steep)*3/4]
	if s <= 0 {
		return 0
	}
	const own = 0.5 + 1.0/12 + 1.0/3 // px²: softening, pixel, and the difference over two pixels
	sigma := 2 * float64(g.level[k]) / (s * math.Sqrt(2*math.Pi))
	return math.Sqrt(math.Max(sigma*sigma-own, 0.01))
}

// sharp refuses grains too fine for the pixels, or for the blur.
func (g *finder) sharp(grains []Grain, blurs []float64) error {
	middle := massMedian(g.out.Grains)
	if px := middle / g.Pixel; px < LeastPixels {
		return refuse(TooFine, px, LeastPixels, "px")
	}
	wide := blurs[:0]
	for i, b := range blurs { // small ones do not reach their full difference when blurred
		if b > 0 && grains[i].Width >= middle {
			wide = append(wide, b)
		}
	}
	if blurs = wide; len(blurs) > 0 {
		slices.Sort(blurs)
		g.out.Blur = blurs[len(blurs)/2] * g.Pixel
	}
	if share := g.out.Blur / middle; share > MostBlur {
		return refuse(Blurred, share, MostBlur, "")
	}
	return nil
}

// massMedian is the width of the grain at half the mass [m].
func massMedian(all []Grain) float64 {
	sorted := slices.Clone(all)
	slices.SortFunc(sorted, func(a, b Grain) int { return cmp.Compare(a.Width, b.Width) })
	sum := 0.0
	for _, s := range sorted {
		sum += s.Area * s.Width
	}
	half := 0.0
	for _, s := range sorted {
		if half += s.Area * s.Width; 2*half >= sum {
			return s.Width
		}
	}
	return 0
}
