package grain

import (
	"math"
	"math/rand/v2"
	"testing"
)

// thrown are grains as the camera would see them without any error: only which
// grains lie on the field, and where, is left to chance.
func thrown(seed uint64, n int, s scene) *Spread {
	rng := rand.New(rand.NewPCG(seed, 3))
	sd := math.Log(s.gsd)
	mean := math.Log(s.d50) - 3*sd*sd
	out := &Spread{W: 0.16, H: 0.12, Pixel: 1e-4}
	for range n {
		g := s.shape(math.Exp(mean+sd*rng.NormFloat64()), rng)
		out.Grains = append(out.Grains, Grain{X: rng.Float64() * out.W, Y: rng.Float64() * out.H, Area: g.area, Width: g.width, Length: g.long, Across: g.wide, Down: g.long})
	}
	return out
}

// How often the 80 % range holds the truth: the d50 of the law the grains are drawn
// from, over 300 spoonfuls. Between 75 and 88 of 100 is wanted.
func TestRanges(t *testing.T) {
	t.Parallel()
	long(t)
	s := usual()
	s.gsd = 1.5
	held := map[string]int{}
	const times = 300
	for k := range times {
		sp := thrown(uint64(k+1), 2000, s)
		for i := range sp.Grains { // edges are TestEdges' matter
			sp.Grains[i].Across, sp.Grains[i].Down = 0, 0
		}
		h, err := Weigh([]Sample{{Spreads: []*Spread{sp}}}, Plastic{Density: 1000})
		if err != nil {
			t.Fatal(err)
		}
		z, err := Sizing(h, Ask{Shape: Shape{Median: 1}, Seed: uint64(k)})
		if err != nil {
			t.Fatal(err)
		}
		sd := math.Log(s.gsd)
		for name, r := range map[string]struct {
			Range
			want float64
		}{
			"d10": {z.D10, s.d50 * math.Exp(-1.2815515655*sd)}, "d50": {z.D50, s.d50}, "d90": {z.D90, s.d50 * math.Exp(1.2815515655*sd)},
		} {
			if r.Low <= r.want && r.want <= r.High {
				held[name]++
			}
		}
	}
	for name, n := range held {
		share := 100 * float64(n) / times
		t.Logf("%s: held %.0f of 100", name, share)
		if share < 75 || share > 88 {
			t.Errorf("%s: the range holds the truth %.0f times of 100", name, share)
		}
	}
}

// Large grains more often touch the edge of the field; the rest stands for them.
func TestEdges(t *testing.T) {
	t.Parallel()
	long(t)
	s := usual()
	with, without := 0.0, 0.0
	const times = 50
	for k := range times {
		sp := thrown(uint64(k+1), 1500, s)
		sp.W, sp.H = 0.014, 0.012 // a small field, so that edges matter
		inside := sp.Grains[:0]
		rng := rand.New(rand.NewPCG(uint64(k), 9))
		for _, g := range sp.Grains {
			g.Across, g.Down = g.Length, g.Width
			g.X, g.Y = rng.Float64()*sp.W, rng.Float64()*sp.H
			if g.X > g.Across/2 && g.X < sp.W-g.Across/2 && g.Y > g.Down/2 && g.Y < sp.H-g.Down/2 {
				inside = append(inside, g)
			}
		}
		sp.Grains = inside
		for _, corrected := range []bool{true, false} {
			if !corrected {
				for i := range sp.Grains {
					sp.Grains[i].Across, sp.Grains[i].Down = 0, 0
				}
			}
			h, err := Weigh([]Sample{{Spreads: []*Spread{sp}}}, Plastic{Density: 1000})
			if err != nil {
				t.Fatal(err)
			}
			z, err := Sizing(h, Ask{Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			if corrected {
				with += z.D50.Value / times
			} else {
				without += z.D50.Value / times
			}
		}
	}
	t.Logf("d50 1 mm: %.4f mm with the edges, %.4f mm without", with*1e3, without*1e3)
	if math.Abs(with/s.d50-1) > 0.01 {
		t.Errorf("with the edges d50 is %.4f mm, wanted 1", with*1e3)
	}
	if without/s.d50-1 > -0.03 {
		t.Errorf("without them it is %.4f mm; the test shows nothing", without*1e3)
	}
}
