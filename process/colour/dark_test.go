package colour

import (
	"math"
	"math/rand/v2"
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
}
