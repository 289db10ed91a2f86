package grain

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// A camera over A4, 300 mm high, 10.7 px/mm, tilted by 15°: own arithmetic, as in
// docs/models/grain.md.
func cameraOverA4(t *testing.T) (Homography, []Point) {
	t.Helper()
	marks := []Point{{-0.095, -0.065}, {0.095, -0.065}, {0.095, 0.065}, {-0.095, 0.065}}
	tilt, far := 15*math.Pi/180, 0.3
	see := func(p Point) Point {
		f := 10.7e3 * far
		return Point{2000 + f*p.X/(far+p.Y*math.Sin(tilt)), 1500 + f*p.Y*math.Cos(tilt)/(far+p.Y*math.Sin(tilt))}
	}
	var seen []Point
	for _, m := range marks {
		seen = append(seen, see(m))
	}
	h, err := FitHomography(marks, seen)
	if err != nil {
		t.Fatal(err)
	}
	// Places between the marks are seen where the camera sees them.
	for _, p := range []Point{{0, 0}, {0.03, -0.05}, {-0.08, 0.06}} {
		if d := h.To(p).to(see(p)); d > 1e-7 {
			t.Errorf("%v is off by %g px", p, d)
		}
	}
	return h, seen
}

func TestHomography(t *testing.T) {
	t.Parallel()
	h, seen := cameraOverA4(t)
	marks := []Point{{-0.095, -0.065}, {0.095, -0.065}, {0.095, 0.065}, {-0.095, 0.065}}
	// A length of 1 mm anywhere comes back as 1 mm.
	for x := -0.09; x <= 0.09; x += 0.03 {
		for y := -0.06; y <= 0.06; y += 0.03 {
			a, b := Point{x, y}, Point{x + 0.0006, y + 0.0008}
			if l := h.Back(h.To(a)).to(h.Back(h.To(b))); math.Abs(l/0.001-1) > 1e-9 {
				t.Errorf("1 mm at %g, %g is %.12g mm", x, y, l*1e3)
			}
		}
	}
	// Marks off by a pixel (standard deviation): lengths are off by 0.10 % ± 0.03, root mean square.
	rng := rand.New(rand.NewPCG(5, 5))
	sum, n := 0.0, 0
	for range 400 {
		var off []Point
		for _, p := range seen {
			off = append(off, Point{p.X + rng.NormFloat64(), p.Y + rng.NormFloat64()})
		}
		wrong, err := FitHomography(marks, off)
		if err != nil {
			t.Fatal(err)
		}
		for range 10 {
			a := Point{(rng.Float64() - 0.5) * 0.18, (rng.Float64() - 0.5) * 0.13}
			turn := rng.Float64() * 2 * math.Pi
			b := a.plus(Point{math.Cos(turn), math.Sin(turn)}.times(1e-4))
			l := wrong.Back(h.To(a)).to(wrong.Back(h.To(b))) / 1e-4
			sum += (l - 1) * (l - 1)
			n++
		}
	}
	if rms := 100 * math.Sqrt(sum/float64(n)); math.Abs(rms-0.10) > 0.03 {
		t.Errorf("lengths are off by %.3f %% rms, wanted 0.10 ± 0.03", rms)
	}
}

func TestHomographyRefusesLines(t *testing.T) {
	t.Parallel()
	line := []Point{{0, 0}, {1, 0}, {2, 0}, {3, 0}}
	square := []Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	for name, c := range map[string][2][]Point{
		"in a line": {line, square}, "three": {square[:3], square[:3]}, "uneven": {square, line[:3]}, "one place": {make([]Point, 4), square},
	} {
		if _, err := FitHomography(c[0], c[1]); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

// The hull of points holds all of them, turns one way, and does not depend on their order.
func TestHull(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 8))
	for range 50 {
		var all []Point
		for range 3 + rng.IntN(40) {
			all = append(all, Point{math.Round(rng.Float64() * 9), math.Round(rng.Float64() * 9)})
		}
		shuffled := make([]Point, len(all))
		for i, k := range rng.Perm(len(all)) {
			shuffled[i] = all[k]
		}
		hull := Hull(slices.Clone(all))
		if len(hull) != len(Hull(shuffled)) {
			t.Fatal("the order matters")
		}
		for i := range hull {
			a, b := hull[i], hull[(i+1)%len(hull)]
			if len(hull) > 2 && turn(a, b, hull[(i+2)%len(hull)]) <= 0 {
				t.Fatalf("it does not turn at %v: %v", b, hull)
			}
			for _, p := range all {
				if len(hull) > 2 && turn(a, b, p) < 0 {
					t.Fatalf("%v lies outside %v", p, hull)
				}
			}
		}
	}
}
