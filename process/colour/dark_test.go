package colour

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Near black L*a*b* is a straight line (CIE 15: below 0.008856 of the white, κ = 903.3 to a
// hundredth of L*); it meets the curve, and the slopes of a search are those of small steps.
func TestLookNearBlack(t *testing.T) {
	t.Parallel()
	_, a := aimed(t, rand.New(rand.NewPCG(4, 4)), 3)
	for _, share := range []float64{0.0005, 0.002, 0.008, 0.0088, 0.0089, 0.02, 0.2, 1} {
		v := XYZ{share * a.white.X, share * a.white.Y, share * a.white.Z}
		lab, by := a.look(v)
		want := 903.2963 * share
		if share > 0.008856 {
			want = 116*math.Cbrt(share) - 16
		}
		if math.Abs(lab.L-want) > 1e-4 || math.Abs(lab.A) > 1e-9 || math.Abs(lab.B) > 1e-9 {
			t.Errorf("at %g of the white: %+v, wanted L* %g", share, lab, want)
		}
		const small = 1e-7
		for k := range 3 {
			up, down := v, v
			p, q := []*float64{&up.X, &up.Y, &up.Z}[k], []*float64{&down.X, &down.Y, &down.Z}[k]
			*p, *q = *p+small, *q-small
			hi, _ := a.look(up)
			lo, _ := a.look(down)
			for i, steep := range []float64{(hi.L - lo.L) / (2 * small), (hi.A - lo.A) / (2 * small), (hi.B - lo.B) / (2 * small)} {
				if !(math.Abs(steep-by[i][k]) <= 1e-4*(1+math.Abs(steep))) {
					t.Errorf("at %g: slope %d by %d is %g, by small steps %g", share, i, k, by[i][k], steep)
				}
			}
		}
	}
}

// Where less than the least share looked at is enough: the share whose difference is the
// limit, found from the mixed colour itself.
func TestSharesBelowTheGrid(t *testing.T) {
	t.Parallel()
	body := func(r, scatter float64) Body {
		c, err := Flat(r)
		if err != nil {
			t.Fatal(err)
		}
		b, err := BodyOf(c, scatter, PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	white, black := body(0.85, 1), body(0.041, 1000)
	look := func(share float64) Lab {
		c, err := Mixed([]Body{white, black}, []float64{1 - share, share}, PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		lab, err := LabOf(c, TwoDegrees)
		if err != nil {
			t.Fatal(err)
		}
		return lab
	}
	apart := func(a, b Lab) float64 {
		d, err := Difference(a, b)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	most, err := MostStray(white, black, 0.01, PhotoSurface())
	if err != nil || most >= 1e-6 || math.Abs(apart(look(0), look(most))/0.01-1) > 1e-6 {
		t.Errorf("%g of black stray, which is %g off: %v", most, apart(look(0), look(most)), err)
	}
	wanted := look(0.5)
	const enough = 4e-6 // the least share looked at is 1e-5
	limit := apart(wanted, look(enough))
	if limit > 100 {
		t.Fatalf("%g apart", limit)
	}
	r, err := ReachOf(white, black, wanted, limit, 1, PhotoSurface())
	if err != nil || !r.Reached || math.Abs(r.Least/enough-1) > 1e-4 {
		t.Errorf("%+v, wanted from %g on: %v", r, enough, err)
	}
	// Where the most allowed is not enough, the most is the best there is.
	if r, err = ReachOf(white, black, wanted, 0.01, 0.01, PhotoSurface()); err != nil || r.Reached || r.Share > 0.01 || r.Share < 0.0099 || math.Abs(r.Off-apart(wanted, look(r.Share))) > 1e-9 {
		t.Errorf("%+v of at most a hundredth: %v", r, err)
	}
}

// The axes a search measures along are those of CIEDE2000: small steps of lightness and of
// chroma are as long as Difference says; of hue up to its factor T, 0.4 to 1.6.
func TestAxesOfAim(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(7, 7))
	for range 60 {
		chroma, hue := 1+90*luck.Float64(), 2*math.Pi*luck.Float64()
		w := Lab{L: 10 + 80*luck.Float64(), A: chroma * math.Cos(hue), B: chroma * math.Sin(hue)}
		a := &Aim{wanted: w}
		a.turn()
		long := func(p Lab) float64 {
			d := [3]float64{p.L - w.L, p.A - w.A, p.B - w.B}
			sum := 0.0
			for _, axis := range a.axes {
				part := axis[0]*d[0] + axis[1]*d[1] + axis[2]*d[2]
				sum += part * part
			}
			return math.Sqrt(sum)
		}
		for name, c := range map[string]struct {
			p      Lab
			lo, hi float64
		}{
			"lightness": {Lab{w.L + 0.01, w.A, w.B}, 0.999, 1.001}, "chroma": {Lab{w.L, w.A * 1.0005, w.B * 1.0005}, 0.99, 1.01},
			"hue": {Lab{w.L, w.A - 0.0005*w.B, w.B + 0.0005*w.A}, 0.38, 2},
		} {
			d, err := Difference(w, c.p)
			if r := long(c.p) / d; err != nil || !(r > c.lo && r < c.hi) {
				t.Errorf("%+v: a step of %s is %.4f times as long as it should be, %v", w, name, r, err)
			}
		}
	}
}

// A grey is the same at every wavelength, whatever the matrix rounds; what has a hue is not.
func TestGreysAreFlat(t *testing.T) {
	t.Parallel()
	for _, p := range []Lab{{50, 0, 0}, {10, 0, 0}, {95, 0, 0}, {50, 30, 0}, {50, 0, 30}} {
		c, err := FromLab(p)
		if err != nil {
			t.Fatal(err)
		}
		flat := true
		for _, r := range c {
			flat = flat && r == c[0]
		}
		if flat != (p.A == 0 && p.B == 0) {
			t.Errorf("%+v: flat %v", p, flat)
		}
	}
}

// What is no code is told by its first twenty letters.
func TestNoCodeIsToldShort(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{strings.Repeat("ü", 20): strings.Repeat("ü", 20), strings.Repeat("ü", 21): strings.Repeat("ü", 20) + "…", "#12345g": "#12345g", "": ""} {
		_, err := ParseHex(text)
		var code *CodeError
		if !errors.As(err, &code) || code.Text != want {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Whites side by side are no more than white, though shares may add up to a rounding over 1.
func TestWhitesStayWhite(t *testing.T) {
	t.Parallel()
	white, err := Flat(1)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Unmixed([]Curve{white, white}, []float64{0.5, 0.5 + 9e-7})
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range c {
		if r != 1 {
			t.Errorf("band %d sends back %.9f", i, r)
		}
	}
}
