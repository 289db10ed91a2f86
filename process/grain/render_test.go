package grain

// Rendered pictures with a known truth: grains thrown on a sheet, seen by a camera.

import (
	"image"
	"math"
	"math/rand/v2"
	"slices"
)

// shape is a grain of a scene: an ellipse, or a polygon with straight sides.
type shape struct {
	at            Point // middle, on the sheet [m]
	wide, long    float64
	turn          float64
	corners       []Point // about the middle; nil for an ellipse
	area, width   float64 // the truth
	light         float64 // reflectance
	reach         float64 // no part is farther from the middle
	clear         bool    // see-through: a dark rim, a middle like the ground
	cosine, sinus float64
}

// holds reports whether a place on the sheet lies on the grain, and how far out [1].
func (s *shape) holds(p Point) (bool, float64) {
	d := p.minus(s.at)
	r := s.out(d)
	if s.corners == nil {
		return r <= 1, r
	}
	n := len(s.corners)
	for i := range s.corners {
		if turn(s.corners[i], s.corners[(i+1)%n], d) < 0 {
			return false, r
		}
	}
	return true, r
}

// out is how far a place about the middle lies out: 1 on the ellipse round the grain.
func (s *shape) out(d Point) float64 {
	u, v := (d.X*s.cosine+d.Y*s.sinus)/(s.long/2), (d.Y*s.cosine-d.X*s.sinus)/(s.wide/2)
	return math.Sqrt(u*u + v*v)
}

// alike is how far round a place all lies on the grain, or all beside it [m]: no step changes out by
// more than its length by half the width. On a polygon its nearest side tells.
func (s *shape) alike(p Point) float64 {
	d := p.minus(s.at)
	out := s.out(d)
	if out > 1 || s.corners == nil {
		far := math.Abs(out - 1)
		if s.clear {
			far = min(far, math.Abs(out-darkRim))
		}
		return far * s.wide / 2
	}
	if s.clear {
		return 0
	}
	near, n := math.Inf(1), len(s.corners)
	for i, a := range s.corners {
		b := s.corners[(i+1)%n]
		near = min(near, turn(a, b, d)/b.minus(a).length())
	}
	return near
}

// darkRim is how far out a see-through grain begins to be dark.
const darkRim = 0.65

// radius is how far the grain reaches in a direction.
func (s *shape) radius(dir Point) float64 {
	n := dir.length()
	if n == 0 {
		return s.reach
	}
	if s.corners != nil {
		far := 0.0
		for _, c := range s.corners {
			far = max(far, c.dot(dir)/n)
		}
		return far
	}
	u, v := (dir.X*s.cosine+dir.Y*s.sinus)/n, (dir.Y*s.cosine-dir.X*s.sinus)/n
	return 1 / math.Hypot(u/(s.long/2), v/(s.wide/2))
}

// scene is what stands before the camera, and the camera.
type scene struct {
	sheet    Sheet
	d50, gsd float64
	least    float64 // smallest grain [m]
	most     float64
	cover    float64
	polygons bool
	ground   float64 // reflectance of the field
	light    float64 // of the grains, ± lightVar of the difference to the ground
	lightVar float64
	clear    bool
	shadow   float64 // length beside each grain, of its width
	tint     [3]float64

	perMM    float64 // pixels a millimetre in the middle
	tilt     float64 // degrees
	roll     float64 // degrees
	lens     float64 // radial distortion at the picture's corner
	falloff  float64 // of the light from one corner to the other
	blur     float64 // px
	noise    float64 // of full scale
	seed     uint64
	noMarks  bool
	card     bool
	swell    float64 // ink that ran: marks so many times as large
	margin   float64 // of the picture round the sheet's marks, of the mark's side
	exposure float64
	paper    float64 // reflectance of what the marks are printed on
	bank     float64 // of the card
}

func usual() scene {
	return scene{sheet: WholeSheet(), d50: 1e-3, gsd: 1.6, least: 0.1e-3, most: 4e-3, cover: 0.10, ground: 0.85, light: 0.25, lightVar: 0.15,
		perMM: 13.5, falloff: 0.3, blur: 1, noise: 0.02, seed: 1, swell: 1, margin: 0.6, exposure: 1, paper: 0.85, bank: 0.2, tint: [3]float64{1, 1, 1}}
}

// throw puts grains on the field until the cover is reached.
func (s scene) throw(rng *rand.Rand) []shape {
	sd := math.Log(s.gsd)
	mean := math.Log(s.d50) - 3*sd*sd
	var all []shape
	covered := 0.0
	for covered < s.cover*s.sheet.W*s.sheet.H {
		d := math.Exp(mean + sd*rng.NormFloat64())
		if d < s.least || d > s.most {
			continue
		}
		g := s.shape(d, rng)
		all = append(all, g)
		covered += g.area
	}
	slices.SortFunc(all, func(a, b shape) int { // the large first, as space is needed
		if a.reach > b.reach {
			return -1
		}
		return 1
	})
	const cell = 4e-3
	grid := map[[2]int][]int{}
	key := func(p Point) [2]int { return [2]int{int(math.Floor(p.X / cell)), int(math.Floor(p.Y / cell))} }
	placed := all[:0]
	for _, g := range all {
		for try := range 400 {
			g.at = Point{(rng.Float64() - 0.5) * s.sheet.W, (rng.Float64() - 0.5) * s.sheet.H}
			if s.card && math.Abs(g.at.X) < CardW/2+cardKeep+2e-3 && math.Abs(g.at.Y) < CardH/2+cardKeep+2e-3 {
				continue
			}
			if try < 399 && s.hits(g, placed, grid, key(g.at)) {
				continue
			}
			grid[key(g.at)] = append(grid[key(g.at)], len(placed))
			placed = append(placed, g)
			break
		}
	}
	return placed
}

func (s scene) hits(g shape, placed []shape, grid map[[2]int][]int, k [2]int) bool {
	for dx := -3; dx <= 3; dx++ {
		for dy := -3; dy <= 3; dy++ {
			for _, j := range grid[[2]int{k[0] + dx, k[1] + dy}] {
				o := placed[j]
				d := o.at.minus(g.at)
				if l := d.length(); l < g.reach+o.reach && l < g.radius(d)+o.radius(d.times(-1)) {
					return true
				}
			}
		}
	}
	return false
}

// shape makes one grain of width d.
func (s scene) shape(d float64, rng *rand.Rand) shape {
	ratio := 0.55 + 0.45*rng.Float64()
	g := shape{wide: d, long: d / ratio, turn: rng.Float64() * math.Pi, clear: s.clear}
	g.cosine, g.sinus = math.Cos(g.turn), math.Sin(g.turn)
	g.area, g.width, g.reach = math.Pi/4*g.wide*g.long, d, g.long/2
	g.light = s.ground + (s.light-s.ground)*(1+s.lightVar*rng.NormFloat64())
	if s.polygons {
		n := 5 + rng.IntN(4)
		var all []Point
		for i := range n {
			a := (float64(i) + 0.7*rng.Float64()) / float64(n) * 2 * math.Pi
			u, v := g.long/2*math.Cos(a), g.wide/2*math.Sin(a)
			all = append(all, Point{u*g.cosine - v*g.sinus, u*g.sinus + v*g.cosine})
		}
		g.corners = Hull(all)
		g.area = areaOf(g.corners)
		g.width, _ = Calipers(slices.Clone(g.corners))
	}
	return g
}

// camera takes places on the sheet to pixels.
type camera struct {
	Homography
	w, h int
	lens float64
}

func (s scene) camera() camera {
	x, y := s.sheet.Across+(2*s.margin+1)*s.sheet.Mark, s.sheet.Down+(2*s.margin+1)*s.sheet.Mark
	w, h := int(x*1e3*s.perMM), int(y*1e3*s.perMM)
	if s.tilt > 0 {
		w, h = w*106/100, h*106/100
	}
	t, r := s.tilt*math.Pi/180, s.roll*math.Pi/180
	const far = 0.30 // m above the sheet
	f := s.perMM * 1e3 * far
	// The camera looks at the middle, turned by r, tilted by t about the sheet's x.
	to := func(p Point) Point {
		px, py := p.X*math.Cos(r)-p.Y*math.Sin(r), p.X*math.Sin(r)+p.Y*math.Cos(r)
		yy, zz := py*math.Cos(t), far+py*math.Sin(t)
		return Point{float64(w)/2 + f*px/zz, float64(h)/2 + f*yy/zz}
	}
	from := []Point{{-x / 2, -y / 2}, {x / 2, -y / 2}, {x / 2, y / 2}, {-x / 2, y / 2}}
	var seen []Point
	for _, p := range from {
		seen = append(seen, to(p))
	}
	hm, err := FitHomography(from, seen)
	if err != nil {
		panic(err)
	}
	return camera{hm, w, h, s.lens}
}

// sees is the pixel of a place on the sheet, place the place of a pixel.
func (c camera) sees(p Point) Point {
	q := c.To(p)
	if c.lens == 0 {
		return q
	}
	m := Point{float64(c.w) / 2, float64(c.h) / 2}
	d := q.minus(m)
	return m.plus(d.times(1 + c.lens*d.dot(d)/m.dot(m)))
}

func (c camera) place(back Homography, q Point) Point {
	if c.lens != 0 {
		m := Point{float64(c.w) / 2, float64(c.h) / 2}
		d := q.minus(m)
		u := d
		for range 6 {
			u = d.times(1 / (1 + c.lens*u.dot(u)/m.dot(m)))
		}
		q = m.plus(u)
	}
	return back.To(q)
}

// render photographs the scene. It returns the picture and the grains in it.
func (s scene) render() (image.Image, []shape) {
	rng := rand.New(rand.NewPCG(s.seed, 77))
	grains := s.throw(rng)
	cam := s.camera()
	back := inverse(cam.Homography)
	r := NewRaster(cam.w, cam.h)
	for i := range r.V {
		r.V[i] = float32(s.paper)
	}
	b := brush{r, cam, back}
	if s.ground != s.paper {
		b.fill(s.sheet.W, Point{}, func(p Point) (float64, bool) {
			return s.ground, s.noMarks || math.Abs(p.X) < s.sheet.W/2 && math.Abs(p.Y) < s.sheet.H/2
		}, func(p Point) float64 {
			if s.noMarks {
				return math.Inf(1)
			}
			return min(math.Abs(math.Abs(p.X)-s.sheet.W/2), math.Abs(math.Abs(p.Y)-s.sheet.H/2))
		})
	}
	if !s.noMarks {
		s.marks(b)
	}
	if s.card {
		b.fill(CardW/2, Point{}, s.cardLight, unknown)
	}
	for _, g := range grains {
		if s.shadow > 0 {
			d := Point{0.8, 0.6}.times(s.shadow * g.width)
			dark := g
			dark.at = g.at.plus(d)
			b.fill(g.reach, dark.at, func(p Point) (float64, bool) { in, _ := dark.holds(p); return 0.8 * s.ground, in }, dark.alike)
		}
	}
	for i := range grains {
		g := &grains[i]
		b.fill(g.reach, g.at, func(p Point) (float64, bool) {
			in, out := g.holds(p)
			if g.clear && out < darkRim {
				return s.ground + 0.1*(g.light-s.ground), in
			}
			return g.light, in
		}, g.alike)
	}
	return s.expose(r, rng), grains
}

// cardLight is the reflectance of a card with round corners.
func (s scene) cardLight(p Point) (float64, bool) {
	x, y, r := math.Abs(p.X)-CardW/2+3e-3, math.Abs(p.Y)-CardH/2+3e-3, 3e-3
	if x > 0 && y > 0 {
		return s.bank, x*x+y*y <= r*r
	}
	return s.bank, x <= r && y <= r
}

func (s scene) marks(b brush) {
	for i, m := range s.sheet.Middles() {
		half := s.sheet.Mark / 2
		gain := half * (s.swell - 1)
		far := func(p Point) float64 { d := p.minus(m); return max(math.Abs(d.X), math.Abs(d.Y)) }
		b.fill(half*s.swell, m, func(p Point) (float64, bool) {
			far := far(p)
			switch {
			case far > half+gain:
				return 0, false
			case far > half*HoleShare-gain:
				return 0.04, true
			case s.sheet.Dotted[i] && far < half*DotShare+gain:
				return 0.04, true
			}
			return s.paper, true
		}, func(p Point) float64 {
			far := far(p)
			return min(math.Abs(far-half-gain), math.Abs(far-half*HoleShare+gain), math.Abs(far-half*DotShare-gain))
		})
	}
}

// expose lights, blurs, and codes the raster.
func (s scene) expose(r Raster, rng *rand.Rand) image.Image {
	blurred(r, s.blur)
	img := image.NewNRGBA(image.Rect(0, 0, r.W, r.H))
	for y := range r.H {
		for x := range r.W {
			u, v := float64(x)/float64(r.W), float64(y)/float64(r.H)
			light := s.exposure * (1 - s.falloff*(0.6*u+0.4*v*v))
			noise := s.noise * rng.NormFloat64()
			pixel := img.Pix[4*(y*r.W+x):]
			for k, tint := range s.tint {
				pixel[k] = codes[int(min(max(float64(r.V[y*r.W+x])*light*tint+noise, 0), 1)*4095)]
			}
			pixel[3] = 255
		}
	}
	return img
}

// codes are the sRGB codes of linear light.
var codes = func() (t [4096]uint8) {
	for i := range t {
		v := float64(i) / 4095
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		t[i] = uint8(v*255 + 0.5)
	}
	return t
}()

// blurred lays a Gaussian over a raster.
func blurred(r Raster, sigma float64) {
	if sigma == 0 {
		return
	}
	n := int(math.Ceil(3 * sigma))
	kernel := make([]float32, 2*n+1)
	sum := float32(0)
	for i := range kernel {
		d := float64(i - n)
		kernel[i] = float32(math.Exp(-d * d / (2 * sigma * sigma)))
		sum += kernel[i]
	}
	for _, step := range [2]int{1, r.W} {
		out := make([]float32, len(r.V))
		bands(r.H, func(from, to int) {
			for y := from; y < to; y++ {
				for x := range r.W {
					v := float32(0)
					for k, w := range kernel {
						at := y*r.W + min(max(x+k-n, 0), r.W-1)
						if step != 1 {
							at = min(max(y+k-n, 0), r.H-1)*r.W + x
						}
						v += w * r.V[at]
					}
					out[y*r.W+x] = v / sum
				}
			}
		})
		copy(r.V, out)
	}
}

// truth are the sizes of the grains whose middle lies on the field.
func (s scene) truth(all []shape) (d10, d50, d90 float64) {
	var w []Weighed
	for _, g := range all {
		if math.Abs(g.at.X) < s.sheet.W/2 && math.Abs(g.at.Y) < s.sheet.H/2 {
			w = append(w, Weighed{Width: g.width, Mass: g.area * g.width})
		}
	}
	slices.SortFunc(w, func(a, b Weighed) int {
		if a.Width < b.Width {
			return -1
		}
		return 1
	})
	d := sizesOf(w, []float64{1}, 1, Ask{}, nil)
	return d.d10, d.d50, d.d90
}
