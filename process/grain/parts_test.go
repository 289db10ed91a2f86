package grain

// The steps inside: ground, planes of a picture, outlines and lines, each by hand.

import (
	"image"
	"image/color"
	"math"
	"slices"
	"testing"
)

// The ground's squares: their middles, what lies between them, what a mask leaves.
func TestGroundSquares(t *testing.T) {
	t.Parallel()
	r := NewRaster(70, 40) // squares of 32: the last column 6 wide, the last row 8 high
	for i := range r.V {
		x, y := i%70, i/70
		r.V[i] = float32(1 + x/32 + 10*(y/32))
	}
	mask := make([]bool, len(r.V))
	for i := range mask {
		mask[i] = i%70 < 64
	}
	for _, m := range [][]bool{nil, mask} {
		s := tiles(r, m, 32)
		if s.nx != 3 || s.ny != 2 {
			t.Fatalf("%d by %d squares", s.nx, s.ny)
		}
		for k, want := range []float64{1, 2, 3, 11, 12, 13} {
			if gone := m != nil && k%3 == 2; gone != math.IsNaN(s.v[k]) || !gone && s.v[k] != want {
				t.Errorf("square %d is %g, wanted %g", k, s.v[k], want)
			}
		}
	}
	// Between the middles of squares brightness rises in a line, beyond the outer ones not.
	s := tiles(r, nil, 32)
	out := make([]float32, 70)
	for y, base := range map[int]float64{0: 0, 15: 0, 39: 10 * (39.5/32 - 0.5)} {
		s.row(y, out)
		for x, got := range out {
			want := 1 + min(max((float64(x)+0.5)/32-0.5, 0), 2) + base
			if math.Abs(float64(got)-want) > 1e-5 {
				t.Errorf("at %d, %d: %g, wanted %g", x, y, got, want)
			}
		}
	}
	// A curved surface is the one it was made of, at the middles of squares and along rows.
	curve := func(u, v float64) float64 { return 0.5 + 0.1*u - 0.2*v + 0.3*u*u - 0.15*u*v + 0.25*v*v }
	big := NewRaster(320, 256)
	for i := range big.V {
		big.V[i] = float32(curve((float64(i%320))/320-0.5, (float64(i/320))/256-0.5))
	}
	ground := groundOf(big, nil)
	if ground.poly == nil {
		t.Fatal("no curved surface")
	}
	line := make([]float32, 320)
	for _, y := range []int{0, 100, 255} {
		ground.row(y, line)
		for x, got := range line {
			if want := curve(float64(x)/320-0.5, float64(y)/256-0.5); math.Abs(float64(got)-want) > 6e-3 {
				t.Fatalf("at %d, %d: %g, wanted %g", x, y, got, want)
			}
		}
	}
	for i, c := range []float64{0.5, 0.1, -0.2, 0.3, -0.15, 0.25} {
		if math.Abs(ground.poly[i]-c) > 6e-3 {
			t.Errorf("term %d is %.4f, wanted %g", i, ground.poly[i], c)
		}
	}
	// One square full of grain is smoothed away by those around it.
	one := surface{nx: 4, ny: 3, side: 64, w: 256, h: 192, v: slices.Repeat([]float64{0.5}, 12)}
	one.v[5], one.v[0], one.v[11] = 0.1, math.NaN(), 0.7
	for i, v := range smoothed(one).v {
		if v != 0.5 && i != 11 || i == 11 && (v < 0.5 || v > 0.7) {
			t.Errorf("square %d is smoothed to %g", i, v)
		}
	}
	// A card on black: squares far from the middle of all are left out, those near it not.
	near := surface{v: []float64{0.1, 0.11, 0.09, 0.1, 0.12, 0.08, 0.9, math.NaN(), 0.1, 0.11}}
	if got := near.near(); !slices.Equal(got, []bool{true, true, true, true, true, true, false, false, true, true}) {
		t.Errorf("near the middle: %v", got)
	}
}

// Steps of a ground no curve fits are followed by the squares themselves.
func TestSteppedGround(t *testing.T) {
	t.Parallel()
	all := []shape{lying(80, 80, 30, 30, 0, false), lying(300, 90, 30, 30, 0, false), lying(90, 300, 30, 40, 20, false), lying(310, 310, 30, 30, 0, false)}
	s := found(t, laid(400, 400, all, func(x, y int, share float64) float64 {
		u := math.Hypot(float64(x)-200, float64(y)-200) / 283
		return (0.9 - 0.45*u*u*u*u) * (1 - 0.7*share)
	}))
	compared(t, "light that falls off with the fourth power", s, all, 0.7, 0.2)
}

// A histogram of two heaps is parted between them (Otsu1979: the halves differ most).
func TestOtsu(t *testing.T) {
	t.Parallel()
	count := make([]int, 100)
	for k := range 10 {
		count[10+k], count[60+k] = 50, 20
	}
	if at := otsu(count); at < 20 || at > 60 {
		t.Errorf("parted at %d", at)
	}
	// By hand, between-class variance n₁ n₂ (m₁−m₂)²: of 4 at 0, 1 at 2, 2 at 10 it is 4·3·(22/3)² = 645 after
	// the first, 5·2·9.6² = 922 after the second.
	if at := otsu([]int{4, 0, 1, 0, 0, 0, 0, 0, 0, 0, 2}); at != 3 {
		t.Errorf("parted at %d, wanted 3", at)
	}
	if at := otsu([]int{0, 7, 0}); at != 0 {
		t.Errorf("one heap is parted at %d", at)
	}
}

// Channels of every kind of picture; the mean of squares, rounded; light between pixels.
func TestPlanes(t *testing.T) {
	t.Parallel()
	want := map[Channel]uint8{Luma: 124, Red: 10, Green: 200, Blue: 30, Lightest: 200, Darkest: 10}
	at := color.NRGBA{10, 200, 30, 255}
	box := image.Rect(2, 3, 5, 7)
	rgba, deep, ycc, gray := image.NewRGBA(box), image.NewNRGBA64(box), image.NewYCbCr(box, image.YCbCrSubsampleRatio444), image.NewGray(box)
	y, cb, cr := color.RGBToYCbCr(10, 200, 30)
	for i := range ycc.Y {
		ycc.Y[i], ycc.Cb[i], ycc.Cr[i] = 50, 128, 128
	}
	rgba.Set(3, 5, at)
	deep.Set(3, 5, at)
	gray.SetGray(3, 5, color.Gray{124})
	k := ycc.YOffset(3, 5)
	ycc.Y[k], ycc.Cb[k], ycc.Cr[k] = y, cb, cr
	for name, img := range map[string]image.Image{"RGBA": rgba, "NRGBA64": deep, "YCbCr": ycc, "Gray": gray} {
		for c, v := range want {
			if name == "Gray" {
				v = 124
			}
			g := Plane(img, c, 1)
			if got := g.V[(5-3)*g.W+3-2]; g.W != 3 || g.H != 4 || math.Abs(float64(got)-float64(v)) > 2 {
				t.Errorf("%s of %s: %d, wanted %d", c, name, got, v)
			}
		}
	}
	if g := Plane(gray, Luma, 2); g.W != 2 || g.H != 2 || g.V[3] != 0 || g.V[2] != 0 {
		t.Errorf("every second pixel: %+v", g)
	}
	g := shrink(Gray{5, 4, []uint8{1, 2, 10, 20, 9, 3, 4, 30, 41, 9, 0, 0, 7, 7, 9, 0, 1, 7, 7, 9}}, 2)
	if g.W != 2 || g.H != 2 || !slices.Equal(g.V, []uint8{3, 25, 0, 7}) { // 10/4 = 2.5, 101/4 = 25.25, 1/4, 28/4
		t.Errorf("shrunk to %+v", g)
	}
	four := Gray{3, 3, []uint8{0, 255, 0, 255, 0, 0, 0, 0, 0}}
	for _, c := range []struct{ x, y, want float64 }{{0.5, 0.5, 0}, {1.5, 0.5, 1}, {1, 0.5, 0.5}, {0.5, 1, 0.5}, {1, 1, 0.5}, {1.25, 0.5, 0.75}, {1.5, 1, 0.5}, {0.75, 0.75, 0.375}} {
		if v, ok := four.light(c.x, c.y); !ok || math.Abs(v-c.want) > 1e-7 {
			t.Errorf("light at %g, %g: %g %v, wanted %g", c.x, c.y, v, ok, c.want)
		}
	}
	for _, p := range []Point{{0.4, 1}, {1, 0.4}, {2.5, 1}, {1, 2.5}} {
		if _, ok := four.light(p.X, p.Y); ok {
			t.Errorf("light at %v, outside", p)
		}
	}
	// sRGB there and back.
	all := NewRaster(256, 1)
	copy(all.V, linear[:])
	for i, v := range coded(all).V {
		if math.Abs(float64(v)-float64(i)) > 1 {
			t.Errorf("code %d comes back as %d", i, v)
		}
	}
	if got := coded(Raster{2, 1, []float32{-1, 2}}); got.V[0] != 0 || got.V[1] != 255 {
		t.Errorf("beyond black and white: %v", got.V)
	}
	for code, want := range map[int]float64{0: 0, 10: 10 / 255.0 / 12.92, 11: 0.0033465, 188: 0.5029, 255: 1} { // IEC 61966-2-1
		if math.Abs(float64(linear[code])-want) > 1e-4*want {
			t.Errorf("code %d is light %g, wanted %g", code, linear[code], want)
		}
	}
}

// Outlines run along the sides of pixels, once round, corners only.
func TestOutline(t *testing.T) {
	t.Parallel()
	rows := []string{"........", ".######.", ".######.", ".##.....", ".##.....", ".##....#", "........"}
	l := Label(8, 7, func(i int) bool { return rows[i/8][i%8] == '#' }, true)
	b := l.boxes()
	got := outline(l, 1, b[1], 0.5)
	want := []Point{{1, 1}, {7, 1}, {7, 3}, {3, 3}, {3, 6}, {1, 6}}
	if !slices.Equal(got, want) {
		t.Errorf("outline %v, wanted %v", got, want)
	}
	if got := outline(l, 2, b[2], 0.5); !slices.Equal(got, []Point{{7, 5}, {8, 5}, {8, 6}, {7, 6}}) {
		t.Errorf("of one pixel: %v", got)
	}
	// A stair of single pixels lies within 0.71 of its line: with that slack only its ends and the far corner stay.
	stair := Label(12, 12, func(i int) bool { return i%12 >= 1 && i/12 >= 1 && i%12 <= i/12 && i/12 <= 10 }, true)
	if got := outline(stair, 1, stair.boxes()[1], 0.75); len(got) > 4 {
		t.Errorf("a stair keeps %d corners: %v", len(got), got)
	}
	if got := outline(stair, 1, stair.boxes()[1], 0.1); len(got) != 22 { // ten steps of two, and two ends
		t.Errorf("with little slack it keeps %d", len(got))
	}
}

// Where lines meet, which line goes through points, and how four corners are picked.
func TestLines(t *testing.T) {
	t.Parallel()
	if p, ok := meet([2]Point{{0, 1}, {4, 1}}, [2]Point{{3, -5}, {3, 9}}); !ok || p.to(Point{3, 1}) > 1e-12 {
		t.Errorf("they meet at %v %v", p, ok)
	}
	if p, ok := meet([2]Point{{1, 1}, {2, 3}}, [2]Point{{0, 10}, {5, 0}}); !ok || p.to(Point{2.75, 4.5}) > 1e-12 { // y = 2x−1 and y = 10−2x
		t.Errorf("they meet at %v %v", p, ok)
	}
	if _, ok := meet([2]Point{{0, 0}, {1, 1}}, [2]Point{{0, 1}, {2, 3}}); ok {
		t.Error("lines side by side meet")
	}
	var on []Point
	for k := range 30 {
		x := float64(k)
		on = append(on, Point{x, 2 + 0.5*x + 0.01*float64(k%3-1)})
	}
	off := append(slices.Clone(on), Point{5, 9}, Point{20, 2})
	line, ok := lineThrough(off, 20)
	for _, p := range line {
		if !ok || math.Abs(p.Y-2-0.5*p.X) > 0.02*(1+math.Abs(p.X)/50) {
			t.Errorf("through %v %v", line, ok)
		}
	}
	if math.Abs(line[0].to(line[1])-100) > 1e-9 {
		t.Error("its two points lie 100 apart")
	}
	if _, ok := lineThrough(on, 31); ok {
		t.Error("30 points are fewer than 31")
	}
	if _, ok := lineThrough(on, 30); !ok {
		t.Error("30 points are not fewer than 30")
	}
	// A quadrilateral among the points of its sides, whichever way they turn.
	want := []Point{{0, 0}, {10, 1}, {9, 8}, {-1, 6}}
	var all []Point
	for i := range want {
		for k := range 10 {
			all = append(all, between(want[i], want[(i+1)%4], float64(k)/10))
		}
	}
	q, ok := fourCorners(Hull(all))
	if !ok {
		t.Fatal("no corners")
	}
	for i, p := range q {
		if !slices.ContainsFunc(want, func(w Point) bool { return w.to(p) < 1e-9 }) || q[(i+1)%4].minus(p).cross(q[(i+2)%4].minus(q[(i+1)%4])) <= 0 {
			t.Errorf("corners %v", q)
		}
	}
	for _, size := range []float64{0.1, 1e3} { // however large a unit of length is
		var scaled []Point
		for _, p := range all {
			scaled = append(scaled, p.times(size))
		}
		q, _ := fourCorners(Hull(scaled))
		if a := areaOf(q[:]) / size / size; math.Abs(a-areaOf(want)) > 1e-6 || q[1].minus(q[0]).cross(q[2].minus(q[1])) <= 0 {
			t.Errorf("%g times as large: corners %v", size, q)
		}
	}
	if _, ok := fourCorners(want[:3]); ok {
		t.Error("a triangle has four corners")
	}
	if at := leastAt(0.9, 1.1, func(x float64) float64 { return (x - 1.0345) * (x - 1.0345) }); math.Abs(at-1.0345) > 1e-5 {
		t.Errorf("least at %g", at)
	}
}

// A hole is filled where it is smaller than a tenth of its patch, or where the patch with
// its holes fills 0.92 of the hull; both sides, in pixels.
func TestHolesByTheirShare(t *testing.T) {
	t.Parallel()
	const w, h = 62, 52
	drawn := func(holes ...int) (set []bool, area int) { // a block of 60 by 50, each hole so many pixels along a row of its own
		set = make([]bool, w*h)
		for y := 1; y < h-1; y++ {
			for x := 1; x < w-1; x++ {
				set[y*w+x] = true
			}
		}
		area = 60 * 50
		for k, n := range holes {
			for i := range n {
				set[(3+k*12+i/58*1)*w+2+i%58] = false
			}
			area -= n
		}
		return set, area
	}
	g := &finder{}
	for _, c := range []struct {
		holes []int
		hull  float64
		want  int
	}{
		{[]int{272}, 1e6, 272}, {[]int{273}, 1e6, 0}, // a tenth of 2728 is 272.8, of 2727 272.7
		{[]int{400}, 3000 / 0.9201, 400}, {[]int{400}, 3000 / 0.9199, 0}, {[]int{400, 50}, 1e6, 50}, {[]int{400, 50}, 3000, 450}, {nil, 1e6, 0},
	} {
		set, area := drawn(c.holes...)
		if n := g.fill(w, h, set, area, c.hull); n != c.want {
			t.Errorf("holes of %v in a hull of %.0f: %d pixels filled, wanted %d", c.holes, c.hull, n, c.want)
		}
	}
}

// Boxes of patches, by hand: x1 and y1 are beyond them; corners join where asked.
func TestBoxesByHand(t *testing.T) {
	t.Parallel()
	rows := []string{"##....#", "..#..##", "......."}
	set := func(i int) bool { return rows[i/7][i%7] == '#' }
	if got := Label(7, 3, set, true).boxes(); !slices.Equal(got[1:], []box{{0, 0, 3, 2, 3}, {5, 0, 7, 2, 3}}) {
		t.Errorf("with corners %v", got)
	}
	if got := Label(7, 3, set, false).boxes(); !slices.Equal(got[1:], []box{{0, 0, 2, 1, 2}, {5, 0, 7, 2, 3}, {2, 1, 3, 2, 1}}) {
		t.Errorf("without %v", got)
	}
	if b := (box{2, 3, 7, 5, 0}); b.w() != 5 || b.h() != 2 {
		t.Errorf("%d by %d", b.w(), b.h())
	}
}

// A mask loses two pixels all round, at its own edges and those of the field.
func TestErodedMask(t *testing.T) {
	t.Parallel()
	const w, h = 12, 10
	mask := make([]bool, w*h)
	for i := range mask {
		mask[i] = i != 5*w+7
	}
	for i, in := range eroded(mask, w, h) {
		x, y := i%w, i/w
		far := max(x-7, 7-x) + max(y-5, 5-y) // steps along the sides
		if want := x >= 2 && x < w-2 && y >= 2 && y < h-2 && far > 2; in != want {
			t.Errorf("at %d, %d: %v", x, y, in)
		}
	}
	if eroded(nil, w, h) != nil {
		t.Error("a mask of none")
	}
}
