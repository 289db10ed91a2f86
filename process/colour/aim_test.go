package colour

import (
	"math"
	"math/rand/v2"
	"testing"
)

// aimed are plastics of random colours and scattering, and a colour wanted.
func aimed(t testing.TB, luck *rand.Rand, n int) ([]Body, *Aim) {
	t.Helper()
	one := func() RGB { return RGB{R: luck.Float64(), G: luck.Float64(), B: luck.Float64()} }
	bodies := make([]Body, n)
	for i := range bodies {
		c, _, err := FromPhoto(one())
		if err != nil {
			t.Fatal(err)
		}
		if bodies[i], err = BodyOf(c, 0.5+2*luck.Float64(), PhotoSurface()); err != nil {
			t.Fatal(err)
		}
	}
	wanted, err := ScreenLab(one())
	if err != nil {
		t.Fatal(err)
	}
	a, err := NewAim(bodies, wanted, PhotoSurface())
	if err != nil {
		t.Fatal(err)
	}
	return bodies, a
}

// How far a blend is from the colour wanted is what Mixed and Difference say,
// and the slopes are those of small changes of the masses.
func TestAimIsTheMixedColour(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(2, 9))
	for range 40 {
		bodies, a := aimed(t, luck, 4)
		x, total := make([]float64, len(bodies)), 0.0
		for i := range x {
			x[i] = 0.05 + luck.Float64()
			total += x[i]
		}
		shares := make([]float64, len(x))
		for i := range x {
			shares[i] = x[i] / total
		}
		mix, err := Mixed(bodies, shares, PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		lab, err := LabOf(mix, TwoDegrees)
		if err != nil {
			t.Fatal(err)
		}
		want, err := Difference(lab, a.wanted)
		if err != nil {
			t.Fatal(err)
		}
		slope := make([]float64, len(x))
		if got := a.Far(x, slope); math.Abs(got-want) > 1e-6 || a.Far(x, nil) != got {
			t.Fatalf("difference %g, without slopes %g, want %g", got, a.Far(x, nil), want)
		}
		for i := range x {
			steep := (a.Far(moved(x, i, 1e-5), nil) - a.Far(moved(x, i, -1e-5), nil)) / 2e-5
			if !(math.Abs(steep-slope[i]) <= 1e-3*(1+math.Abs(steep))) { // NaN is no slope
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
func TestAimPartsAreAboutAsLong(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(4, 1))
	for range 40 {
		bodies, a := aimed(t, luck, 3)
		x := []float64{0.5, 0.3, 0.2}
		m, _ := a.mix(x)
		near := Lab{L: m.lab.L - 1 + 2*luck.Float64(), A: m.lab.A - 1 + 2*luck.Float64(), B: m.lab.B - 1 + 2*luck.Float64()}
		a, err := NewAim(bodies, near, PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		part, slopes := make([]float64, 3), [][]float64{make([]float64, 3), make([]float64, 3), make([]float64, 3)}
		a.Parts(x, part, slopes)
		far, long := a.Far(x, nil), math.Hypot(math.Hypot(part[0], part[1]), part[2])
		if long < 0.6*far || long > 1.6*far {
			t.Errorf("%g long, %g apart", long, far)
		}
		up, down, none := make([]float64, 3), make([]float64, 3), make([][]float64, 3)
		for i := range x {
			a.Parts(moved(x, i, 1e-5), up, none)
			a.Parts(moved(x, i, -1e-5), down, none)
			for r := range part {
				if steep := (up[r] - down[r]) / 2e-5; !(math.Abs(steep-slopes[r][i]) <= 1e-3*(1+math.Abs(steep))) {
					t.Errorf("slope %g, by small steps %g", slopes[r][i], steep)
				}
			}
		}
	}
}

func TestAimAtNothing(t *testing.T) {
	t.Parallel()
	_, a := aimed(t, rand.New(rand.NewPCG(5, 1)), 2)
	slope, part := []float64{7, 7}, make([]float64, 3)
	if v := a.Far(make([]float64, 2), slope); v != 1e3 || slope[0] != 0 {
		t.Errorf("no mass is %g off, slope %v", v, slope)
	}
	if a.Parts(make([]float64, 2), part, make([][]float64, 3)); part[2] != 1e3 {
		t.Errorf("no mass: %v", part)
	}
}

func BenchmarkAim1000(b *testing.B) {
	_, a := aimed(b, rand.New(rand.NewPCG(6, 1)), 1000)
	x, slope := make([]float64, 1000), make([]float64, 1000)
	x[3], x[500], x[900] = 0.5, 0.3, 0.2
	for b.Loop() {
		a.Far(x, slope)
	}
}
