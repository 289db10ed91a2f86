package grain

// Small fields drawn by chance, stage by stage: what the ground, its noise, the patches and the grains come to. And
// single stages by hand.

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// strewn draws a field of a few grains on uneven ground, dark or light, with touching ones, rings and some at the edge.
func strewn(rng *rand.Rand, k int) Field {
	w, h := 64+rng.IntN(90), 64+rng.IntN(70)
	if k >= 60 { // large enough for a curved ground
		w, h = w+130, h+110
	}
	f := Field{Raster: NewRaster(w, h), Pixel: 1e-4}
	base, slope, bow := []float64{0.8, 0.5, 0.12, 0.9}[k%4], 0.2*rng.Float64()-0.1, 0.3*rng.Float64()*float64(k%3/2)
	less := []float64{0.7, -0.5, 0.4, 0.15, 0.9}[k%5]
	noise := []float64{0.004, 0.01, 0.03}[k%3]
	type blob struct{ x, y, a, b, turn, hole float64 }
	var all []blob
	for range 2 + rng.IntN(7) {
		b := blob{float64(w) * rng.Float64(), float64(h) * rng.Float64(), 3 + 8*rng.Float64(), 3 + 6*rng.Float64(), 3 * rng.Float64(), 0}
		if rng.IntN(4) == 0 {
			b.hole = 0.2 + 0.4*rng.Float64()
		}
		all = append(all, b)
		if rng.IntN(3) == 0 { // another that touches it
			all = append(all, blob{b.x + b.a + 3, b.y, 3 + 4*rng.Float64(), 4, 0, 0})
		}
	}
	soft := 0.5 + 1.5*rng.Float64()
	for i := range f.V {
		x, y := float64(i%w)+0.5, float64(i/w)+0.5
		u, v := x/float64(w)-0.5, y/float64(h)-0.5
		ground := base * (1 + slope*u - slope*v - bow*(u*u+v*v))
		share := 0.0
		for _, b := range all {
			s, c := math.Sincos(b.turn)
			r := math.Hypot((c*(x-b.x)+s*(y-b.y))/b.a, (c*(y-b.y)-s*(x-b.x))/b.b)
			here := min(max(0.5+(1-r)*min(b.a, b.b)/soft, 0), 1)
			if b.hole > 0 {
				here -= min(max(0.5+(b.hole-r)*min(b.a, b.b)/soft, 0), 1)
			}
			share = max(share, here)
		}
		f.V[i] = float32(math.Max(ground*(1-less*share)+noise*rng.NormFloat64(), 0))
	}
	if k%3 == 1 { // a field cut off at a corner and round a place
		f.Mask = make([]bool, len(f.V))
		for i := range f.Mask {
			x, y := i%w, i/w
			f.Mask[i] = x+y > 20 && (x-w/2)*(x-w/2)+(y-h/2)*(y-h/2) > 49
		}
	}
	return f
}

// Numbers say nothing by themselves; what moved is looked at and kept by -run AsApproved -update.
func TestSmallFieldsAreAsApproved(t *testing.T) {
	t.Parallel()
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round the last digit otherwise, and a pixel may fall to the other side")
	}
	rng := rand.New(rand.NewPCG(71, 5))
	var out strings.Builder
	word := func(err error) string {
		if err == nil {
			return "-"
		}
		return strings.ReplaceAll(err.Error(), " ", "_")
	}
	for k := range 72 {
		g := newFinder(strewn(rng, k))
		g.ground()
		var far, sum float64
		for i, v := range g.V {
			far, sum = far+math.Abs(float64(v))*float64(i%7), sum+float64(v)
		}
		fmt.Fprintf(&out, "%d noise %.6g near %.6g lighter %t ground %.5g %.5g", k, g.out.Noise, g.near, g.out.Lighter, far, sum)
		plain, levels := g.plain(), g.levels()
		fmt.Fprintf(&out, " plain %s levels %s contrast %.6g seed %.6g all %d", word(plain), word(levels), g.out.Contrast, g.seed, g.all)
		if g.seed == 0 {
			g.seed = 0.1
		}
		g.patches()
		levelled, boxed := 0.0, 0
		for i, b := range g.boxes {
			levelled += float64(min(g.level[i], 9)) * float64(i+1)
			boxed += b.area*(i+1) + b.w()*3 + b.h()*5
		}
		fmt.Fprintf(&out, " patches %d %.5g %d", g.l.N, levelled, boxed)
		covered := g.cover()
		g.part()
		split, where := 0, 0
		for i, s := range g.split {
			if s {
				split += i + 1
			}
		}
		for i, v := range g.l.L {
			where += int(v) * (i % 11)
		}
		fmt.Fprintf(&out, " cover %.6g %s parted %d %d %d", g.out.Cover, word(covered), g.l.N, split, where)
		err := g.measure()
		var of [9]float64
		for i, s := range g.out.Grains {
			for j, v := range [9]float64{s.X, s.Y, math.Sqrt(s.Area), s.Width, s.Length, s.Across, s.Down, s.Solid, s.Level} {
				of[j] += v * float64(1+i%3)
			}
		}
		corners := 0
		for _, s := range g.out.Grains {
			corners += len(s.Outline)
		}
		fmt.Fprintf(&out, " grains %d touching %d blur %.6g %s corners %d of", len(g.out.Grains), g.out.Touching, g.out.Blur, word(err), corners)
		for _, v := range of {
			fmt.Fprintf(&out, " %.6g", v)
		}
		out.WriteByte('\n')
	}
	checkrow.ApprovedText(t, "fields", out.String())
}

// On which side of the ground more lies: beyond four times the farther quarter from the middle only, and where nothing is, all of it.
func TestWhichSideIsHeavier(t *testing.T) {
	t.Parallel()
	of := func(values ...float32) float64 { // one a line at the places that are looked at, in the order of the lines
		r := NewRaster(4, 4*len(values))
		for i, v := range values {
			for x := range 4 {
				r.V[4*i*4+x] = v
			}
		}
		flat := [6]float64{}
		return heavier(r, nil, surface{poly: &flat, w: 4, h: float64(r.H)})
	}
	for i, c := range []struct {
		v    []float32
		want float64
	}{
		{[]float32{-1, -1, 0, 0, 0, 0, 1, 1, 1, 9}, 1}, {[]float32{-9, -1, -1, 0, 0, 0, 0, 1, 1, 1}, -1},
		// Quarters at −1 and 2: beyond 8 only −9 counts, though 7 and 7 are more.
		{[]float32{-9, -1, -1, -1, 0, 0, 0, 2, 2, 7, 7}, -1},
		// Quarters at −2 and 1, the other way round.
		{[]float32{9, 1, 1, 1, 0, 0, 0, -2, -2, -7, -7}, 1},
		// Beyond nothing: 1 + 1 + 3 against 2 and 2.
		{[]float32{-2, -2, 0, 1, 1, 3, 0}, 1}, {[]float32{2, 2, 0, -1, -1, -3, 0}, -1},
		{[]float32{0, 0, 0}, 1}, {[]float32{0.25, 0.25, 0.25}, 1},
	} {
		if got := of(c.v...); got != c.want {
			t.Errorf("%d: %v is heavier on the side of %g", i, c.v, got)
		}
	}
	if got := heavier(NewRaster(8, 8), make([]bool, 64), surface{nx: 1, ny: 1, side: 8, v: []float64{0.5}}); got != 1 {
		t.Errorf("where nothing is seen: %g", got)
	}
	// One square that is known fills those that are not; alone it is near itself.
	nan := math.NaN()
	s := smoothed(surface{nx: 6, ny: 1, v: []float64{0.1, nan, nan, nan, 0.3, 0.5}})
	if want := []float64{0.1, 0.1, 0.5, 0.3, 0.5, 0.5}; !slices.Equal(s.v, want) {
		t.Errorf("smoothed to %v, wanted %v", s.v, want)
	}
	if got := (surface{v: []float64{nan, 0.5}}).near(); !slices.Equal(got, []bool{false, true}) {
		t.Errorf("near are %v", got)
	}
	if got := (surface{v: []float64{nan, nan}}).near(); !slices.Equal(got, []bool{false, false}) {
		t.Errorf("of nothing near are %v", got)
	}
}

// Two tops, lower than 1, and a slope between them: it goes to the higher side; what is ground stays ground.
func TestWatershedByHand(t *testing.T) {
	t.Parallel()
	height := []float64{0.9, 0.5, 0.3, 0.4, 0.8, 0, 0.2}
	if got := Watershed(7, 1, height, []int32{1, 0, 0, 0, 2, 3, 0}); !slices.Equal(got, []int32{1, 1, 1, 2, 2, 0, 0}) {
		t.Errorf("parted as %v", got)
	}
	for by, want := range map[float64][]int32{0.35: {1, 0, 0, 0, 2, 0, 0}, 0.55: {1, 0, 0, 0, 0, 0, 0}} { // the lower top stands 0.5 above the pass
		if got := Tops(5, 1, height[:5], func(float64) float64 { return by }); !slices.Equal(got, want[:5]) {
			t.Errorf("standing out by %g: tops %v", by, got)
		}
	}
}

// Codes of light: each of 4096 steps by the formula of sRGB.
func TestEveryCodeByTheFormula(t *testing.T) {
	t.Parallel()
	r := NewRaster(4096, 1)
	for i := range r.V {
		r.V[i] = (float32(i) + 0.25) / 4095
	}
	for i, got := range coded(r).V {
		v := float64(i) / 4095
		want := 12.92 * v
		if v > 0.0031308 {
			want = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		if d := float64(got) - 255*want; d > 0.5+1e-9 || d < -0.5-1e-9 {
			t.Errorf("light %g has code %d, by the formula %.3f", v, got, 255*want)
		}
	}
	for wide, want := range map[float64]int{0.08: 1, 0.69: 1, 0.71: 1, 1.39: 1, 1.41: 2, 2.11: 3} { // a thousand pixels a metre, of 700
		s := Standing{Homography: Homography{1000, 0, 0, 0, 1000, 0, 0, 0, 1}, Field: [4]float64{-0.25 * wide, -0.3, 0.75 * wide, 0.5}}
		if got := s.sparse(); got != want {
			t.Errorf("%g m are compared at every %d pixels, wanted %d", wide, got, want)
		}
	}
}

// A mark's corners where its ink ran: a tenth more on each side of 12 mm is 0.6 mm. The ends of calipers: of nothing, a point and a line.
func TestEndsOfShapes(t *testing.T) {
	t.Parallel()
	c := WholeSheet().corners(1.1)
	for i, want := range []Point{{-0.088 - 0.0066, -0.062 - 0.0066}, {-0.088 + 0.0066, -0.062 - 0.0066}, {-0.088 + 0.0066, -0.062 + 0.0066}, {-0.088 - 0.0066, -0.062 + 0.0066}} {
		if c[i].to(want) > 1e-12 {
			t.Errorf("corner %d at %v, wanted %v", i, c[i], want)
		}
	}
	for n, want := range map[int][2]float64{0: {0, 0}, 1: {0, 0}, 2: {0, 5}, 3: {2.4, 5}} {
		w, l := Calipers([]Point{{0, 0}, {3, 4}, {0, 4}}[:n])
		if math.Abs(w-want[0]) > 1e-12 || math.Abs(l-want[1]) > 1e-12 {
			t.Errorf("%d corners are %g by %g", n, w, l)
		}
	}
	// A ring cut off by the picture's edge has no four sides: it is none of those told of.
	for _, x := range []int{0, 1, 40} {
		p := newPaper(200, 160)
		p.ring(x, 60, 24, 24, 12, 12)
		want := 0.0
		if x == 40 {
			want = 1
		}
		_, err := FindMarks(p.Gray)
		refusedWith(t, fmt.Sprint("a ring at ", x), err, &Refusal{Unscaled, want, 4, ""}, 0)
	}
	// Holes: one below a tenth of its patch is filled, and all where the patch is then as solid as 0.92 of its hull.
	set := make([]bool, 14*14)
	for i := range set {
		x, y := i%14, i/14
		set[i] = x > 0 && x < 13 && y > 0 && y < 13 && (x < 4 || x > 7 || y < 4 || y > 7) && (x != 10 || y != 10)
	}
	for hull, want := range map[float64]int{156: 17, 157: 1} { // 144 with both, of 156.52
		if got := (&finder{}).fill(14, 14, slices.Clone(set), 127, hull); got != want {
			t.Errorf("in a hull of %g %d pixels are filled, wanted %d", hull, got, want)
		}
	}
}

// Yellow grains differ in blue by 0.95 of the ground, in luma by 0.52: more than the 1.3 times that another channel must have.
// Grey ones differ in blue by 0.89, in luma by 0.82, which is not.
func TestTheChannelThatDiffersMost(t *testing.T) {
	t.Parallel()
	s := Standing{Homography: Homography{10000, 0, 200, 0, 10000, 150, 0, 0, 1}, Field: [4]float64{-0.018, -0.013, 0.018, 0.013}}
	for c, want := range map[color.RGBA]Channel{{200, 200, 60, 255}: Blue, {120, 120, 95, 255}: Luma, {120, 120, 120, 255}: Luma, {60, 200, 200, 255}: Red} {
		img := image.NewRGBA(image.Rect(0, 0, 400, 300))
		for i := range img.Pix {
			img.Pix[i] = 255
		}
		for k := range 12 {
			for i := range 16 * 16 {
				img.SetRGBA(50+80*(k%4)+i%16, 50+80*(k/4)+i/16, c)
			}
		}
		if got := best(img, s, nil); got != want {
			t.Errorf("grains of %v are seen best in %s, wanted %s", c, got, want)
		}
		if want != Blue {
			continue
		}
		large := image.NewRGBA(image.Rect(0, 0, 1600, 1200)) // compared at every second pixel
		for i := range large.Pix {
			large.Pix[i] = img.Pix[i/4%1600/4*4+i/6400/4*1600+i%4]
		}
		fine := s
		fine.Homography = Homography{40000, 0, 800, 0, 40000, 600, 0, 0, 1}
		if got := best(large, fine, nil); got != want || fine.sparse() != 2 {
			t.Errorf("four times as large grains of %v are seen best in %s at every %d pixels", c, got, fine.sparse())
		}
	}
	if got := nearNoise(NewRaster(20, 20), make([]bool, 400)); got != 0 {
		t.Errorf("where nothing is seen the noise is %g", got)
	}
	r := NewRaster(100, 100)
	for i := range r.V { // every eleventh with the fourth after it: 0.01 apart each
		r.V[i] = float32(i) * 0.0025
	}
	closeTo(t, "noise of a slope", nearNoise(r, nil), spreadOfMAD*0.01/math.Sqrt2, 1e-5)
	large := NewRaster(1025, 1024) // of more than 2²⁰ pixels every twenty-second
	for i := range large.V {
		large.V[i] = float32(i%11) + float32(i%22/11)*7
	}
	if got, want := nearNoise(large, nil), spreadOfMAD*4/math.Sqrt2; math.Abs(got-want) > 1e-6 { // 4 after 0; after 11 it is 11 − 7
		t.Errorf("noise of a large raster is %g, wanted %g", got, want)
	}
	noise, near, sign := differ(NewRaster(64, 64), make([]bool, 64*64))
	if noise != 0 || near != 0 || sign != 1 {
		t.Errorf("of nothing %g, %g, %g", noise, near, sign)
	}
}

// Only what was weighed and lay on the sheet tells how thick grains are: not a sample nobody weighed, nor one without a grain.
func TestThicknessOfWhatWasWeighed(t *testing.T) {
	t.Parallel()
	lay := func(area, width float64) []*Spread {
		return []*Spread{{W: 0.1, H: 0.1, Grains: []Grain{{X: 0.05, Y: 0.05, Area: area, Width: width}}}}
	}
	h, err := Weigh([]Sample{{Spreads: lay(4e-6, 2e-3), Mass: 3e-6}, {Spreads: lay(1e-6, 1e-3)}, {Mass: 5}}, Plastic{Density: 1000})
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "thickness over width", h.Thickness, 3e-6/(1000*4e-6*2e-3), 1e-12)
	closeTo(t, "mass", h.Mass, 3e-6+0.5*1000*1e-6*1e-3, 1e-15)
	for i, want := range []Place{{0, 0, 0}, {1, 0, 0}} {
		if h.Grains[i].Of != want || h.Grains[i].Tile != h.Tiles/2*i+h.Grains[0].Tile {
			t.Errorf("grain %d is %+v", i, h.Grains[i])
		}
	}
}

// In which of six by six tiles a grain lies, of each picture its own; how much larger it counts for what the edge hides, ten times
// at most each way; from twice the wall's thickness on it lies flat.
func TestWhereGrainsLieAndWhatTheyWeigh(t *testing.T) {
	t.Parallel()
	at := func(x, y float64) Grain { return Grain{X: x, Y: y, Area: 1e-6, Width: 1e-3} }
	wide := at(0.05, 0.05)
	wide.Across, wide.Down = 0.095, 0.02
	long := at(0.05, 0.05)
	long.Across, long.Down = 0.02, 0.1
	first := &Spread{W: 0.1, H: 0.12, Grains: []Grain{at(0, 0), at(0.0166, 0.0199), at(0.0167, 0.0201), at(0.0999, 0.1199), at(0.1, 0.12), at(-1e-9, -0.03), at(0.034, 0.07), wide, long}}
	second := &Spread{W: 0.1, H: 0.12, Grains: []Grain{at(0.05, 0.001)}}
	h, err := Weigh([]Sample{{Spreads: []*Spread{first, second}}}, Plastic{Density: 1200, Wall: 0.5e-3})
	if err != nil {
		t.Fatal(err)
	}
	if h.Tiles != 72 {
		t.Errorf("%d tiles", h.Tiles)
	}
	for i, want := range []int{0, 0, 7, 35, 35, 0, 20, 15, 15, 39} {
		if g := h.Grains[i]; g.Tile != want || !g.Flat {
			t.Errorf("grain %d lies in tile %d, wanted %d; flat %t", i, g.Tile, want, g.Flat)
		}
	}
	box := 0.5 * 1200 * 1e-6 * 0.5e-3 // half of area and wall
	closeTo(t, "a grain", h.Grains[0].Mass, box, 1e-15)
	closeTo(t, "a wide one", h.Grains[7].Mass, box/(0.1*(1-0.02/0.12)), 1e-13)
	closeTo(t, "a long one", h.Grains[8].Mass, box/(0.8*(1-0.1/0.12)), 1e-13)
	for wall, want := range map[float64]bool{0.5001e-3: false, 0.4999e-3: true, 0: false} {
		h, err := Weigh([]Sample{{Spreads: []*Spread{second}}}, Plastic{Density: 1200, Wall: wall})
		if err != nil || h.Grains[0].Flat != want {
			t.Errorf("a wall of %g m: flat %t (%v)", wall, h.Grains[0].Flat, err)
		}
	}
}

// A card is found from a hundredth of the picture's area on to a half of it, lighter than the ground or darker.
func TestHowLargeACardIs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		w, h int
		v    uint8
		want bool
	}{{68, 43, 20, false}, {74, 47, 20, true}, {74, 47, 255, true}, {300, 189, 250, true}, {470, 296, 20, true}, {512, 323, 20, false}, {300, 260, 20, false}} {
		p := newPaper(640, 480)
		for i := range p.V {
			p.V[i] = 130
		}
		p.fill((640-c.w)/2, (480-c.h)/2, c.w, c.h, c.v)
		got, err := FindCard(p.Gray)
		if (err == nil) != c.want {
			t.Errorf("%d by %d: %v", c.w, c.h, err)
		}
		if c.want {
			closeTo(t, "pixels a metre", got.pixels(), float64(c.w+c.h)/(CardW+CardH), 0.01*float64(c.w+c.h)/(CardW+CardH))
			if m := got.To(Point{}); m.to(Point{320, 240}) > 0.7 {
				t.Errorf("%d by %d: its middle is %v", c.w, c.h, m)
			}
		}
	}
}

// Where a grain is cut in two: at the narrowest place, but no corner nicked off, with less than a sixth of the way round.
func TestWhereAGrainIsCut(t *testing.T) {
	t.Parallel()
	if _, _, ok := (Grain{Outline: []Point{{0, 0}, {9, 0}, {9, 1}, {1, 1}, {1, 9}}, Area: 1}).Parted(); ok {
		t.Error("five corners are parted")
	}
	// A bar of 24 by 4 with a notch of 2 in the middle of one side, 2 wide of 28 round half of it; near an end another of 3.7, which
	// leaves but 0.3 of 10.7 round that end: less than a sixth of the 67.4 round all.
	way := []Point{{0, 0}, {1.5, 0}, {1.5, 3.7}, {1.6, 3.7}, {1.6, 0}, {12, 0}, {12, 2}, {12.1, 2}, {12.1, 0}, {24, 0}, {24, 4}, {12, 4}, {1.5, 4}, {0, 4}}
	a, b, ok := (Grain{Outline: way, Area: areaOf(way)}).Parted()
	if !ok {
		t.Fatal("not parted")
	}
	closeTo(t, "areas", a.Area+b.Area, areaOf(way), 1e-9)
	if small := min(a.Area, b.Area); small < 40 {
		t.Errorf("%g of %g are cut off", small, areaOf(way))
	}
	for i, p := range way { // the same notch at 2 mm leaves 0.3 of 11.7: that is where it is cut
		if p.X == 1.5 || p.X == 1.6 {
			way[i].X += 0.5
		}
	}
	if a, b, ok = (Grain{Outline: way, Area: areaOf(way)}).Parted(); !ok || min(a.Area, b.Area) > 9 {
		t.Errorf("parted into %g and %g", a.Area, b.Area)
	}
}

// How far it is to ground: along a line, with ground at one place, at an end, and nowhere.
func TestDistanceToOnePlace(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, c := range []struct {
		set  []bool
		want []float64
	}{{[]bool{true, false, true, true}, []float64{1, 0, 1, 2}}, {[]bool{false, true, true}, []float64{0, 1, 2}}, {[]bool{true, true}, []float64{inf, inf}}, {[]bool{false}, []float64{0}}} {
		if got := Distance(len(c.set), 1, c.set); !slices.Equal(got, c.want) {
			t.Errorf("along a row %v: %v", c.set, got)
		}
		if got := Distance(1, len(c.set), c.set); !slices.Equal(got, c.want) {
			t.Errorf("along a column %v: %v", c.set, got)
		}
	}
	if got := Distance(3, 2, []bool{true, true, true, true, true, false}); math.Abs(got[0]-math.Sqrt(5)) > 1e-12 || got[2] != 1 || got[3] != 2 {
		t.Errorf("round a corner: %v", got)
	}
}
