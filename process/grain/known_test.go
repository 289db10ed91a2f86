package grain

// Grains drawn by geometry on a small field: what is found is known beforehand, place,
// size, difference and number, and what is refused just outside of each limit.

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// lying is a grain of a drawn field: an ellipse or, with corners, a box; all in pixels.
func lying(x, y, wide, long, degrees float64, box bool) shape {
	g := shape{at: Point{x, y}, wide: wide, long: long, turn: degrees * math.Pi / 180, area: math.Pi / 4 * wide * long, width: wide, reach: long / 2, light: 1}
	g.cosine, g.sinus = math.Cos(g.turn), math.Sin(g.turn)
	if box {
		g.area, g.reach = wide*long, math.Hypot(wide, long)/2
		for _, c := range []Point{{-long / 2, -wide / 2}, {long / 2, -wide / 2}, {long / 2, wide / 2}, {-long / 2, wide / 2}} {
			g.corners = append(g.corners, Point{c.X*g.cosine - c.Y*g.sinus, c.X*g.sinus + c.Y*g.cosine})
		}
	}
	return g
}

// extent is how far a grain reaches along x and y, from its outline.
func (s *shape) extent() (across, down float64) {
	for k := range 3600 {
		a := float64(k) * math.Pi / 1800
		u, v := s.long/2*math.Cos(a), s.wide/2*math.Sin(a)
		across, down = max(across, 2*(u*s.cosine-v*s.sinus)), max(down, 2*(u*s.sinus+v*s.cosine))
	}
	for _, c := range s.corners {
		across, down = max(across, 2*c.X), max(down, 2*c.Y)
	}
	return across, down
}

// laid draws grains of one difference on ground; light takes the share of a pixel under
// grains to its brightness.
func laid(w, h int, grains []shape, light func(x, y int, share float64) float64) Raster {
	r := NewRaster(w, h)
	const sub = 8
	for _, g := range grains {
		for y := max(int(g.at.Y-g.reach)-1, 0); y < min(int(g.at.Y+g.reach)+2, h); y++ {
			for x := max(int(g.at.X-g.reach)-1, 0); x < min(int(g.at.X+g.reach)+2, w); x++ {
				n := 0
				for k := range sub * sub {
					if in, _ := g.holds(Point{float64(x) + (float64(k%sub)+0.5)/sub, float64(y) + (float64(k/sub)+0.5)/sub}); in {
						n++
					}
				}
				r.V[y*w+x] = min(1, max(r.V[y*w+x], float32(n)/(sub*sub)*float32(g.light)))
			}
		}
	}
	for i, v := range r.V {
		r.V[i] = float32(light(i%w, i/w, float64(v)))
	}
	return r
}

// darkOn is grains of brightness so much less than a plain ground.
func darkOn(ground, less float64) func(int, int, float64) float64 {
	return func(_, _ int, share float64) float64 { return ground * (1 - less*share) }
}

const knownPixel = 5e-5

func found(t *testing.T, r Raster) *Spread {
	t.Helper()
	s, err := Find(Field{Raster: r, Pixel: knownPixel})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// someGrains lie apart on 260 by 200 pixels.
func someGrains() []shape {
	return []shape{lying(50.3, 48.7, 40, 40, 0, false), lying(150.6, 60.2, 28, 60, 30, false), lying(80.1, 140.4, 24, 44, 70, true), lying(200, 140, 34, 36, 0, true)}
}

// compared holds grains against what was drawn, nearest by nearest; slack in pixels.
func compared(t *testing.T, name string, s *Spread, want []shape, difference, slack float64) {
	t.Helper()
	if len(s.Grains) != len(want) {
		t.Fatalf("%s: %d grains, wanted %d", name, len(s.Grains), len(want))
	}
	for _, w := range want {
		k := 0
		for i, g := range s.Grains {
			if (Point{g.X, g.Y}).to(w.at.times(knownPixel)) < (Point{s.Grains[k].X, s.Grains[k].Y}).to(w.at.times(knownPixel)) {
				k = i
			}
		}
		g := s.Grains[k]
		across, down := w.extent()
		for what, v := range map[string][3]float64{
			"x": {g.X / knownPixel, w.at.X, slack}, "y": {g.Y / knownPixel, w.at.Y, slack}, "width": {g.Width / knownPixel, w.wide, 2 * slack}, "length": {g.Length / knownPixel, w.long, 2 * slack},
			"across": {g.Across / knownPixel, across, 8 * slack}, "down": {g.Down / knownPixel, down, 8 * slack}, "area": {g.Area / knownPixel / knownPixel, w.area, 0.05 * w.area * slack},
			"area of the outline": {areaOf(g.Outline) / knownPixel / knownPixel, w.area, 0.03 * w.area}, "solid": {g.Solid, 1, 0.03}, "level": {g.Level, difference, 0.015},
		} {
			if !(math.Abs(v[0]-v[1]) <= v[2]) {
				t.Errorf("%s: %s of the grain at %v is %.4g, wanted %.4g", name, what, w.at, v[0], v[1])
			}
		}
		for _, p := range g.Outline {
			if d := p.times(1 / knownPixel).minus(w.at); d.length() > w.radius(d)*1.15+1.5 {
				t.Errorf("%s: the outline of the grain at %v runs through %v", name, w.at, p)
			}
		}
		if g.Split {
			t.Errorf("%s: the grain at %v counts as parted", name, w.at)
		}
	}
}

// Discs, ellipses and boxes are found where they lie and as large as they are, whatever
// the ground's light and whichever is lighter.
func TestKnownGrains(t *testing.T) {
	t.Parallel()
	all := someGrains()
	sum := 0.0
	for _, g := range all {
		sum += g.area
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for _, c := range []struct {
		name       string
		difference float64
		lighter    bool
		light      func(x, y int, share float64) float64
	}{
		{"dark on white", 0.7, false, darkOn(0.9, 0.7)},
		{"hardly differing", 0.16, false, darkOn(0.6, 0.16)},
		{"pale on black", 0.5, true, func(_, _ int, share float64) float64 { return 0.05 + 0.5*share }},
		{"lighter than grey", 0.5, true, func(_, _ int, share float64) float64 { return 0.5 * (1 + 0.5*share) }},
		{"light from one side", 0.7, false, func(x, y int, share float64) float64 {
			return (0.9 - 0.0015*float64(x) - 0.001*float64(y)) * (1 - 0.7*share)
		}},
		{"light from the middle", 0.7, false, func(x, y int, share float64) float64 {
			u, v := float64(x)/260-0.5, float64(y)/200-0.5
			return (0.9 - 0.6*u*u - 0.5*v*v - 0.3*u*v) * (1 - 0.7*share)
		}},
		{"noise", 0.7, false, func(_, _ int, share float64) float64 { return 0.8*(1-0.7*share) + 0.01*rng.NormFloat64() }},
	} {
		s := found(t, laid(260, 200, all, c.light))
		compared(t, c.name, s, all, c.difference, 0.15)
		if s.Lighter != c.lighter || math.Abs(s.W-260*knownPixel) > 1e-15 || math.Abs(s.H-200*knownPixel) > 1e-15 || s.Pixel != knownPixel || s.Touching != 0 {
			t.Errorf("%s: lighter %v, %g by %g m, %d touch the edge", c.name, s.Lighter, s.W, s.H, s.Touching)
		}
		if math.Abs(s.Cover/(sum/260/200)-1) > 0.01 || math.Abs(s.Contrast-c.difference) > 0.015 {
			t.Errorf("%s: cover %.4f, wanted %.4f; contrast %.4f, wanted %.4f", c.name, s.Cover, sum/260/200, s.Contrast, c.difference)
		}
		// Noise of 0.01 on 0.8, softened by ¼ ½ ¼ both ways: times (1/16 + 1/4 + 1/16) = 0.375.
		if want := 0.01 / 0.8 * 0.375; c.name == "noise" && math.Abs(s.Noise/want-1) > 0.1 {
			t.Errorf("noise %.5f, wanted %.5f", s.Noise, want)
		}
	}
}

// A field turned by a quarter, in a mirror, or with every pixel made four of half the
// side holds the same grains.
func TestFieldsTurnedAndGrown(t *testing.T) {
	t.Parallel()
	all := someGrains()
	r := laid(260, 200, all, darkOn(0.8, 0.6))
	moved := func(w, h int, from func(x, y int) (int, int), at func(Point) Point, scale float64) {
		t.Helper()
		n := NewRaster(w, h)
		for i := range n.V {
			x, y := from(i%w, i/w)
			n.V[i] = r.V[y*r.W+x]
		}
		s, err := Find(Field{Raster: n, Pixel: knownPixel / scale})
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Grains) != len(all) {
			t.Fatalf("%d grains", len(s.Grains))
		}
		for _, g := range s.Grains {
			k := slices.IndexFunc(all, func(w shape) bool { return at(w.at.times(knownPixel)).to(Point{g.X, g.Y}) < 0.2*knownPixel })
			if k < 0 {
				t.Errorf("nothing was drawn at %g, %g", g.X, g.Y)
				continue
			}
			if w := all[k]; math.Abs(g.Width/knownPixel-w.wide) > 0.3 || math.Abs(g.Length/knownPixel-w.long) > 0.3 || math.Abs(g.Area/knownPixel/knownPixel/w.area-1) > 0.01 {
				t.Errorf("%g by %g px, wanted %g by %g", g.Width/knownPixel, g.Length/knownPixel, w.wide, w.long)
			}
		}
	}
	moved(200, 260, func(x, y int) (int, int) { return y, 199 - x }, func(p Point) Point { return Point{200*knownPixel - p.Y, p.X} }, 1)
	moved(260, 200, func(x, y int) (int, int) { return 259 - x, y }, func(p Point) Point { return Point{260*knownPixel - p.X, p.Y} }, 1)
	moved(520, 400, func(x, y int) (int, int) { return x / 2, y / 2 }, func(p Point) Point { return p }, 2)
}

// Grains that touch are parted in their middle; what has no waist is one.
func TestTouchingGrains(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		all  []shape
		want int
	}{
		"two":           {[]shape{lying(60, 60, 40, 40, 0, false), lying(98, 66, 40, 40, 0, false)}, 2},
		"three in line": {[]shape{lying(40, 90, 36, 36, 0, false), lying(74, 90, 36, 36, 0, false), lying(108, 90, 36, 36, 0, false)}, 3},
		// Of their hull, two circles with the tangents round them, they fill 0.921 and 0.939 (by hand).
		"one and less":  {[]shape{lying(70, 80, 60, 60, 0, false), lying(114, 80, 32, 32, 0, false)}, 2},
		"one and small": {[]shape{lying(70, 80, 60, 60, 0, false), lying(110, 80, 24, 24, 0, false)}, 1},
		"no waist":      {[]shape{lying(60, 60, 40, 40, 0, false), lying(70, 60, 40, 40, 0, false)}, 1},
		"small pair":    {[]shape{lying(60, 60, 12, 12, 0, false), lying(71, 60, 12, 12, 0, false), lying(120, 120, 40, 40, 0, true)}, 3},
		"long but one":  {[]shape{lying(100, 100, 20, 90, 40, false)}, 1},
		"a bow, parted": {[]shape{lying(60, 90, 16, 60, 0, true), lying(90, 62, 60, 16, 0, true)}, 2},
	} {
		s := found(t, laid(220, 180, c.all, darkOn(0.8, 0.6)))
		if len(s.Grains) != c.want {
			t.Errorf("%s: %d grains, wanted %d", name, len(s.Grains), c.want)
			continue
		}
		split := 0
		for _, g := range s.Grains {
			if g.Split {
				split++
			}
		}
		switch {
		case c.want == len(c.all) && c.want > 1 && name != "small pair" && name != "a bow, parted":
			for _, w := range c.all { // the middle moves by what of it lies in the other
				if !slices.ContainsFunc(s.Grains, func(g Grain) bool {
					return (Point{g.X, g.Y}).to(w.at.times(knownPixel)) < 1.2*knownPixel && math.Abs(g.Area/knownPixel/knownPixel/w.area-1) < 0.03 && g.Split && math.Abs(g.Level-0.6) < 0.02
				}) {
					t.Errorf("%s: the grain at %v is not among %d", name, w.at, len(s.Grains))
				}
			}
			if split != c.want {
				t.Errorf("%s: %d of %d count as parted", name, split, c.want)
			}
		case name == "small pair" && split != 2, c.want == 1 && split != 0:
			t.Errorf("%s: %d count as parted", name, split)
		}
	}
}

// What touches the edge, on whichever side, is counted and not measured; one pixel of
// ground between makes a grain of it. A mask has edges too.
func TestGrainsAtTheEdge(t *testing.T) {
	t.Parallel()
	whole := lying(110, 90, 40, 40, 0, false)
	at := []shape{lying(11, 90, 24, 24, 0, true), lying(110, 11, 24, 24, 0, true), lying(209, 90, 24, 24, 0, true), lying(110, 169, 24, 24, 0, true)}
	in := []shape{lying(13, 90, 24, 24, 0, true), lying(110, 13, 24, 24, 0, true), lying(207, 90, 24, 24, 0, true), lying(110, 167, 24, 24, 0, true)}
	for k := range at {
		if s := found(t, laid(220, 180, []shape{whole, at[k]}, darkOn(0.8, 0.6))); s.Touching != 1 || len(s.Grains) != 1 {
			t.Errorf("side %d: %d touch, %d do not", k, s.Touching, len(s.Grains))
		}
		if s := found(t, laid(220, 180, []shape{whole, in[k]}, darkOn(0.8, 0.6))); s.Touching != 0 || len(s.Grains) != 2 {
			t.Errorf("a pixel inside of side %d: %d touch, %d do not", k, s.Touching, len(s.Grains))
		}
	}
	// A mask without a block in the middle: the softening reaches two pixels into the rest.
	masked := func(g shape) *Spread {
		t.Helper()
		mask := make([]bool, 220*180)
		for i := range mask {
			x, y := i%220, i/220
			mask[i] = x < 90 || x >= 130 || y < 70 || y >= 110
		}
		s, err := Find(Field{Raster: laid(220, 180, []shape{lying(40, 40, 40, 40, 0, false), g}, darkOn(0.8, 0.6)), Pixel: knownPixel, Mask: mask})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for k, g := range [][2]shape{
		{lying(77, 90, 24, 24, 0, true), lying(73, 90, 24, 24, 0, true)}, {lying(110, 57, 24, 24, 0, true), lying(110, 53, 24, 24, 0, true)},
		{lying(143, 90, 24, 24, 0, true), lying(147, 90, 24, 24, 0, true)}, {lying(110, 123, 24, 24, 0, true), lying(110, 127, 24, 24, 0, true)},
	} {
		if s := masked(g[0]); s.Touching != 1 || len(s.Grains) != 1 {
			t.Errorf("at side %d of what is masked: %d touch, %d do not", k, s.Touching, len(s.Grains))
		}
		s := masked(g[1])
		if s.Touching != 0 || len(s.Grains) != 2 {
			t.Errorf("off side %d of what is masked: %d touch, %d do not", k, s.Touching, len(s.Grains))
		}
		// The share is of what the mask leaves, of which softening takes two pixels all round.
		if want := (math.Pi*400 + 576) / (216*176 - 44*44); math.Abs(s.Cover/want-1) > 0.01 {
			t.Errorf("cover %.5f, wanted %.5f", s.Cover, want)
		}
	}
}

// A shine in a grain is filled; ground that grains enclose in a ring is not when it is
// large and their hull is not full.
func TestShineIsFilled(t *testing.T) {
	t.Parallel()
	ring := laid(160, 160, []shape{lying(80, 80, 60, 60, 0, false)}, func(x, y int, share float64) float64 {
		if math.Hypot(float64(x)-79.5, float64(y)-79.5) < 14 {
			share = 0
		}
		return 0.8 * (1 - 0.6*share)
	})
	s := found(t, ring)
	if len(s.Grains) != 1 || math.Abs(s.Grains[0].Area/knownPixel/knownPixel/(math.Pi*900)-1) > 0.01 || s.Grains[0].Split {
		t.Errorf("%d grains, the first %.4g px²", len(s.Grains), s.Grains[0].Area/knownPixel/knownPixel)
	}
	var six []shape
	for k := range 6 {
		six = append(six, lying(80+38*math.Cos(float64(k)*math.Pi/3), 80+38*math.Sin(float64(k)*math.Pi/3), 40, 40, 0, false))
	}
	if s := found(t, laid(220, 220, six, darkOn(0.8, 0.6))); len(s.Grains) != 6 {
		t.Errorf("of six in a ring %d", len(s.Grains))
	}
}

// How blurred edges are: discs under a Gaussian of known width.
func TestKnownBlur(t *testing.T) {
	t.Parallel()
	for _, sigma := range []float64{1, 2, 3} {
		r := laid(220, 180, []shape{lying(60, 60, 60, 60, 0, false), lying(150, 110, 50, 50, 0, false)}, darkOn(0.8, 0.6))
		blurred(r, sigma)
		if s := found(t, r); math.Abs(s.Blur/knownPixel/sigma-1) > 0.06 {
			t.Errorf("blurred by %g px, found %.3f", sigma, s.Blur/knownPixel)
		}
	}
}

// Each limit of a field: just inside nothing is refused, just outside it is, with what
// was found.
func TestLimitsOfAField(t *testing.T) {
	t.Parallel()
	disc := func(wide float64) []shape {
		var all []shape
		for k := range 9 {
			all = append(all, lying(40.3+60*float64(k%3), 40.4+60*float64(k/3), wide, wide, 0, false))
		}
		return all
	}
	squares := []shape{lying(50, 50, 50, 50, 0, true), lying(150, 50, 50, 50, 0, true), lying(50, 150, 50, 50, 0, true), lying(150, 150, 50, 50, 0, true)}
	noisy := func(sd, less float64) Raster {
		rng := rand.New(rand.NewPCG(3, 4))
		return laid(200, 200, disc(34), func(_, _ int, share float64) float64 { return 0.5 * (1 - less*share + sd*rng.NormFloat64()) })
	}
	soft := func(sigma float64) Raster {
		r := laid(200, 200, disc(30), darkOn(0.8, 0.6))
		blurred(r, sigma)
		return r
	}
	for _, c := range []struct {
		name         string
		in, out      Raster
		code         Code
		value, slack float64
	}{
		{"cover", laid(200, 200, squares, darkOn(0.8, 0.6)), laid(200, 200, append(slices.Clone(squares), lying(100, 100, 12, 12, 0, true)), darkOn(0.8, 0.6)), Covered, 0.2536, 1e-9},
		{"difference", laid(200, 200, disc(30), darkOn(0.8, 0.122)), laid(200, 200, disc(30), darkOn(0.8, 0.118)), Faint, 0.118, 5e-4},
		{"pixels", laid(200, 200, disc(8.3), darkOn(0.8, 0.6)), laid(200, 200, disc(7.7), darkOn(0.8, 0.6)), TooFine, 7.7, 0.3},
		{"noise", noisy(0.09, 0.16), noisy(0.13, 0.16), Noisy, 0.16 / (0.13 * 0.375), 0.4},
		// A disc of 30 pixels so blurred does not reach its full difference any more, so less is told than 5.5/30.
		{"blur", soft(4.8), soft(5.6), Blurred, 0.155, 0.003},
		{"nothing", laid(200, 200, disc(12), darkOn(0.8, 0.6)), laid(200, 200, nil, darkOn(0.8, 0.6)), NoGrains, 0, 0},
		{"side", laid(64, 64, []shape{lying(32, 32, 20, 20, 0, false)}, darkOn(0.8, 0.6)), laid(64, 63, []shape{lying(32, 32, 20, 20, 0, false)}, darkOn(0.8, 0.6)), TooSmall, 63, 0},
		{"other side", laid(64, 64, []shape{lying(32, 32, 20, 20, 0, false)}, darkOn(0.8, 0.6)), laid(63, 64, []shape{lying(32, 32, 20, 20, 0, false)}, darkOn(0.8, 0.6)), TooSmall, 63, 0},
	} {
		if _, err := Find(Field{Raster: c.in, Pixel: knownPixel}); err != nil {
			t.Errorf("%s: inside, %v", c.name, err)
		}
		_, err := Find(Field{Raster: c.out, Pixel: knownPixel})
		var r *Refusal
		if !errors.As(err, &r) || r.Code != c.code || math.Abs(r.Value-c.value) > c.slack {
			t.Errorf("%s: outside, %v, wanted %s at %g", c.name, err, c.code, c.value)
		}
	}
	// Six pixels are a patch, five are the camera's dust.
	for wide, want := range map[float64]int{2: 2, 1: 1} {
		long := 3.0
		if wide == 1 {
			long = 5
		}
		s := found(t, laid(200, 200, []shape{lying(60, 60, 40, 40, 0, false), lying(150+wide/2, 150+long/2, long, wide, 0, true)}, darkOn(0.8, 0.6)))
		if len(s.Grains) != want {
			t.Errorf("%g by %g pixels: %d grains, wanted %d", wide, long, len(s.Grains), want)
		}
	}
}
