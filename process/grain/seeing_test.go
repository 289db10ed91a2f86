package grain

// How a sheet stands in its picture, by hand: formulas, corners, fields laid out, codes and edges.

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Homographies by their formula: there and back, one after another, and how large a metre is seen.
func TestHomographyByFormula(t *testing.T) {
	t.Parallel()
	h := Homography{200, 30, 50, -20, 150, 70, 0.4, -0.3, 1}
	p := Point{0.3, -0.2}
	w := 0.4*0.3 + 0.3*0.2 + 1
	want := Point{(200*0.3 - 30*0.2 + 50) / w, (-20*0.3 - 150*0.2 + 70) / w}
	if got := h.To(p); got.to(want) > 1e-9 || h.Back(got).to(p) > 1e-12 {
		t.Errorf("to %v and back to %v", got, h.Back(got))
	}
	g := Homography{0.5, 0.1, 3, 0, 2, -1, 0, 0.01, 1}
	if a, b := g.after(h).To(p), g.To(h.To(p)); a.to(b) > 1e-9 {
		t.Errorf("one after the other %v, both at once %v", b, a)
	}
	var sheet, seen []Point
	for _, q := range []Point{{-0.1, -0.1}, {0.1, -0.08}, {0.12, 0.1}, {-0.09, 0.11}, {0, 0.05}} {
		sheet, seen = append(sheet, q), append(seen, h.To(q))
	}
	got, err := FitHomography(sheet, seen)
	for i := range got {
		if err != nil || math.Abs(got[i]-h[i]) > 1e-6*(1+math.Abs(h[i])) {
			t.Errorf("found %v, wanted %v (%v)", got, h, err)
			break
		}
	}
	for _, n := range []int{3, 4} {
		if _, err := FitHomography(sheet[:n], seen[:n]); (err == nil) != (n == 4) {
			t.Errorf("%d places: %v", n, err)
		}
	}
	if _, err := FitHomography(sheet, seen[:4]); err == nil {
		t.Error("places that do not match are taken")
	}
	for _, c := range []struct {
		h            Homography
		most, fewest float64
	}{
		{Homography{300, 0, 5, 0, 200, 5, 0, 0, 1}, 300, 200}, {Homography{0, -100, 5, 400, 0, 5, 0, 0, 1}, 400, 100},
		{Homography{100, 100, 0, 0, 100, 0, 0, 0, 1}, 100 * math.Phi, 100 / math.Phi}, // a shear by its own height: the golden section
		{Homography{100, 100, 0, 100, 100, 0, 0, 0, 1}, 200, 0},
	} {
		most, fewest := c.h.scales(Point{0.1, 0.2})
		closeTo(t, "most pixels", most, c.most, 1e-3)
		closeTo(t, "fewest pixels", fewest, c.fewest, 0.2)
	}
	points, by := normal([]Point{{0, 0}, {4, 0}, {4, 2}, {0, 2}}) // middle (2, 1), all √5 away
	for i, want := range []Point{{-2, -1}, {2, -1}, {2, 1}, {-2, 1}} {
		want = want.times(math.Sqrt2 / math.Sqrt(5))
		if points[i].to(want) > 1e-12 || by.To([]Point{{0, 0}, {4, 0}, {4, 2}, {0, 2}}[i]).to(want) > 1e-12 {
			t.Errorf("shifted and scaled to %v, wanted %v", points[i], want)
		}
	}
	// A standing is refused from where its fewest pixels are less than half its most.
	for fewest, want := range map[float64]*Refusal{100.5: nil, 99.5: {Tilted, 0.4975, 0.5, ""}} {
		s, err := Standing{Homography: Homography{200, 0, 0, 0, fewest, 0, 0, 0, 1}}.levelled(0.4, 0.2)
		refusedWith(t, "tilted", err, want, 1e-6)
		if s.Field != [4]float64{-0.2, -0.1, 0.2, 0.1} {
			t.Errorf("field %v", s.Field)
		}
	}
}

// Lines meet unless they turn by less than a thousandth of a millionth; four corners are a card from 0.85 to 1.18 of its ratio.
func TestCornersByHand(t *testing.T) {
	t.Parallel()
	for slope, want := range map[float64]bool{0.9e-9: false, 1.1e-9: true} {
		if _, ok := meet([2]Point{{0, 0}, {1, 0}}, [2]Point{{0, 1}, {1, 1 + slope}}); ok != want {
			t.Errorf("lines that turn by %g meet: %t", slope, ok)
		}
	}
	const ratio = 85.60 / 53.98
	for by, want := range map[float64]bool{0.849: false, 0.851: true, 1: true, 1.179: true, 1.181: false} {
		wide, high := 300*ratio*by, 300.0
		for _, q := range [][4]Point{{{0, 0}, {wide, 0}, {wide, high}, {0, high}}, {{0, 0}, {high, 0}, {high, wide}, {0, wide}}} {
			c, ok := cardOn(q)
			if ok != want {
				t.Errorf("%g of a card's ratio: %t", by, ok)
			}
			if ok && (math.Abs(c.Field[2]-(85.60e-3/2+0.07)) > 1e-12 || math.Abs(c.Field[3]-(53.98e-3/2+0.07)) > 1e-12 || c.Error != 0.006 || !c.Card) {
				t.Errorf("card %+v", c)
			}
		}
	}
	// Under the card and 4 mm round it nothing is measured; what a mask leaves out stays out.
	f := Field{Raster: NewRaster(100, 80), Pixel: 1e-3}
	s := Standing{Field: [4]float64{-0.05, -0.04, 0.05, 0.04}}
	if both(f, nil, s) != nil {
		t.Error("without a card there is a mask")
	}
	mask := both(f, &card{s}, s)
	out := 0
	for i, in := range mask {
		x, y := float64(i%100)+0.5-50, float64(i/100)+0.5-40
		if under := math.Abs(x) < 46.8 && math.Abs(y) < 30.99; in == under {
			t.Fatalf("at %g, %g mm: measured %t", x, y, in)
		}
		if !in {
			out++
		}
	}
	if out != 94*62 {
		t.Errorf("%d pixels are left out, wanted %d", out, 94*62)
	}
	f.Mask = make([]bool, 8000)
	if slices.Contains(both(f, &card{s}, s), true) {
		t.Error("a mask of nothing leaves something")
	}
}

// A field laid out with the picture's own pixels is the picture between its pixels; with pixels three times as wide it is means of
// nine; what lies outside is masked.
func TestRectifyByHand(t *testing.T) {
	t.Parallel()
	g := Gray{12, 9, make([]uint8, 108)}
	luck := rand.New(rand.NewPCG(9, 2))
	for i := range g.V {
		g.V[i] = uint8(luck.IntN(256))
	}
	s := Standing{Homography: Homography{10, 0, 0, 0, 10, 0, 0, 0, 1}, Field: [4]float64{0.1, 0.1, 1.0, 0.7}} // ten pixels a metre
	closeTo(t, "pixels a metre", s.pixels(), 10, 1e-4)
	f := Rectify(g, s, 0.1)
	if f.W != 9 && f.W != 8 || f.Mask != nil || f.Pixel != 0.1 {
		t.Fatalf("%d by %d, mask %v, pixel %g", f.W, f.H, f.Mask, f.Pixel)
	}
	for i, v := range f.V {
		if want := linear[g.V[(i/f.W+1)*12+i%f.W+1]]; math.Abs(float64(v-want)) > 1e-5 {
			t.Fatalf("pixel %d is %g, wanted %g", i, v, want)
		}
	}
	f = Rectify(g, s, 0.3)
	for i, v := range f.V {
		sum := float32(0)
		for k := range 9 {
			sum += linear[g.V[(i/f.W*3+k/3+1)*12+i%f.W*3+k%3+1]] / 9
		}
		if math.Abs(float64(v-sum)) > 1e-5 {
			t.Fatalf("of nine, pixel %d is %g, wanted %g", i, v, sum)
		}
	}
	s.Field = [4]float64{-0.25, 0.1, 1.0, 0.7}
	f = Rectify(g, s, 0.1)
	for i := range f.V { // the left two and a half pixels lie outside, and half a pixel of rim
		if f.Mask == nil || f.Mask[i] != (i%f.W >= 3) {
			t.Fatalf("pixel %d: mask %v", i, f.Mask)
		}
	}
	if fine := Rectify(g, Standing{Homography: Homography{1e6, 0, 0, 0, 1e6, 0, 0, 0, 1}, Field: [4]float64{0, 0, 1e-3, 1e-3}}, 0); math.Abs(fine.Pixel*30e3-1) > 1e-9 {
		t.Errorf("laid out with pixels of %g m, wanted no finer than 30 a millimetre", fine.Pixel)
	}
	if coarse := Rectify(g, s, 0); math.Abs(coarse.Pixel-0.1) > 1e-6 {
		t.Errorf("laid out with pixels of %g, wanted the picture's", coarse.Pixel)
	}
}

// The luma of a colour by its weights (ITU-R BT.601: 0.299, 0.587, 0.114), rounded; light and code of sRGB by their formula (IEC 61966-2-1).
func TestCodesByFormula(t *testing.T) {
	t.Parallel()
	img := image.NewRGBA(image.Rect(0, 0, 1, 1))
	luck := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		r, g, b := uint8(luck.IntN(256)), uint8(luck.IntN(256)), uint8(luck.IntN(256))
		img.SetRGBA(0, 0, color.RGBA{r, g, b, 255})
		if got, want := Plane(img, Luma, 1).V[0], math.Floor(0.299*float64(r)+0.587*float64(g)+0.114*float64(b)+0.5+1e-9); float64(got) != want {
			t.Errorf("luma of %d, %d, %d is %d, wanted %g", r, g, b, got, want)
		}
	}
	for i := range 256 {
		v := float64(i) / 255
		want := v / 12.92
		if v > 0.04045 {
			want = math.Pow((v+0.055)/1.055, 2.4)
		}
		closeTo(t, "light of a code", float64(linear[i]), want, 1e-7)
	}
	for _, light := range []float64{0, 0.001, 0.003, 0.0033, 0.01, 0.2, 0.5, 0.999, 1} {
		v := math.Floor(light*4095) / 4095 // as fine as it is told apart
		want := 12.92 * v
		if v > 0.0031308 {
			want = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		closeTo(t, "code of light", float64(coded(Raster{1, 1, []float32{float32(light)}}).V[0]), math.Floor(255*want+0.5), 1)
	}
}

// A straight edge from dark to light is found where it crosses half way: at 20.25 from the left, with a ramp of two pixels.
func TestCrossingByHand(t *testing.T) {
	t.Parallel()
	g := Gray{60, 60, make([]uint8, 3600)}
	for i := range g.V {
		switch x := i % 60; {
		case x > 20:
			g.V[i] = 255
		case x == 20:
			g.V[i] = 188 // light of one half
		}
	}
	p, ok := g.crossing(Point{20, 30}, Point{1, 0}, 6)
	if !ok || math.Abs(p.X-20.5) > 0.02 || p.Y != 30 {
		t.Errorf("crossed at %v %v", p, ok)
	}
	for _, at := range []Point{{40, 30}, {3, 30}} { // all light, and beyond the picture
		if p, ok := g.crossing(at, Point{1, 0}, 6); ok {
			t.Errorf("crossed at %v", p)
		}
	}
	if _, ok := g.crossing(Point{20, 30}, Point{-1, 0}, 6); ok {
		t.Error("light to dark counts as an edge")
	}
	line, ok := g.near(Point{20, 8}, Point{20, 52}, 6)
	if !ok || math.Abs(line[0].X-20.5) > 0.02 || math.Abs(line[1].X-20.5) > 0.05 {
		t.Errorf("the side of a card at %v %v", line, ok)
	}
	if _, ok := g.near(Point{20, 8}, Point{20, 47}, 6); ok {
		t.Error("a side of 39 pixels is one of a card")
	}
	line, ok = g.side(Point{20, 10}, Point{20, 50}, Point{5, 30})
	if !ok || math.Abs(line[0].X-20.5) > 0.02 {
		t.Errorf("the side of a mark at %v %v", line, ok)
	}
	for to, want := range map[float64]bool{33.9: false, 34.1: true} {
		if _, ok := g.side(Point{20, 30}, Point{20, to}, Point{10, 32}); ok != want {
			t.Errorf("a side to %g: %t", to, ok)
		}
	}
	// Less difference than 0.08 of full scale is no edge.
	for code, want := range map[uint8]bool{78: false, 82: true} { // light of 0.076 and 0.084
		for i := range g.V {
			if g.V[i] = 0; i%60 > 20 {
				g.V[i] = code
			}
		}
		if _, ok := g.crossing(Point{20.5, 30}, Point{1, 0}, 6); ok != want {
			t.Errorf("an edge to code %d: %t", code, ok)
		}
	}
}
