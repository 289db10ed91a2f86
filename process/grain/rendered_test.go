package grain

import (
	"errors"
	"image"
	_ "image/jpeg"
	_ "image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// long leaves a test of many whole pictures out of a short run: known_test.go, seen_test.go
// and the approved pictures stand in for it there.
func long(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("takes minutes")
	}
}

// sized measures a scene and returns its sizes as widths, with the truth.
func sized(s scene, plastic Plastic) (*Measured, Sizes, [3]float64, error) {
	img, grains := s.render()
	m, err := Measure(img, Options{Line: LineLength})
	if err != nil {
		return m, Sizes{}, [3]float64{}, err
	}
	h, err := Weigh([]Sample{{Spreads: []*Spread{&m.Spread}}}, plastic)
	if err != nil {
		return m, Sizes{}, [3]float64{}, err
	}
	z, err := Sizing(h, Ask{Shape: Shape{Median: 1}, Seed: 1})
	a, b, c := s.truth(grains)
	return m, z, [3]float64{a, b, c}, err
}

// half is the usual scene on the half sheet, about 1100 grains.
func half(change func(*scene)) scene {
	s := usual()
	s.sheet = HalfSheet()
	change(&s)
	return s
}

// The rendered cases: d50 is off by at most 3 %, d90 by 8 %, at 10 to 15 % cover and
// 13 pixels, also where several things are wrong at once. docs/models/grain.md has
// what was found.
var rendered = []struct {
	name   string
	change func(*scene)
}{
	{"usual", func(*scene) {}},
	{"15 % covered", func(s *scene) { s.cover = 0.15 }},
	{"angular, 16 px/mm", func(s *scene) { s.polygons = true; s.perMM = 16 }},
	{"pale on white", func(s *scene) { s.light = 0.65 }},
	{"clear with a dark rim", func(s *scene) { s.clear = true }},
	{"pale on black", func(s *scene) { s.ground, s.light = 0.03, 0.7 }},
	{"clear before a lit screen", func(s *scene) { s.paper, s.ground, s.light, s.clear, s.falloff = 0.4, 0.95, 0.3, true, 0.1 }},
	{"dark before a lit screen", func(s *scene) { s.paper, s.ground, s.light, s.falloff = 0.4, 0.95, 0.05, 0.1 }},
	{"tilted by 25", func(s *scene) { s.tilt, s.roll, s.margin = 25, 10, 3 }},
	{"shadow on one side", func(s *scene) { s.shadow = 0.4 }},
	{"lens +2 %", func(s *scene) { s.lens = 0.02 }},
	{"lens −2 %", func(s *scene) { s.lens = -0.02 }},
	{"ink that ran", func(s *scene) { s.swell = 1.03 }},
	{"light falling off by half", func(s *scene) { s.falloff = 0.5 }},
	{"brownish light", func(s *scene) { s.tint = [3]float64{1, 0.8, 0.6} }},
	{"blur 1.4 px", func(s *scene) { s.blur = 1.4 }},
	{"noise 5 %", func(s *scene) { s.noise = 0.05 }},
	{"tilt, blur, noise, uneven", func(s *scene) {
		s.tilt, s.roll, s.margin, s.blur, s.noise, s.falloff, s.perMM = 15, 20, 2, 1.3, 0.04, 0.5, 15
	}},
	{"the same, pale on black", func(s *scene) {
		s.tilt, s.margin, s.blur, s.noise, s.falloff, s.ground, s.light, s.perMM = 15, 2, 1.3, 0.04, 0.5, 0.03, 0.7, 15
	}},
	{"tilt, lens, shadow, ink", func(s *scene) { s.tilt, s.margin, s.lens, s.shadow, s.swell = 10, 2, -0.015, 0.25, 1.02 }},
	{"angular, pale, noise, brown", func(s *scene) {
		s.polygons, s.light, s.noise, s.tint, s.perMM = true, 0.6, 0.04, [3]float64{1, 0.85, 0.7}, 16
	}},
}

func TestRendered(t *testing.T) {
	t.Parallel()
	long(t)
	for _, c := range rendered {
		name, s := c.name, half(c.change)
		m, z, want, err := sized(s, Plastic{Density: 1240})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		off := func(r Range, v float64) float64 { return 100 * (r.Value/v - 1) }
		t.Logf("| %s | %d | %+.1f %% | %+.1f %% | %+.1f %% | cover %.3f, %.1f px", name, len(m.Grains),
			off(z.D10, want[0]), off(z.D50, want[1]), off(z.D90, want[2]), m.Cover, m.PerGrain)
		bound := 3.0
		if s.shadow > 0 && s.lens != 0 { // either alone takes 2 % of it
			bound = 4
		}
		if e := off(z.D50, want[1]); math.Abs(e) > bound {
			t.Errorf("%s: d50 is off by %+.1f %%", name, e)
		}
		if e := off(z.D90, want[2]); math.Abs(e) > 8 {
			t.Errorf("%s: d90 is off by %+.1f %%", name, e)
		}
		if m.Standing.Card || m.Standing.Sheet.Name != "half" {
			t.Errorf("%s: taken for the sheet %q", name, m.Standing.Sheet.Name)
		}
	}
}

// The line measured with a ruler scales every length.
func TestLine(t *testing.T) {
	t.Parallel()
	long(t)
	img, _ := half(func(s *scene) { s.cover = 0.03 }).render()
	one, err := Measure(img, Options{Line: LineLength})
	if err != nil {
		t.Fatal(err)
	}
	other, err := Measure(img, Options{Line: 0.98 * LineLength})
	if err != nil {
		t.Fatal(err)
	}
	for i, g := range one.Grains {
		if r := other.Grains[i].Width / g.Width; math.Abs(r-0.98) > 1e-9 {
			t.Fatalf("grain %d is %g times as wide", i, r)
		}
	}
	_, err = Measure(img, Options{Line: 0.08})
	wantRefusal(t, "another line", err, OtherScale)
	loose, err := Measure(img, Options{})
	if err != nil || math.Abs(loose.Standing.Error-math.Hypot(marksError, 0.005)) > 1e-12 || one.Standing.Error != marksError {
		t.Errorf("without the ruler the scale's error is %g, with it %g, %v", loose.Standing.Error, one.Standing.Error, err)
	}
}

func wantRefusal(t *testing.T, name string, err error, code Code) {
	t.Helper()
	var r *Refusal
	if !errors.As(err, &r) || r.Code != code {
		t.Errorf("%s: got %v, wanted the refusal %s", name, err, code)
	}
}

// Every refusal, raised where it should be. TestRendered holds that it is raised
// nowhere else.
func TestRefusals(t *testing.T) {
	t.Parallel()
	long(t)
	for name, c := range map[string]struct {
		code   Code
		change func(*scene)
	}{
		"a heap":          {Covered, func(s *scene) { s.cover = 0.5 }},
		"too much":        {Covered, func(s *scene) { s.cover = 0.31 }},
		"pale on white":   {Faint, func(s *scene) { s.light, s.cover = 0.79, 0.05 }},
		"noise":           {Noisy, func(s *scene) { s.light, s.noise = 0.66, 0.2 }},
		"far away":        {TooFine, func(s *scene) { s.perMM, s.d50, s.least = 7, 0.9e-3, 0.2e-3 }},
		"no sheet":        {Unscaled, func(s *scene) { s.noMarks = true }},
		"out of focus":    {Blurred, func(s *scene) { s.blur = 3.2; s.perMM = 14 }},
		"wide-angle lens": {WideAngle, func(s *scene) { s.lens = -0.05 }},
		"from the side":   {Tilted, func(s *scene) { s.tilt, s.margin = 52, 6 }},
		"empty":           {NoGrains, func(s *scene) { s.cover = 0 }},
	} {
		img, _ := half(c.change).render()
		_, err := Measure(img, Options{Line: LineLength})
		wantRefusal(t, name, err, c.code)
	}
	_, err := Measure(image.NewGray(image.Rect(0, 0, 300, 200)), Options{})
	wantRefusal(t, "a thumbnail", err, TooSmall)
	_, err = Measure(image.NewUniform(image.White), Options{})
	wantRefusal(t, "without end", err, TooLarge)
	_, err = Measure(image.NewGray(image.Rect(0, 0, 900, 600)), Options{})
	wantRefusal(t, "black", err, Unscaled)
}

// Just inside each limit nothing is refused.
func TestNotRefused(t *testing.T) {
	t.Parallel()
	long(t)
	for name, change := range map[string]func(*scene){
		"24 % covered":             func(s *scene) { s.cover = 0.235 },
		"hardly differing":         func(s *scene) { s.light = 0.72 },
		"noise":                    func(s *scene) { s.light, s.noise = 0.6, 0.09 },
		"few pixels":               func(s *scene) { s.perMM = 10 },
		"soft":                     func(s *scene) { s.blur, s.perMM = 2, 16 },
		"a lens of 2.2 %":          func(s *scene) { s.lens = -0.022 },
		"from the side":            func(s *scene) { s.tilt, s.margin, s.perMM = 36, 5, 16 },
		"dim, upside down":         func(s *scene) { s.exposure, s.roll, s.margin = 0.4, 180, 1 },
		"bright, on its side":      func(s *scene) { s.exposure, s.roll, s.margin = 1.15, 90, 8 },
		"a wide law":               func(s *scene) { s.gsd, s.perMM = 2, 16 },
		"one size, grey on black":  func(s *scene) { s.gsd, s.ground, s.light = 1.05, 0.03, 0.25 },
		"before a screen":          func(s *scene) { s.paper, s.ground, s.light, s.clear = 0.25, 0.98, 0.4, true },
		"a few, dark on grey card": func(s *scene) { s.cover, s.paper, s.ground, s.light = 0.005, 0.85, 0.5, 0.1 },
	} {
		img, _ := half(change).render()
		if _, err := Measure(img, Options{Line: LineLength}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A bank card in place of the sheet, dark on white or light on black, also seen from
// aside: the error of its scale is larger than the marks', and told.
func TestCard(t *testing.T) {
	t.Parallel()
	long(t)
	for name, change := range map[string]func(*scene){
		"dark on white":         func(s *scene) {},
		"pale on black":         func(s *scene) { s.ground, s.light, s.bank = 0.03, 0.7, 0.6 },
		"tilted, noisy, turned": func(s *scene) { s.tilt, s.roll, s.noise, s.falloff = 15, 7, 0.04, 0.4 },
	} {
		s := usual()
		s.noMarks, s.card, s.tilt, s.d50, s.least, s.cover, s.perMM = true, true, 5, 1.5e-3, 0.3e-3, 0.06, 9
		change(&s)
		m, z, want, err := sized(s, Plastic{Density: 1240})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !m.Standing.Card || m.Standing.Error < 3*marksError {
			t.Errorf("%s: card %v with a scale error of %g", name, m.Standing.Card, m.Standing.Error)
		}
		t.Logf("| bank card, %s | %d | %+.1f %% | %+.1f %% | %+.1f %% |", name, len(m.Grains), 100*(z.D10.Value/want[0]-1), 100*(z.D50.Value/want[1]-1), 100*(z.D90.Value/want[2]-1))
		if e := 100 * (z.D50.Value/want[1] - 1); math.Abs(e) > 3 {
			t.Errorf("%s: d50 is off by %+.1f %%", name, e)
		}
		// The card's own length, from the homography alone.
		most, _ := m.Standing.scales(Point{})
		if r := most / 9000; math.Abs(r-1) > 0.01 {
			t.Errorf("%s: a metre at the card has %g px, wanted 9000", name, most)
		}
	}
}

// The coded picture that other tests use, with its truth from testdata/SOURCE.
func TestCodedPicture(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]float64{"spread.jpg": 1.529774e-3, "heap.jpg": 0} {
		f, err := os.Open(filepath.Join("testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		img, _, err := image.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		m, err := Measure(img, Options{Line: LineLength})
		if want == 0 {
			wantRefusal(t, name, err, Covered)
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if got := massMedian(m.Grains); math.Abs(got/want-1) > 0.03 {
			t.Errorf("%s: half the mass is finer than %.3f mm, wanted %.3f", name, got*1e3, want*1e3)
		}
	}
}

// field takes an open picture as a field, its codes for light: nothing is known of
// its camera.
func field(t *testing.T, name string) Field {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	g := Plane(img, Luma, 1)
	r := NewRaster(g.W, g.H)
	for i, v := range g.V {
		r.V[i] = float32(v) / 255
	}
	return Field{Raster: r, Pixel: 1e-4}
}

// Beds of sand and gravel: testdata/SOURCE.
func TestBedsAreCovered(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"gravel-crop.png", "sand-355-crop.jpg", "sand-710-crop.jpg", "sand-1400-crop.jpg"} {
		_, err := Find(field(t, name))
		wantRefusal(t, name, err, Covered)
	}
}

// The open picture of 24 coins (testdata/SOURCE) is fuller than we take, so the
// limit of cover is left out. Specks smaller than a tenth of a coin are none.
func TestCoins(t *testing.T) {
	t.Parallel()
	f := field(t, "coins.png")
	g := newFinder(f)
	g.ground()
	if err := g.levels(); err != nil {
		t.Fatal(err)
	}
	g.patches()
	wantRefusal(t, "coins", g.cover(), Covered)
	g.part()
	if err := g.measure(); err != nil {
		t.Fatal(err)
	}
	var areas []float64
	for _, c := range g.out.Grains {
		areas = append(areas, c.Area/(f.Pixel*f.Pixel))
	}
	slices.Sort(areas)
	limit := areas[len(areas)/2] / 10
	areas = slices.DeleteFunc(areas, func(a float64) bool { return a < limit })
	if len(areas) != 24 || g.out.Touching != 0 {
		t.Errorf("%d coins and %d at the edge, wanted 24 and none: %v", len(areas), g.out.Touching, areas)
	}
}
