package grain

// Marks of a sheet on rasters of a few pixels, every bound of theirs from both sides, and how blurred an edge is by its slope.

import (
	"image"
	"image/color"
	"math"
	"runtime"
	"slices"
	"testing"
)

// paper is a light raster to draw on.
type paper struct{ Gray }

func newPaper(w, h int) paper { return paper{Gray{w, h, slices.Repeat([]uint8{200}, w*h)}} }

func (p paper) fill(x, y, w, h int, v uint8) {
	for i := range w * h {
		p.V[(y+i/w)*p.W+x+i%w] = v
	}
}

// ring draws a dark box with a light one in its middle.
func (p paper) ring(x, y, w, h, holeW, holeH int) {
	p.fill(x, y, w, h, 20)
	p.fill(x+(w-holeW)/2, y+(h-holeH)/2, holeW, holeH, 200)
}

// What is looked at as a mark: at least nine pixels wide and high, at most three times as wide as high, a third of the picture,
// and dark in a fifth of its box.
func TestWhatMayBeAMark(t *testing.T) {
	t.Parallel()
	lattice := func(thick int) func(p paper) {
		return func(p paper) { // four bars across, four down: the middle pane is the largest hole
			for k := range 4 {
				p.fill(70, 70+[]int{0, 19, 40, 60 - thick}[k], 60, thick, 20)
				p.fill(70+[]int{0, 19, 40, 60 - thick}[k], 70, thick, 60, 20)
			}
		}
	}
	for name, c := range map[string]struct {
		w, h int
		draw func(p paper)
		want int
	}{
		"nothing": {120, 90, func(paper) {}, 0}, "nine wide": {120, 90, func(p paper) { p.ring(40, 40, 9, 9, 5, 5) }, 1},
		"eight wide": {120, 90, func(p paper) { p.ring(40, 40, 8, 9, 4, 5) }, 0}, "eight high": {120, 90, func(p paper) { p.ring(40, 40, 9, 8, 5, 4) }, 0},
		"eight and long": {120, 90, func(p paper) { p.ring(40, 40, 8, 20, 4, 12) }, 0}, "long and eight": {120, 90, func(p paper) { p.ring(40, 40, 20, 8, 12, 4) }, 0},
		"three to one": {120, 90, func(p paper) { p.ring(40, 40, 27, 9, 13, 5) }, 1}, "more": {120, 90, func(p paper) { p.ring(40, 40, 28, 9, 14, 5) }, 0}, "as high": {120, 90, func(p paper) { p.ring(40, 30, 9, 28, 5, 14) }, 0},
		"a third": {120, 120, func(p paper) { p.ring(40, 40, 40, 40, 20, 20) }, 1}, "wider": {120, 240, func(p paper) { p.ring(40, 40, 41, 40, 21, 20) }, 0}, "higher": {240, 120, func(p paper) { p.ring(40, 40, 40, 41, 20, 21) }, 0},
		"thin bars": {200, 200, lattice(1), 0}, "thick bars": {200, 200, lattice(3), 1},
		"two of three": {120, 90, func(p paper) { p.ring(5, 5, 12, 12, 6, 6); p.ring(50, 5, 12, 12, 6, 6); p.fill(90, 50, 12, 12, 20) }, 2},
	} {
		p := newPaper(c.w, c.h)
		c.draw(p)
		if got := candidates(p.Gray); len(got) != c.want {
			t.Errorf("%s: %d marks, by hand %d", name, len(got), c.want)
		}
	}
	// Half dotted or not: a window of a quarter of the hole to each side of its middle, dark in more than a fifth.
	for _, c := range []struct {
		holeW, holeH, dotW, dotH int
		want                     bool
	}{{20, 20, 5, 5, true}, {20, 20, 6, 4, false}, {20, 20, 4, 6, false}, {20, 12, 5, 2, true}, {20, 12, 3, 3, false}, {12, 20, 2, 5, true}, {12, 20, 3, 3, false}} {
		p := newPaper(120, 120)
		p.ring(40, 50, 32, 32, c.holeW, c.holeH)
		p.fill(56-c.dotW/2, 66-c.dotH/2, c.dotW, c.dotH, 20)
		all := candidates(p.Gray)
		if len(all) != 1 || all[0].dotted != c.want {
			t.Errorf("a dot of %d by %d in %d by %d: %+v", c.dotW, c.dotH, c.holeW, c.holeH, all)
		}
	}
}

// What lies aside is a dot by what of it lies within the window, 11 by 11 in a hole of 20: 3 columns of 9, or rows, but not 2.
func TestDotsAside(t *testing.T) {
	t.Parallel()
	for at, want := range map[[4]int]bool{{59, 62, 5, 9}: true, {60, 62, 5, 9}: false, {52, 69, 9, 5}: true, {52, 70, 9, 5}: false, {49, 62, 5, 9}: true, {48, 62, 5, 9}: false, {52, 59, 9, 5}: true, {52, 58, 9, 5}: false} {
		p := newPaper(120, 120)
		p.ring(40, 50, 32, 32, 20, 20)
		p.fill(at[0], at[1], at[2], at[3], 20)
		if all := candidates(p.Gray); len(all) != 1 || all[0].dotted != want {
			t.Errorf("a dot at %v: %+v", at, all)
		}
	}
	// The corners of a tall and of a wide lozenge, whichever way it leans.
	for _, q := range [][]Point{{{0, 0}, {2, -10}, {4, 0}, {2, 10}}, {{-10, 0}, {0, -2}, {10, 0}, {0, 2}}, {{0, 1}, {3, -9}, {5, -1}, {2, 9}}} {
		got, ok := fourCorners(Hull(slices.Clone(q)))
		if !ok || math.Abs(areaOf(got[:])-areaOf(q)) > 1e-12 || got[1].minus(got[0]).cross(got[2].minus(got[1])) <= 0 {
			t.Errorf("corners of %v are %v, %t", q, got, ok)
		}
	}
}

// Every third pixel of every third row is what the whole plane has there, whatever the picture is made of.
func TestPlanesOfEveryThirdPixel(t *testing.T) {
	t.Parallel()
	box := image.Rect(3, 2, 3+17, 2+13)
	gray, rgba, nrgba, deep, ycc := image.NewGray(box), image.NewRGBA(box), image.NewNRGBA(box), image.NewNRGBA64(box), image.NewYCbCr(box, image.YCbCrSubsampleRatio420)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			c := color.NRGBA{uint8(7 * x * y), uint8(40 + 11*x), uint8(200 - 13*y), 255}
			gray.Set(x, y, c)
			rgba.Set(x, y, c)
			nrgba.Set(x, y, c)
			deep.Set(x, y, c)
		}
	}
	for i := range ycc.Y {
		ycc.Y[i] = uint8(31 * i)
	}
	for i := range ycc.Cb {
		ycc.Cb[i], ycc.Cr[i] = uint8(90+17*i), uint8(160-19*i)
	}
	for name, img := range map[string]image.Image{"gray": gray, "RGBA": rgba, "NRGBA": nrgba, "NRGBA64": deep, "YCbCr": ycc} {
		for _, c := range channels {
			whole, third := Plane(img, c, 1), Plane(img, c, 3)
			if third.W != 6 || third.H != 5 || whole.W != 17 || whole.H != 13 {
				t.Fatalf("%s: %d by %d of %d by %d", name, third.W, third.H, whole.W, whole.H)
			}
			for i, v := range third.V {
				if want := whole.V[i/6*3*17+i%6*3]; v != want {
					t.Fatalf("%s of %s: pixel %d is %d, wanted %d", c, name, i, v, want)
				}
			}
		}
	}
}

// A square of 20 with its sides dented: of the 361 between the middles of its outer pixels 325 are more than a tenth too few, 330
// are enough; seven wide it has too little between its middles, 36 of 49, eight wide enough, 49 of 64.
func TestMarksByTheirCorners(t *testing.T) {
	t.Parallel()
	mark := func(side int, dark func(x, y int) bool) bool {
		l := Label(side+10, side+10, func(i int) bool {
			x, y := i%(side+10)-5, i/(side+10)-5
			return x >= 0 && x < side && y >= 0 && y < side && dark(x, y)
		}, true)
		_, ok := l.mark(1, l.boxes()[1])
		return ok
	}
	dented := func(gone int) func(x, y int) bool { // so many pixels off the four sides, row by row and never at a corner
		out := map[[2]int]bool{}
		for deep := 0; len(out) < gone; deep++ {
			for k := 2 + deep; k < 18-deep && len(out) < gone; k++ {
				for _, at := range [][2]int{{k, deep}, {k, 19 - deep}, {deep, k}, {19 - deep, k}} {
					if len(out) < gone {
						out[at] = true
					}
				}
			}
		}
		return func(x, y int) bool { return !out[[2]int{x, y}] && (x < 6 || x > 13 || y < 6 || y > 13) }
	}
	for gone, want := range map[int]bool{0: true, 70: true, 75: false} {
		if got := mark(20, dented(gone)); got != want {
			t.Errorf("%d pixels dented: %t", gone, got)
		}
	}
	for side, want := range map[int]bool{7: false, 8: true} {
		if got := mark(side, func(x, y int) bool { return x < 2 || x > side-3 || y < 2 || y > side-3 }); got != want {
			t.Errorf("%d wide: %t", side, got)
		}
	}
	// Of half a disc the farthest two lie on its straight side: nothing on the other side of their line, so no four corners.
	var half []Point
	for k := range 9 {
		s, c := math.Sincos(math.Pi * float64(k) / 8)
		half = append(half, Point{10 * c, 10 * s})
	}
	for _, up := range []float64{1, -1} {
		var turned []Point
		for _, p := range half {
			turned = append(turned, Point{p.X, up * p.Y})
		}
		if q, ok := fourCorners(Hull(turned)); ok {
			t.Errorf("half a disc has corners %v", q)
		}
	}
}

// A corner brought nearer than three tenths of the side to where the sides meet is put there; one farther off is none.
func TestCornersArePutWhereSidesMeet(t *testing.T) {
	t.Parallel()
	p := newPaper(120, 120)
	p.fill(40, 40, 40, 40, 20)
	for off, want := range map[float64]bool{0: true, 8.4: true, 8.6: false} { // 11.9 and 12.2 of 40
		m := mark{corners: [4]Point{{20 + off/2, 20 + off/2}, {40, 20}, {40, 40}, {20, 40}}, middle: Point{30, 30}, side: 20}
		m = p.refine(m, 2)
		if (m.side == 40) != want || !want && m.side != 0 {
			t.Errorf("%g off: side %g", off, m.side)
		}
		for i, at := range []Point{{40, 40}, {80, 40}, {80, 80}, {40, 80}} {
			if want && (m.corners[i].to(at) > 0.01+0.2*off || m.middle.to(Point{60, 60}) > 0.01+0.03*off) {
				t.Errorf("%g off: corner %v, middle %v", off, m.corners[i], m.middle)
			}
		}
	}
	// 21 points on a line and one off it: within 0.05 it stays, for the others then lie all but on it.
	for off, want := range map[float64]float64{0.052: 0.052 / 22, 0.053: 0, 3: 0} {
		all := []Point{{0, off}}
		for k := range 21 {
			all = append(all, Point{float64(k - 10), 0})
		}
		line, ok := lineThrough(all, 21)
		if !ok || math.Abs(line[0].Y-want) > 1e-9 || math.Abs(line[1].Y-want) > 1e-9 {
			t.Errorf("one %g off: %v", off, line)
		}
	}
}

// Nine candidates are tried, the largest: four marks of a sheet are found beside five other rings, not behind nine larger ones.
func TestNineCandidatesAreTried(t *testing.T) {
	t.Parallel()
	for others, want := range map[int]bool{5: true, 9: false} {
		p := newPaper(480, 370)
		for i, at := range [][2]int{{60, 60}, {60 + 352, 60}, {60 + 352, 60 + 248}, {60, 60 + 248}} { // 2 px a millimetre
			p.ring(at[0]-12, at[1]-12, 24, 24, 12, 12)
			if i == 0 {
				p.fill(at[0]-3, at[1]-3, 6, 6, 20)
			}
		}
		for k := range others {
			p.ring(110+80*(k%3), 90+80*(k/3), 28, 28, 14, 14)
		}
		s, err := FindMarks(p.Gray)
		if (err == nil) != want {
			t.Errorf("beside %d: %v", others, err)
		}
		if want && (s.Sheet.Name != "whole" || s.Off > 1e-4 || math.Abs(s.Tilt-1) > 1e-3 || s.To(Point{}).to(Point{60 + 176, 60 + 124}) > 0.2) {
			t.Errorf("beside %d: %+v", others, s)
		}
		if others == 9 {
			refusedWith(t, "behind", err, &Refusal{Unscaled, 9, 4, ""}, 0)
		}
	}
}

// A grain of twice 0.25 above the ground whose edge rises by 0.05 a pixel is blurred by 0.5/(0.05 √2π) = 3.989 pixels, less
// 1/2 + 1/12 + 1/3 of a square pixel that are our own. Of many slopes the one at three quarters counts; those at the raster's edge do not.
func TestBlurByItsSlope(t *testing.T) {
	t.Parallel()
	of := func(slope func(x, y int) float64, level float32, area int, points []Point) float64 {
		g := &finder{Field: Field{Raster: NewRaster(40, 30)}, level: []float32{0, level}, boxes: []box{{}, {area: area}}}
		for i := range g.V {
			g.V[i] = float32(slope(i%40, i/40))
		}
		return g.blur(1, points)
	}
	ramp := func(x, y int) float64 { return 0.03*float64(x) + 0.04*float64(y) } // 0.05 along its steepest
	inside := []Point{{10.5, 10.5}}
	want := math.Sqrt(math.Pow(0.5/(0.05*math.Sqrt(2*math.Pi)), 2) - 0.5 - 1.0/12 - 1.0/3)
	closeTo(t, "blur", of(ramp, 0.25, 100, inside), want, 1e-4)
	closeTo(t, "of a small grain", of(ramp, 0.25, 99, inside), 0, 0)
	closeTo(t, "of nothing", of(ramp, 0.25, 100, nil), 0, 0)
	closeTo(t, "of a flat", of(func(int, int) float64 { return 0.5 }, 0.25, 100, inside), 0, 0)
	closeTo(t, "sharper than our own", of(ramp, 0.05, 100, inside), 0.1, 1e-9)
	for _, p := range []Point{{0.9, 10}, {10, 0.9}, {39.1, 10}, {10, 29.1}} {
		closeTo(t, "at the raster's edge", of(ramp, 0.25, 100, []Point{p}), 0, 0)
	}
	for _, p := range []Point{{1.1, 10}, {10, 1.1}, {38.9, 10}, {10, 28.9}} {
		closeTo(t, "beside it", of(ramp, 0.25, 100, []Point{p}), want, 1e-4)
	}
	// 130 points, every third looked at: along x² / 800 slopes rise by 1/400 a pixel.
	bent := func(x, _ int) float64 { return float64(x*x) / 800 }
	var many []Point
	var slopes []float64
	for k := range 130 {
		x := 1 + k*7%38
		many = append(many, Point{float64(x) + 0.5, 15})
		if k%3 == 0 {
			slopes = append(slopes, float64(x)/400)
		}
	}
	slices.Sort(slopes)
	s := slopes[33] // of 44
	closeTo(t, "of many slopes", of(bent, 0.25, 100, many), math.Sqrt(math.Pow(0.5/(s*math.Sqrt(2*math.Pi)), 2)-0.5-1.0/12-1.0/3), 1e-3)
}

// Two corners less than a pixel apart: what lies between them goes by its distance from their line, 0.05, not from either, 0.4.
func TestThinnedBetweenNearCorners(t *testing.T) {
	t.Parallel()
	way := []Point{{0, 0}, {10, 5}, {10.4, 5.05}, {10.8, 5.2}, {20, 0}, {10, -5}}
	if got := thinned(way, 0.1); len(got) != 5 || slices.Contains(got, way[2]) {
		t.Errorf("left are %v", got)
	}
	if got := massMedian([]Grain{{Area: 1, Width: 5}, {Area: 10, Width: 1}, {Area: 2, Width: 3}, {Area: 2, Width: 2.5}}); got != 2.5 { // 10, 5, 6, 5 of 26 by width
		t.Errorf("half the mass lies at %g", got)
	}
	if got := massMedian(nil); got != 0 {
		t.Errorf("half of nothing lies at %g", got)
	}
}

// Rows are cut into bands of at least 64, no more than there are cores; asking changes nothing.
func TestBandsOfRows(t *testing.T) {
	t.Parallel()
	cores := runtime.GOMAXPROCS(0)
	for rows, want := range map[int]int{1: 1, 63: 1, 127: 1, 128: 2, 640: 8} {
		if got := bandsOf(rows); got != min(want, cores) {
			t.Errorf("%d rows are cut into %d bands", rows, got)
		}
	}
	if got := runtime.GOMAXPROCS(0); got != cores {
		t.Errorf("%d cores, before %d", got, cores)
	}
}
