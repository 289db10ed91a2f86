package grain

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

// The second library: scipy.ndimage on the same rasters, as testdata/second.py wrote it.
type secondRaster struct {
	Name                       string
	W, H                       int
	Set                        string
	Squared, Eight, Four, Shed []int
	Tops                       [][2]int
}

func TestSecondLibrary(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("testdata/second.json")
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Scipy   string
		Rasters []secondRaster
	}
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	if all.Scipy != "1.10.1" || len(all.Rasters) != 6 {
		t.Fatalf("scipy %q, %d rasters", all.Scipy, len(all.Rasters))
	}
	for _, r := range all.Rasters {
		set := make([]bool, len(r.Set))
		for i := range set {
			set[i] = r.Set[i] == '1'
		}
		d := Distance(r.W, r.H, set)
		for i, want := range r.Squared {
			if math.Abs(d[i]*d[i]-float64(want)) > 1e-9 {
				t.Fatalf("%s: distance at %d,%d squared is %g, scipy has %d", r.Name, i%r.W, i/r.W, d[i]*d[i], want)
			}
		}
		for eight, want := range map[bool][]int{true: r.Eight, false: r.Four} {
			l := Label(r.W, r.H, func(i int) bool { return set[i] }, eight)
			samePatches(t, r.Name, l.L, want)
		}
		if r.Shed != nil {
			r.shed(t, d)
		}
	}
}

// samePatches compares labels up to their numbers.
func samePatches(t *testing.T, name string, got []int32, want []int) {
	t.Helper()
	there, back := map[int32]int{}, map[int]int32{}
	for i, g := range got {
		w := want[i]
		if (g == 0) != (w == 0) {
			t.Fatalf("%s: pixel %d is %d here and %d there", name, i, g, w)
		}
		if k, ok := there[g]; ok && k != w {
			t.Fatalf("%s: patch %d here is %d and %d there", name, g, k, w)
		}
		if k, ok := back[w]; ok && k != g {
			t.Fatalf("%s: patch %d there is %d and %d here", name, w, k, g)
		}
		there[g], back[w] = w, g
	}
}

// onRidge reports whether another basin of scipy's lies within three pixels.
func (r secondRaster) onRidge(i int) bool {
	for dy := -3; dy <= 3; dy++ {
		for dx := -3; dx <= 3; dx++ {
			j := i + dy*r.W + dx
			if j >= 0 && j < len(r.Shed) && r.Shed[j] != 0 && r.Shed[j] != r.Shed[i] {
				return true
			}
		}
	}
	return false
}

// shed compares watersheds. On the ridge itself the two ways of flooding may give
// pixels to either side: which comes first is no matter of height.
func (r secondRaster) shed(t *testing.T, d []float64) {
	t.Helper()
	tops := make([]int32, len(d))
	for k, p := range r.Tops {
		tops[p[1]*r.W+p[0]] = int32(k + 1)
	}
	got := Watershed(r.W, r.H, d, tops)
	for i, w := range r.Shed {
		if int(got[i]) == w {
			continue
		}
		if got[i] == 0 || w == 0 || !r.onRidge(i) {
			t.Errorf("%s: pixel %d,%d is %d here, %d in scipy", r.Name, i%r.W, i/r.W, got[i], w)
		}
	}
	// Our own tops are as many as the discs.
	found := int32(0)
	for _, k := range Tops(r.W, r.H, d, func(top float64) float64 { return max(leastTop, topShare*top) }) {
		found = max(found, k)
	}
	if int(found) != len(r.Tops) {
		t.Errorf("%s: %d tops, wanted %d", r.Name, found, len(r.Tops))
	}
}

func TestTops(t *testing.T) {
	t.Parallel()
	ridge := []float64{1, 3, 2, 2.5, 1, 4, 0}
	for _, c := range []struct {
		prominence float64
		want       int32
	}{{0.4, 3}, {0.6, 2}, {1.9, 2}, {2.1, 1}, {10, 1}} {
		n := int32(0)
		for _, k := range Tops(7, 1, ridge, func(float64) float64 { return c.prominence }) {
			n = max(n, k)
		}
		if n != c.want {
			t.Errorf("prominence %g: %d tops, wanted %d", c.prominence, n, c.want)
		}
	}
}

// No pixel set has no distance, all set are infinitely far from the ground.
func TestDistanceAtItsEnds(t *testing.T) {
	t.Parallel()
	for _, all := range []bool{false, true} {
		set := make([]bool, 12)
		for i := range set {
			set[i] = all
		}
		for _, v := range Distance(4, 3, set) {
			if all != math.IsInf(v, 1) || !all && v != 0 {
				t.Errorf("all set %v: distance %g", all, v)
			}
		}
	}
}

// Softening line by line in place gives what two plain passes give, whatever the bands.
func TestSoften(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	for _, size := range [][2]int{{3, 3}, {7, 64}, {40, 191}, {33, 300}} {
		r := NewRaster(size[0], size[1])
		for i := range r.V {
			r.V[i] = rng.Float32()
		}
		at := func(x, y int) float64 {
			return float64(r.V[min(max(y, 0), r.H-1)*r.W+min(max(x, 0), r.W-1)])
		}
		want := make([]float64, len(r.V))
		for i := range want {
			for dx, a := range [3]float64{0.25, 0.5, 0.25} {
				for dy, b := range [3]float64{0.25, 0.5, 0.25} {
					want[i] += a * b * at(i%r.W+dx-1, i/r.W+dy-1)
				}
			}
		}
		soften(r)
		for i, v := range r.V {
			if math.Abs(float64(v)-want[i]) > 1e-6 {
				t.Fatalf("%d by %d: pixel %d is %g, wanted %g", r.W, r.H, i, v, want[i])
			}
		}
	}
}
