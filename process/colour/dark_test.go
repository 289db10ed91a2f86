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
				if math.Abs(steep-by[i][k]) > 1e-4*(1+math.Abs(steep)) {
					t.Errorf("at %g: slope %d by %d is %g, by small steps %g", share, i, k, by[i][k], steep)
				}
			}
		}
	}
}
