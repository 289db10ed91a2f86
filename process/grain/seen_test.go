package grain

// The way from a picture to its field, step by step: pictures of marks and cards seen by a
// camera whose place is known, ground whose brightness is a formula.

import (
	"errors"
	"image"
	"math"
	"slices"
	"testing"
)

// bare is a small picture of a sheet without grains: 7 pixels a millimetre of the half sheet.
func bare(change func(*scene)) scene {
	return half(func(s *scene) { s.cover, s.perMM, s.noise, s.falloff = 0, 7, 0.01, 0.2; change(s) })
}

// Where a camera sees the places of a sheet is found from its marks to a third of a pixel,
// turned, tilted, with ink that ran; how tilted it is too.
func TestMarks(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*scene){
		"straight":        func(*scene) {},
		"upside down":     func(s *scene) { s.roll, s.margin = 180, 1 },
		"on its side":     func(s *scene) { s.roll, s.margin = 90, 6 },
		"tilted":          func(s *scene) { s.tilt, s.roll, s.margin = 20, 12, 2.5 },
		"ink that ran":    func(s *scene) { s.swell, s.margin = 1.05, 1 },
		"ink that shrank": func(s *scene) { s.swell, s.margin = 0.96, 1 },
		"whole sheet":     func(s *scene) { s.sheet, s.perMM, s.margin = WholeSheet(), 4, 1 },
		"dim and noisy":   func(s *scene) { s.exposure, s.noise = 0.4, 0.03 },
	} {
		s := bare(change)
		img, _ := s.render()
		got, err := FindMarks(Plane(img, Luma, 1))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got.Sheet != s.sheet || got.Card || got.Error != marksError || got.Off > 4e-5 {
			t.Errorf("%s: %+v", name, got)
		}
		cam := s.camera()
		w, h := s.sheet.W/2, s.sheet.H/2
		if got.Field != [4]float64{-w, -h, w, h} {
			t.Errorf("%s: field %v", name, got.Field)
		}
		most, fewest := 0.0, math.Inf(1)
		for _, p := range []Point{{}, {-w, -h}, {w, -h}, {w, h}, {-w, h}} {
			if d := got.To(p).to(cam.sees(p)); d > 0.35 {
				t.Errorf("%s: %v is seen %.2f px off", name, p, d)
			}
			// Pixels a metre by differences over a tenth of a millimetre, in many directions.
			for k := range 90 {
				a := float64(k) * math.Pi / 90
				d := Point{math.Cos(a), math.Sin(a)}.times(5e-5)
				n := cam.sees(p.plus(d)).to(cam.sees(p.minus(d))) / 1e-4
				most, fewest = max(most, n), min(fewest, n)
			}
		}
		if math.Abs(got.Tilt/(fewest/most)-1) > 0.01 {
			t.Errorf("%s: tilt %.4f, wanted %.4f", name, got.Tilt, fewest/most)
		}
	}
}

// A sheet seen in a mirror, as some front cameras make it, is the same sheet.
func TestMarksInAMirror(t *testing.T) {
	t.Parallel()
	s := bare(func(s *scene) { s.sheet, s.perMM, s.tilt, s.margin = WholeSheet(), 4, 10, 1 })
	img, _ := s.render()
	g := Plane(img, Luma, 1)
	m := Gray{g.W, g.H, slices.Clone(g.V)}
	for y := range m.H {
		slices.Reverse(m.V[y*m.W : (y+1)*m.W])
	}
	got, err := FindMarks(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []Point{{}, {0.03, 0.02}, {-0.03, 0.02}} {
		want := s.camera().sees(p)
		want.X = float64(g.W) - want.X
		if d := got.To(p).to(want); d > 0.35 {
			t.Errorf("%v is seen %.2f px off", p, d)
		}
	}
}

// A sheet is refused from where its far end has half the pixels of its near one, and
// three marks are none.
func TestMarksRefused(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		code   Code
		change func(*scene)
	}{
		"50°":    {"", func(s *scene) { s.tilt, s.margin = 50, 5 }},
		"52°":    {Tilted, func(s *scene) { s.tilt, s.margin = 52, 5 }},
		"a lens": {WideAngle, func(s *scene) { s.lens, s.margin = -0.05, 1 }},
		"a card": {Unscaled, func(s *scene) { s.noMarks, s.card = true, true }},
	} {
		img, _ := bare(c.change).render()
		_, err := FindMarks(Plane(img, Luma, 1))
		if c.code == "" {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		wantRefusal(t, name, err, c.code)
	}
	img, _ := bare(func(*scene) {}).render()
	g := Plane(img, Luma, 1)
	g = Gray{g.W, g.H, slices.Clone(g.V)}
	for y := range g.H / 2 { // white over the mark at the top left
		for x := range g.W / 2 {
			g.V[y*g.W+x] = 230
		}
	}
	_, err := FindMarks(g)
	wantRefusal(t, "three marks", err, Unscaled)
}

// Of n things there are n over four fours, each once, in order.
func TestFours(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]int{3: 0, 4: 1, 5: 5, 6: 15, 9: 126} {
		seen := map[[4]int]bool{}
		fours(n, func(k [4]int) {
			if k[0] < 0 || k[0] >= k[1] || k[1] >= k[2] || k[2] >= k[3] || k[3] >= n || seen[k] {
				t.Errorf("of %d: %v", n, k)
			}
			seen[k] = true
		})
		if len(seen) != want {
			t.Errorf("of %d things %d fours, wanted %d", n, len(seen), want)
		}
	}
}

// A card's place and size are found from its four sides.
func TestCardInItsPlace(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*scene){
		"dark on white":       func(*scene) {},
		"on its short side":   func(s *scene) { s.roll = 90 },
		"turned and tilted":   func(s *scene) { s.tilt, s.roll = 12, 9 },
		"white on black":      func(s *scene) { s.ground, s.paper, s.bank, s.falloff = 0.03, 0.03, 0.6, 0 },
		"a little from aside": func(s *scene) { s.tilt, s.roll = 8, -20 },
	} {
		s := bare(func(s *scene) {
			s.sheet, s.noMarks, s.card, s.perMM, s.margin = WholeSheet(), true, true, 3, 1
			change(s)
		})
		img, _ := s.render()
		c, err := FindCard(Plane(img, Luma, 1))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !c.Card || c.Error != cardError {
			t.Errorf("%s: %+v", name, c.Standing)
		}
		cam := s.camera()
		if d := c.To(Point{}).to(cam.sees(Point{})); d > 0.5 {
			t.Errorf("%s: its middle is %.2f px off", name, d)
		}
		for _, p := range []Point{{0.04, 0.02}, {-0.04, 0.02}, {0.1, -0.09}} { // the card looks the same turned by half
			if d := min(c.To(p).to(cam.sees(p)), c.To(p.times(-1)).to(cam.sees(p))); d > 0.01*p.length()*3000 {
				t.Errorf("%s: %v is seen %.2f px off", name, p, d)
			}
		}
		if w, h := c.Field[2]-c.Field[0], c.Field[3]-c.Field[1]; math.Abs(w-0.2256) > 1e-12 || math.Abs(h-0.19398) > 1e-12 { // ID-1 and 70 mm all round
			t.Errorf("%s: field %g by %g m", name, w, h)
		}
	}
	s := bare(func(s *scene) { s.noMarks = true })
	img, _ := s.render()
	_, err := FindCard(Plane(img, Luma, 1))
	wantRefusal(t, "no card", err, Unscaled)
	// What lies under the card or 4 mm round it is no field: by hand on half-millimetre pixels.
	f := Field{Raster: NewRaster(452, 388), Pixel: 0.5e-3}
	mask := both(f, &card{}, Standing{Field: [4]float64{-0.113, -0.097, 0.113, 0.097}})
	for _, c := range []struct {
		x, y float64
		in   bool
	}{{0, 0, false}, {0.0465, 0, false}, {0.047, 0, true}, {-0.0465, 0, false}, {-0.0471, 0, true}, {0, 0.0307, false}, {0, 0.0312, true}, {0, -0.0307, false}, {0, -0.0312, true}, {0.1, 0.09, true}} {
		i, j := int((c.x+0.113)/0.5e-3), int((c.y+0.097)/0.5e-3)
		if mask[j*452+i] != c.in {
			t.Errorf("at %g, %g: in the field %v", c.x, c.y, mask[j*452+i])
		}
	}
	if both(f, nil, Standing{}) != nil {
		t.Error("a mask without a card")
	}
}

// A field laid out from a picture whose light rises in a line has the light of each place;
// what lies outside the picture is masked.
func TestRectify(t *testing.T) {
	t.Parallel()
	// 20 px a millimetre, the sheet's middle at pixel (300, 200) of 600 by 400.
	s := Standing{Homography: Homography{2e4, 0, 300, 0, 2e4, 200, 0, 0, 1}, Field: [4]float64{-0.012, -0.008, 0.012, 0.008}}
	g := Gray{600, 400, make([]uint8, 600*400)}
	for i := range g.V {
		g.V[i] = uint8(40 + i%600/10 + i/600/5)
	}
	lit := func(x, y float64) float64 { // sRGB, IEC 61966-2-1
		return math.Pow(((40+math.Floor(x/10)+math.Floor(y/5))/255+0.055)/1.055, 2.4)
	}
	for pixel, want := range map[float64]float64{0: 5e-5, 5e-5: 5e-5, 1e-4: 1e-4, 2e-4: 2e-4} {
		f := Rectify(g, s, pixel)
		if math.Abs(f.Pixel/want-1) > 1e-12 || math.Abs(float64(f.W)-0.024/want) > 1.001 || math.Abs(float64(f.H)-0.016/want) > 1.001 || f.Mask != nil {
			t.Fatalf("pixel %g: %g, %d by %d, mask %v", pixel, f.Pixel, f.W, f.H, f.Mask != nil)
		}
		for _, p := range []Point{{55, 43}, {305, 202.5}, {505, 352.5}} { // middles of steps of light
			x, y := int((p.X-60)/2e4/want), int((p.Y-40)/2e4/want)
			if p.X < 60 {
				x, y = 0, 0
				p = Point{65, 42}
			}
			if got := float64(f.V[y*f.W+x]); math.Abs(got/lit(p.X, p.Y)-1) > 0.03 {
				t.Errorf("pixel %g at %v: %.5f, wanted %.5f", want, p, got, lit(p.X, p.Y))
			}
		}
	}
	// No finer than 30 pixels a millimetre.
	fine := s
	fine.Homography = Homography{6e4, 0, 300, 0, 6e4, 200, 0, 0, 1}
	fine.Field = [4]float64{-0.004, -0.003, 0.004, 0.003}
	if f := Rectify(g, fine, 0); math.Abs(f.Pixel/(1e-3/30)-1) > 1e-12 {
		t.Errorf("laid out at %g m", f.Pixel)
	}
	s.Field = [4]float64{-0.017, -0.008, 0.012, 0.008} // 2 mm beyond the left edge
	f := Rectify(g, s, 1e-4)
	for x, in := range map[int]bool{0: false, 19: false, 21: true, 100: true} {
		if f.Mask[80*f.W+x] != in {
			t.Errorf("%d pixels from the left: in the picture %v", x, f.Mask[80*f.W+x])
		}
	}
	// An oblique scale: twice as many pixels down as across.
	s.Homography = Homography{1e4, 0, 0, 0, 2e4, 0, 0, 0, 1}
	if n := s.pixels(); math.Abs(n-math.Sqrt2*1e4) > 1 {
		t.Errorf("%g pixels a metre", n)
	}
	// Far from the middle a tilted sheet has others: the field's middle decides.
	s.Homography, s.Field = Homography{1e4, 0, 0, 0, 1e4, 0, 0, 5, 1}, [4]float64{0.1, 0.1, 0.3, 0.3}
	if n, want := s.pixels(), 1e4/math.Pow(2, 1.5); math.Abs(n/want-1) > 1e-3 { // det of the derivative: (1e4)²/(1+5 y)³ at y = 0.2
		t.Errorf("%g pixels a metre, wanted %g", n, want)
	}
}

// The scales of a homography are the half axes of the ellipse a small circle becomes.
func TestScales(t *testing.T) {
	t.Parallel()
	c, s := math.Cos(0.6), math.Sin(0.6)
	h := Homography{3 * c, -2 * s, 7, 3 * s, 2 * c, -4, 0, 0, 1}
	if most, fewest := h.scales(Point{0.3, 0.2}); math.Abs(most-3) > 1e-6 || math.Abs(fewest-2) > 1e-6 {
		t.Errorf("scales %g and %g, wanted 3 and 2", most, fewest)
	}
	// There and back is where it was, for any homography.
	odd := Homography{1.3, 0.2, 5, -0.4, 0.9, 3, 0.02, 0.05, 1.1}
	back := odd.after(inverse(odd))
	for _, p := range []Point{{0, 0}, {3, -2}, {-1, 4}, {0.5, 0.7}} {
		if d := back.To(p).to(p); d > 1e-12 {
			t.Errorf("%v comes back %g off", p, d)
		}
		if d := odd.Back(odd.To(p)).to(p); d > 1e-12 {
			t.Errorf("%v comes back %g off", p, d)
		}
	}
	// First g, then h.
	g := Homography{2, 0, 1, 0, 3, 0, 0, 0.1, 1}
	for _, p := range []Point{{1, 1}, {-2, 0.5}} {
		if d := odd.after(g).To(p).to(odd.To(g.To(p))); d > 1e-12 {
			t.Errorf("%v is %g off", p, d)
		}
	}
}

// The channel is the one that shows the grains best: luma unless another has 1.3 times as
// much; the measured line scales lengths and says how sure it is.
func TestChannelsAndStages(t *testing.T) {
	t.Parallel()
	img, _ := bare(func(s *scene) { s.cover, s.perMM, s.d50, s.least, s.margin = 0.03, 7, 1.8e-3, 1e-3, 0.6 }).render()
	plain := img.(*image.NRGBA)
	coloured := image.NewNRGBA(plain.Rect)
	for i := 0; i < len(plain.Pix); i += 4 { // grains that only blue shows
		v := plain.Pix[i]
		if x, y := i/4%plain.Rect.Dx(), i/4/plain.Rect.Dx(); (x < 75 || x >= plain.Rect.Dx()-75) && (y < 75 || y >= plain.Rect.Dy()-75) {
			copy(coloured.Pix[i:], plain.Pix[i:i+4]) // the marks stay black
			continue
		}
		copy(coloured.Pix[i:], []uint8{max(v, 210), max(v, 210), v, 255})
	}
	var stages []Stage
	m, err := Measure(coloured, Options{Watch: func(s Stage) { stages = append(stages, s) }})
	if err != nil {
		t.Fatal(err)
	}
	if m.Channel != Blue && m.Channel != Darkest || !slices.Equal(stages, []Stage{Looking, Flatten, Parting, Measuring}) {
		t.Errorf("channel %s, stages %v", m.Channel, stages)
	}
	one, err := Measure(plain, Options{Line: 0.101})
	if err != nil {
		t.Fatal(err)
	}
	if one.Channel != Luma || one.Standing.Error != marksError || math.Abs(m.Standing.Error-math.Hypot(marksError, unruled)) > 1e-15 {
		t.Errorf("channel %s, scale's error %g and %g", one.Channel, one.Standing.Error, m.Standing.Error)
	}
	if middle := massMedian(one.Grains); math.Abs(one.PerGrain/(middle/one.Pixel)-1) > 1e-12 || math.Abs(one.Pixel/(1.01/7000)-1) > 0.003 {
		t.Errorf("%g pixels a grain of %g m", one.PerGrain, middle)
	}
	if one.Flat.W*one.Flat.H != len(one.Flat.V) || math.Abs(float64(one.Flat.W)-560) > 3 {
		t.Errorf("laid flat %d by %d", one.Flat.W, one.Flat.H)
	}
	for line, in := range map[float64]bool{0.0899: false, 0.0901: true, 0.1099: true, 0.1101: false} {
		_, err := Measure(plain, Options{Line: line})
		var r *Refusal
		if refused := errors.As(err, &r) && r.Code == OtherScale; refused == in {
			t.Errorf("a line of %g m: %v", line, err)
		}
	}
	for n, code := range map[int]Code{399: TooSmall, 400: Unscaled} {
		_, err := Measure(image.NewGray(image.Rect(0, 0, n, 500)), Options{})
		wantRefusal(t, "a picture", err, code)
	}
}

// A mark is a square with a hole of 0.08 to 0.5 of it in its middle, full but for that; by
// squares of 20 pixels.
func TestMarksByTheirShape(t *testing.T) {
	t.Parallel()
	const side = 40
	mark := func(dark func(x, y int) bool) (mark, bool) {
		l := Label(side, side, func(i int) bool {
			x, y := i%side-10, i/side-10
			return x >= 0 && x < 20 && y >= 0 && y < 20 && dark(x, y)
		}, true)
		return l.mark(1, l.boxes()[1])
	}
	hole := func(wide, dx int) func(x, y int) bool {
		from := (20 - wide) / 2
		return func(x, y int) bool { return x < from+dx || x >= from+dx+wide || y < from || y >= from+wide }
	}
	for name, c := range map[string]struct {
		dark func(x, y int) bool
		is   bool
	}{
		"no hole": {func(int, int) bool { return true }, false}, "5 of 20": {hole(5, 0), false}, "6 of 20": {hole(6, 0), true}, "14 of 20": {hole(14, 0), true}, "15 of 20": {hole(15, 0), false}, // 0.0625, 0.09, 0.49, 0.5625
		"aside by 1": {hole(10, 1), true}, "by 3": {hole(10, 3), false}, // a tenth of its side
		"a corner off":      {func(x, y int) bool { return x+y > 4 && hole(10, 0)(x, y) }, true},
		"a disc":            {func(x, y int) bool { return (x-10)*(x-10)+(y-10)*(y-10) < 100 && hole(8, 0)(x, y) }, false},
		"two holes, one in": {func(x, y int) bool { return hole(10, 0)(x, y) && (x != 1 || y != 1) }, true},
	} {
		m, is := mark(c.dark)
		if is != c.is {
			t.Errorf("%s: %v", name, is)
		}
		if is && name != "a corner off" && (m.middle.to(Point{20, 20}) > 0.3 && name != "aside by 1" || math.Abs(m.side-20) > 0.2 || m.dotted) {
			t.Errorf("%s: %+v", name, m)
		}
	}
	dotted, ok := mark(func(x, y int) bool { return hole(10, 0)(x, y) || x >= 8 && x < 12 && y >= 8 && y < 12 })
	if !ok || !dotted.dotted {
		t.Errorf("with a dot: %+v, %v", dotted, ok)
	}
}
