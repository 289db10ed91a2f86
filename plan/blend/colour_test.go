package blend

import (
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process/colour"
)

// tinted are lots of random colours and a wanted one.
func tinted(t *testing.T, luck *rand.Rand, n int) ([]blendLot, *blendTint) {
	t.Helper()
	lots := make([]blendLot, n)
	one := func() colour.RGB { return colour.RGB{R: luck.Float64(), G: luck.Float64(), B: luck.Float64()} }
	for i := range lots {
		c, _, err := colour.FromPhoto(one())
		if err != nil {
			t.Fatal(err)
		}
		if lots[i].body, err = colour.BodyOf(c, math.Exp(3*luck.Float64()-1.5), colour.PhotoSurface()); err != nil {
			t.Fatal(err)
		}
	}
	wanted, err := colour.ScreenLab(one())
	if err != nil {
		t.Fatal(err)
	}
	tint, err := newBlendTint(lots, wanted)
	if err != nil {
		t.Fatal(err)
	}
	return lots, tint
}

// The curve handed to the search is the colour difference of the mix that
// package colour gives, and its slopes are those of small changes of the masses.
func TestBlendTintIsTheMixedColour(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(2, 9))
	for range 30 {
		lots, tint := tinted(t, luck, 4)
		x := make([]float64, len(lots))
		bodies, total := []colour.Body{}, 0.0
		for i := range x {
			x[i] = 0.05 + luck.Float64()
			total += x[i]
			bodies = append(bodies, lots[i].body)
		}
		shares := make([]float64, len(x))
		for i := range x {
			shares[i] = x[i] / total
		}
		mix, err := colour.Mixed(bodies, shares, colour.PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		lab, err := colour.LabOf(mix, colour.TwoDegrees)
		if err != nil {
			t.Fatal(err)
		}
		want, err := colour.Difference(lab, tint.wanted)
		if err != nil {
			t.Fatal(err)
		}
		slope, none := make([]float64, len(x)), make([]float64, len(x))
		if got := tint.value(x, slope); math.Abs(got-want) > 1e-6 {
			t.Fatalf("difference %g, want %g", got, want)
		}
		for i := range x {
			up, down := moved(x, i, 1e-5), moved(x, i, -1e-5)
			steep := (tint.value(up, none) - tint.value(down, none)) / 2e-5
			if math.Abs(steep-slope[i]) > 1e-3*(1+math.Abs(steep)) {
				t.Errorf("slope %g, by small steps %g", slope[i], steep)
			}
		}
	}
}

func moved(x []float64, i int, by float64) []float64 {
	out := append([]float64{}, x...)
	out[i] += by
	return out
}

// Near the wanted colour the three differences are about as long as CIEDE2000
// says, and their slopes are those of small changes.
func TestBlendTintDifferencesAreAboutAsLong(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(4, 1))
	for range 30 {
		lots, tint := tinted(t, luck, 3)
		x := []float64{0.5, 0.3, 0.2}
		lab, _, _, _ := tint.look(x)
		tint.wanted = colour.Lab{L: lab.L - 1 + 2*luck.Float64(), A: lab.A - 1 + 2*luck.Float64(), B: lab.B - 1 + 2*luck.Float64()}
		tint.turn()
		part, slopes, none := make([]float64, 3), grid3(len(lots)), grid3(len(lots))
		tint.differences(x, part, slopes)
		far := tint.value(x, make([]float64, len(x)))
		if long := math.Sqrt(part[0]*part[0] + part[1]*part[1] + part[2]*part[2]); long < 0.6*far || long > 1.6*far {
			t.Errorf("%g long, %g apart", long, far)
		}
		for i := range x {
			up, down := make([]float64, 3), make([]float64, 3)
			tint.differences(moved(x, i, 1e-5), up, none)
			tint.differences(moved(x, i, -1e-5), down, none)
			for r := range part {
				if steep := (up[r] - down[r]) / 2e-5; math.Abs(steep-slopes[r][i]) > 1e-3*(1+math.Abs(steep)) {
					t.Errorf("slope %g, by small steps %g", slopes[r][i], steep)
				}
			}
		}
	}
}

func grid3(n int) [][]float64 {
	return [][]float64{make([]float64, n), make([]float64, n), make([]float64, n)}
}
