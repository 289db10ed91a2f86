package colour

// Measurements, bands and screens by hand.

import (
	"math"
	"testing"
)

// Measurements at other places of the light: on a line between two, held at the ends.
func TestResampledByHand(t *testing.T) {
	t.Parallel()
	ladder := func(from, step float64, n int) (w, v []float64) {
		for i := range n {
			w, v = append(w, from+step*float64(i)), append(v, 0.1+0.02*float64(i))
		}
		return w, v
	}
	w, v := ladder(385e-9, 20e-9, 17) // 385 to 705 nm
	c, err := Resampled(w, v)
	if err != nil {
		t.Fatal(err)
	}
	for i, got := range c {
		at := 380 + 10*float64(i)
		near(t, "resampled", got, 0.1+0.02*max(0, min(16, (at-385)/20)), 1e-9)
	}
	for _, c := range []struct {
		name       string
		from, step float64
		n          int
		ok         bool
	}{
		{"sixteen", 400e-9, 20e-9, 16, true}, {"fifteen", 400e-9, 21.4e-9, 15, false}, {"from 401 nm", 401e-9, 20e-9, 16, false}, {"to 699 nm", 399e-9, 20e-9, 16, false}, {"steps of 20.6 nm", 390e-9, 20.6e-9, 17, false}, {"steps of 20.4 nm", 390e-9, 20.4e-9, 17, true},
		{"from 200 nm", 200e-9, 10e-9, 60, true}, {"from 199 nm", 199e-9, 10e-9, 60, false}, {"to 2000 nm", 380e-9, 20e-9, 82, true}, {"to 2010 nm", 390e-9, 20e-9, 82, false}, {"2001 of them", 400e-9, 0.2e-9, 2001, false}, {"2000 of them", 400e-9, 0.2e-9, 2000, true},
	} {
		w, v := ladder(c.from, c.step, c.n)
		for i := range v {
			v[i] = 0.5
		}
		if _, err := Resampled(w, v); (err == nil) != c.ok {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	v[3] = 1.01
	if _, err := Resampled(w, v); err == nil {
		t.Error("a reflectance above 1 is taken")
	}
	if _, err := Resampled(w, v[:16]); err == nil {
		t.Error("a value too few is taken")
	}
}

// Light between two bands counts for both by its distance; beyond the last bands for them. The matrix of sRGB is that of
// IEC 61966-2-1 to its four digits; turned round it gives back.
func TestBandsAndScreensByHand(t *testing.T) {
	t.Parallel()
	var w weight
	for _, at := range []float64{300e-9, 382.5e-9, 555e-9, 730e-9, 900e-9} {
		w.fold(at, 1, 2, 4)
	}
	for i, want := range map[int]float64{0: 1.75, 1: 0.25, 17: 0.5, 18: 0.5, 34: 0, 35: 2, 10: 0} {
		for k, times := range []float64{1, 2, 4} {
			if math.Abs(w.band[i][k]-want*times) > 1e-6 {
				t.Errorf("band %d has %v, wanted %g", i, w.band[i], want)
			}
		}
	}
	w.finish()
	near(t, "white", w.white.Y, 1, 1e-12)
	near(t, "of its red", w.white.X, 0.5, 1e-9)
	s := srgb()
	for i, row := range [3][3]float64{{0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}} {
		for k, want := range row {
			if math.Abs(s.toXYZ[i][k]-want) > 6e-5 {
				t.Errorf("row %d of the matrix is %v, published %v", i, s.toXYZ[i], row)
			}
		}
	}
	v := [3]float64{0.3, 0.5, 0.2}
	back := s.fromXYZ.times(s.toXYZ.times(v))
	for i := range v {
		near(t, "there and back", back[i], v[i], 1e-12)
	}
	for i := range 201 {
		x := -1 + 0.015*float64(i)
		near(t, "light and back", encoded(linear(x)), x, 2e-4)
	}
	near(t, "light", linear(0.5), math.Pow(0.555/1.055, 2.4), 1e-12)
	near(t, "light below the bend", linear(-0.04), -0.04/12.92, 1e-12)
	near(t, "mirrored", linear(-0.5), -linear(0.5), 0)
	near(t, "code", encoded(0.2), 1.055*math.Pow(0.2, 1/2.4)-0.055, 1e-12)
	near(t, "code of little", encoded(0.003), 12.92*0.003, 1e-12)
	for x, exact := range map[float64]bool{1 + 0.49/255: true, 1 + 0.51/255: false, -0.49 / 255: true, -0.51 / 255: false, 0.3: true, math.NaN(): false} {
		if shown, ok := (RGB{0.5, x, 0.5}).Shown(); ok != exact || !(shown.G >= 0 && shown.G <= 1) {
			t.Errorf("%g is shown as %g, exactly %t", x, shown.G, ok)
		}
	}
	// A half of the white is L* 76.0693; 216/24389 of it is 8, where line and root meet.
	white := ScreenWhite()
	for share, want := range map[float64]float64{0.5: 76.06926101415557, 216.0 / 24389: 8, 0.004: 0.004 * 24389 / 27, 1: 100} {
		p, err := ToLab(XYZ{share * white.X, share * white.Y, share * white.Z}, white)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "lightness", p.L, want, 1e-9)
		q, err := XYZOf(p, white)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "and back", q.Y, share*white.Y, 1e-9)
	}
	for x, ok := range map[float64]bool{0.1: true, 0.099: false, 2: true, 2.01: false} {
		if _, err := ToLab(XYZ{0.05, 0.05, 0.05}, XYZ{1, x, 1}); (err == nil) != ok {
			t.Errorf("a white of %g: %v", x, err)
		}
	}
	for x, ok := range map[float64]bool{0: true, -0.9e-6: true, -1.1e-6: false, 2: true, 2.01: false} {
		if _, err := ToLab(XYZ{0.5, x, 0.5}, white); (err == nil) != ok {
			t.Errorf("a value of %g: %v", x, err)
		}
	}
}

// A photo's curve is no darker than a hundredth and no whiter than 94 of a hundred, and tells how many bands were brought there.
func TestPhotosAreLifted(t *testing.T) {
	t.Parallel()
	for _, grey := range []float64{0, 0.5, 1} {
		c, lifted, err := FromPhoto(RGB{grey, grey, grey})
		plain, err2 := FromScreen(RGB{grey, grey, grey})
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		want := 0
		for i, r := range plain {
			in := math.Min(math.Max(r, 0.01), 0.94)
			near(t, "lifted", c[i], in, 0)
			if in != r {
				want++
			}
		}
		if lifted != want || (lifted == 0) != (grey == 0.5) {
			t.Errorf("grey %g: %d bands, wanted %d", grey, lifted, want)
		}
	}
}

// What is told below the surface is at most all light, whatever the rounding.
func TestNoMoreThanAllLight(t *testing.T) {
	t.Parallel()
	for _, s := range []Surface{{Outside: 0.04, Inside: 0.6}, {Outside: 0.04, Inside: 0.6, Included: true}} {
		whole := through(s, 1)
		for r, want := range map[float64]float64{whole: 1, through(s, 0.5): 0.5, through(s, 0): 0} {
			if got := s.below(r); math.Abs(got-want) > 1e-9 || got > 1 {
				t.Errorf("below %+v %g is %g, wanted %g", s, r, got, want)
			}
		}
		if got := s.below(whole + 1e-6); got != 1 {
			t.Errorf("a little more than all is %.12g", got)
		}
	}
}
