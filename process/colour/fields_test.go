package colour

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Lab{50, 1, 1}, Lab.Check)
	checkrow.Fields(t, Surface{0.04, 0.6, true}, Surface.Check)
}

// The ranges that no check row moves, at both ends.
func TestRangesOfColours(t *testing.T) {
	t.Parallel()
	flat, err := Flat(0.4)
	if err != nil {
		t.Fatal(err)
	}
	body, err := BodyOf(flat, 1, PhotoSurface())
	if err != nil {
		t.Fatal(err)
	}
	grid := func(n int, from, to float64) (w, v []float64) {
		for i := range n {
			w, v = append(w, from+(to-from)*float64(i)/float64(n-1)), append(v, 0.5)
		}
		return w, v
	}
	for _, c := range []struct {
		name   string
		lo, hi float64
		f      func(float64) error
	}{
		{"a*", -300, 300, func(x float64) error { return Lab{50, x, 0}.Check() }},
		{"b*", -300, 300, func(x float64) error { return Lab{50, 0, x}.Check() }},
		{"share added", 1e-4, 0.9999, func(x float64) error {
			_, _, err := LearnScatter(body, flat, x, Lab{50, 0, 0}, PhotoSurface())
			return err
		}},
		{"reflectance of a ratio", 1e-6, 1, func(x float64) error { _, err := Ratio(x); return err }},
		{"doubt of scattering", 0, 2, func(x float64) error {
			_, _, _, err := Heap{Parts: []Scrap{{Colour: flat, Share: 1, Scatter: 1, Doubt: x}}, Counted: 10, Draws: 20, Surface: PhotoSurface()}.prepare()
			return err
		}},
		{"part of a screen colour", 0, 1, func(x float64) error { return RGB{x, 0.5, 0.5}.check() }},
		{"value of a measurement", 0, 1, func(x float64) error {
			w, v := grid(31, 400e-9, 700e-9)
			v[3] = x
			_, err := Resampled(w, v)
			return err
		}},
	} {
		checkrow.Range(t, c.name, c.lo, c.hi, c.f)
	}
	for n, in := range map[int]bool{15: false, 16: true, 2000: true, 2001: false} {
		w, v := grid(n, 400e-9, 700e-9)
		if _, err := Resampled(w, v); (err == nil) != in {
			t.Errorf("%d bands: %v", n, err)
		}
	}
	for _, c := range []struct {
		from, to float64
		in       bool
	}{{200e-9, 2000e-9, true}, {199e-9, 2000e-9, false}, {200e-9, 2001e-9, false}} {
		w, v := grid(400, c.from, c.to)
		if _, err := Resampled(w, v); (err == nil) != c.in {
			t.Errorf("%g to %g m: %v", c.from, c.to, err)
		}
	}
	// A line of reflectance over wavelength is that line between the bands of an instrument.
	w, v := grid(61, 380e-9, 730e-9)
	for i := range v {
		v[i] = 0.1 + 0.8*(w[i]-380e-9)/350e-9
	}
	c, err := Resampled(w, v)
	if err != nil {
		t.Fatal(err)
	}
	for i, got := range c {
		if want := 0.1 + 0.8*(Wavelength(i)-380e-9)/350e-9; math.Abs(got-want) > 1e-9 {
			t.Errorf("band %d is %g, wanted %g", i, got, want)
		}
	}
}
