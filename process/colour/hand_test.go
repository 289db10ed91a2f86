package colour

// Mixing, searches and forecasts with their sums written out, or held against trying everything.

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if got != want && !(math.Abs(got-want) <= within*math.Max(math.Abs(want), 1e-9)) {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

// bent is a curve that rises or falls evenly from one end of the light to the other.
func bent(from, to float64) (c Curve) {
	for i := range c {
		c[i] = from + (to-from)*float64(i)/(Bands-1)
	}
	return c
}

func bodyOf(t *testing.T, c Curve, scatter float64, s Surface) Body {
	t.Helper()
	b, err := BodyOf(c, scatter, s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Kubelka and Munk's sums by hand: K/S = (1 − R)²/2R, shares add K and S, R = 1 + q − √(q² + 2q); through a surface after Saunderson,
// R = k1 + (1 − k1)(1 − k2) R'/(1 − k2 R') with its gloss, without it the second part alone.
func TestMixingBySums(t *testing.T) {
	t.Parallel()
	for _, s := range []Surface{{}, {Outside: 0.04, Inside: 0.6}, {Outside: 0.04, Inside: 0.6, Included: true}, {Outside: 0.2, Inside: 0.8}} {
		a, b := bent(0.25, 0.7), bent(0.6, 0.3)
		inside := func(seen float64) float64 { // the surface turned round, by halves
			lo, hi := 0.0, 1.0
			for range 80 {
				if mid := (lo + hi) / 2; through(s, mid) > seen {
					hi = mid
				} else {
					lo = mid
				}
			}
			return lo
		}
		got, err := Mixed([]Body{bodyOf(t, a, 1, s), bodyOf(t, b, 2.5, s)}, []float64{0.7, 0.3}, s)
		if err != nil {
			t.Fatal(err)
		}
		side, err := Unmixed([]Curve{a, b}, []float64{0.7, 0.3})
		if err != nil {
			t.Fatal(err)
		}
		for i := range got {
			x, y := inside(a[i]), inside(b[i])
			k := 0.7*(1-x)*(1-x)/(2*x) + 0.3*2.5*(1-y)*(1-y)/(2*y)
			q := k / (0.7 + 0.3*2.5)
			near(t, "mixed", got[i], through(s, 1+q-math.Sqrt(q*q+2*q)), 1e-9)
			near(t, "unmixed", side[i], 0.7*a[i]+0.3*b[i], 1e-12)
			below, err := Below(a[i], s)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "below the surface", below, x, 1e-9)
			above, err := Above(x, s)
			near(t, "above the surface", above, a[i], 1e-9)
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	twice := bodyOf(t, bent(0.2, 0.5), 3, Surface{}).times(2)
	once := bodyOf(t, bent(0.2, 0.5), 3, Surface{})
	for i := range twice.K {
		near(t, "absorption of twice", twice.K[i], 2*once.K[i], 1e-12)
		near(t, "scattering of twice", twice.S[i], 6, 1e-12)
	}
}

func through(s Surface, inside float64) float64 {
	r := (1 - s.Outside) * (1 - s.Inside) * inside / (1 - s.Inside*inside)
	if s.Included {
		r += s.Outside
	}
	return r
}

// Limits of shares and heaps, both sides of each.
func TestLimitsOfHeaps(t *testing.T) {
	t.Parallel()
	s := PhotoSurface()
	b := bodyOf(t, bent(0.3, 0.5), 1, s)
	many := func(n int) ([]Body, []float64) {
		return slices.Repeat([]Body{b}, n), slices.Repeat([]float64{1 / float64(n)}, n)
	}
	for n, ok := range map[int]bool{0: false, 1: true, 1000: true, 1001: false} {
		bodies, shares := many(n)
		if _, err := Mixed(bodies, shares, s); (err == nil) != ok {
			t.Errorf("%d parts: %v", n, err)
		}
	}
	for off, ok := range map[float64]bool{0.9e-6: true, 1.1e-6: false, -0.9e-6: true, -1.1e-6: false} {
		if _, err := Mixed([]Body{b, b}, []float64{0.5, 0.5 + off}, s); (err == nil) != ok {
			t.Errorf("shares off by %g: %v", off, err)
		}
	}
	for _, shares := range [][]float64{{1}, {0.5, 0.25, 0.25}, {1.1, -0.1}} {
		if _, err := Mixed([]Body{b, b}, shares, s); err == nil {
			t.Errorf("shares %v of two are taken", shares)
		}
	}
	heap := func(change func(*Heap)) Heap {
		h := Heap{Parts: []Scrap{{Colour: bent(0.3, 0.5), Scatter: 1, Share: 1}}, Surface: s, Counted: 10, Draws: 20}
		change(&h)
		return h
	}
	for _, c := range []struct {
		name string
		h    Heap
		ok   bool
	}{
		{"usual", heap(func(*Heap) {}), true}, {"few draws", heap(func(h *Heap) { h.Draws = 19 }), false}, {"many draws", heap(func(h *Heap) { h.Draws = 100_001 }), false},
		{"counted one", heap(func(h *Heap) { h.Counted = 1 }), true}, {"less", heap(func(h *Heap) { h.Counted = 0.99 }), false}, {"most counted", heap(func(h *Heap) { h.Counted = 1e6 }), true}, {"more", heap(func(h *Heap) { h.Counted = 1.01e6 }), false},
		{"doubt", heap(func(h *Heap) { h.Parts[0].Doubt = 2 }), true}, {"more doubt", heap(func(h *Heap) { h.Parts[0].Doubt = 2.01 }), false}, {"negative doubt", heap(func(h *Heap) { h.Parts[0].Doubt = -0.01 }), false},
		{"least scatter", heap(func(h *Heap) { h.Parts[0].Scatter = 1e-3 }), true}, {"less of it", heap(func(h *Heap) { h.Parts[0].Scatter = 0.99e-3 }), false},
		{"most scatter", heap(func(h *Heap) { h.Parts[0].Scatter = 1e3 }), true}, {"more of it", heap(func(h *Heap) { h.Parts[0].Scatter = 1.01e3 }), false},
	} {
		if _, err := DrawLabs(c.h, rand.New(rand.NewPCG(1, 1))); (err == nil) != c.ok {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// A forecast tells of its draws: the same draws taken by themselves have its spread, its bands and its names.
func TestForecastTellsOfItsDraws(t *testing.T) {
	t.Parallel()
	h := Heap{Surface: PhotoSurface(), Counted: 6, Draws: 57, Parts: []Scrap{{bent(0.1, 0.8), 1, 0.5, 0.3}, {bent(0.6, 0.2), 0.4, 0.3, 0}, {bent(0.05, 0.06), 3, 0.2, 0.1}, {bent(0.9, 0.9), 1, 0, 0}}}
	o, err := Forecast(h, rand.New(rand.NewPCG(5, 2)))
	if err != nil {
		t.Fatal(err)
	}
	labs, err := DrawLabs(h, rand.New(rand.NewPCG(5, 2)))
	if err != nil || len(labs) != 57 {
		t.Fatal(len(labs), err)
	}
	var off, light, chroma []float64
	names := map[string]float64{}
	for _, p := range labs {
		d, err := Difference(o.Mixed.Lab, p)
		if err != nil {
			t.Fatal(err)
		}
		name, err := Name(p)
		if err != nil {
			t.Fatal(err)
		}
		off, light, chroma = append(off, d), append(light, p.L), append(chroma, math.Hypot(p.A, p.B))
		names[name] += 1.0 / 57
	}
	for _, v := range [][]float64{off, light, chroma} {
		slices.Sort(v)
	}
	near(t, "spread", o.Spread, off[51], 1e-12) // 0.9 · 57 = 51.3
	for name, x := range map[string][2]float64{"low": {o.Lightness.Low, light[5]}, "median": {o.Lightness.Median, light[28]}, "high": {o.Lightness.High, light[51]}, "low chroma": {o.Chroma.Low, chroma[5]}, "median chroma": {o.Chroma.Median, chroma[28]}, "high chroma": {o.Chroma.High, chroma[51]}} {
		near(t, name, x[0], x[1], 1e-12)
	}
	if len(o.Names) != len(names) {
		t.Errorf("names %v, wanted %v", o.Names, names)
	}
	for i, n := range o.Names {
		near(t, n.Name, n.Share, names[n.Name], 1e-9)
		if i > 0 && (n.Share > o.Names[i-1].Share || n.Share == o.Names[i-1].Share && n.Name < o.Names[i-1].Name) {
			t.Errorf("names out of order: %v", o.Names)
		}
	}
	apart, err := Difference(o.Mixed.Lab, o.Unmixed.Lab)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "apart", o.Apart, apart, 1e-12)
	// Drawn shares are one whole; what is not there stays away; what counts as nothing at all is as estimated.
	out := make([]float64, 3)
	for seed := range uint64(40) {
		drawShares(out, []float64{0.6, 0, 0.4}, 3, rand.New(rand.NewPCG(seed, 1)))
		if out[1] != 0 || math.Abs(total(out)-1) > 1e-12 || out[0] <= 0 || out[2] <= 0 {
			t.Fatalf("drawn %v", out)
		}
	}
	drawShares(out, []float64{0, 0, 0}, 3, rand.New(rand.NewPCG(1, 1)))
	if total(out) != 0 {
		t.Errorf("of nothing %v", out)
	}
	for share, want := range map[float64]float64{0: 1, 0.1: 1, 0.25: 3, 0.5: 5, 0.9: 8, 1: 8} { // of eight: the (8 share)th, counted from 0
		if got := quantile([]float64{8, 1, 7, 2, 6, 3, 5, 4}, share); got != want {
			t.Errorf("quantile %g is %g, wanted %g", share, got, want)
		}
	}
}

func total(all []float64) (sum float64) {
	for _, v := range all {
		sum += v
	}
	return sum
}

// How much of a stray plastic or of a colour added is within a limit, against trying many shares.
func TestReachAgainstTrying(t *testing.T) {
	t.Parallel()
	s := PhotoSurface()
	white, dark, red := bodyOf(t, bent(0.85, 0.88), 1, s), bodyOf(t, bent(0.05, 0.05), 0.6, s), bodyOf(t, bent(0.06, 0.75), 1.4, s)
	seen := func(a, b Body, share float64) Lab {
		c, err := Mixed([]Body{a, b}, []float64{1 - share, share}, s)
		if err != nil {
			t.Fatal(err)
		}
		p, err := LabOf(c, TwoDegrees)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	for _, c := range []struct {
		base, other Body
		limit       float64
	}{{white, dark, 0.5}, {white, dark, 3}, {dark, white, 2}, {white, red, 1}, {red, dark, 20}, {white, white.times(3), 1}} {
		share, err := MostStray(c.base, c.other, c.limit, s)
		if err != nil {
			t.Fatal(err)
		}
		want := seen(c.base, c.other, 0)
		if off := difference(want, seen(c.base, c.other, share)); share < 1 && math.Abs(off-c.limit) > 1e-6 || share == 1 && off > c.limit {
			t.Errorf("with %g of it %g off, wanted %g", share, off, c.limit)
		}
		for i := range 50 {
			if off := difference(want, seen(c.base, c.other, share*float64(i)/50)); off > c.limit+1e-9 {
				t.Errorf("with less, %g, already %g off", share*float64(i)/50, off)
			}
		}
	}
	wanted := seen(white, dark, 0.03)
	for name, c := range map[string]struct {
		wanted      Lab
		limit, most float64
		reached     bool
	}{
		"the mix itself": {wanted, 1, 1, true}, "as far as may be": {wanted, 1, 0.002, false}, "near enough at once": {seen(white, dark, 0), 1, 1, true}, "between two shares": {Lab{wanted.L, wanted.A + 0.3, wanted.B}, 0.4455, 1, true},
		"out of reach": {Lab{40, 60, 30}, 1, 1, false}, "wide": {wanted, 15, 1, true},
	} {
		r, err := ReachOf(white, dark, c.wanted, c.limit, c.most, s)
		if err != nil || r.Reached != c.reached {
			t.Errorf("%s: %+v %v", name, r, err)
			continue
		}
		off := func(share float64) float64 { return difference(c.wanted, seen(white, dark, share)) }
		near(t, name+": off", r.Off, off(r.Share), 1e-9)
		for i := range 2001 {
			x := c.most * math.Pow(10, -5*float64(i)/2000)
			if d := off(x); d < r.Off-1e-6*math.Max(1, r.Off) {
				t.Errorf("%s: nearest with %g, %g off; with %g it is %g", name, r.Share, r.Off, x, d)
				break
			}
			if c.reached && x < r.Least*(1-1e-9) && off(x) < c.limit-1e-9 {
				t.Errorf("%s: from %g on, but %g does as well", name, r.Least, x)
				break
			}
		}
		switch {
		case r.Reached && off(0) > c.limit:
			near(t, name+": at the least", off(r.Least), c.limit, 1e-6)
		case r.Least != 0:
			t.Errorf("%s: least %g where none is needed", name, r.Least)
		}
		if r.Share > c.most {
			t.Errorf("%s: nearest with %g of %g", name, r.Share, c.most)
		}
	}
	for x, ok := range map[float64]bool{0.01: true, 0.0099: false, 100: true, 101: false} {
		if _, err := MostStray(white, dark, x, s); (err == nil) != ok {
			t.Errorf("a limit of %g: %v", x, err)
		}
		if _, err := ReachOf(white, dark, wanted, x, 1, s); (err == nil) != ok {
			t.Errorf("a limit of %g: %v", x, err)
		}
	}
	for x, ok := range map[float64]bool{1e-4: true, 0.99e-4: false, 1: true, 1.01: false} {
		if _, err := ReachOf(white, dark, wanted, 1, x, s); (err == nil) != ok {
			t.Errorf("at most %g: %v", x, err)
		}
	}
}

// A scattering is found again from the colour it made, from a fiftieth to fifty; beyond, it is told as that.
func TestScatterIsFoundAgain(t *testing.T) {
	t.Parallel()
	s := PhotoSurface()
	base, added := bodyOf(t, bent(0.8, 0.85), 1, s), bent(0.1, 0.6)
	for scatter, want := range map[float64]float64{0.02: 0.02, 0.3: 0.3, 1: 1, 7: 7, 49: 49, 90: 50, 0.01: 0.02} {
		c, err := Mixed([]Body{base, bodyOf(t, added, scatter, s)}, []float64{0.8, 0.2}, s)
		if err != nil {
			t.Fatal(err)
		}
		seen, err := LabOf(c, TwoDegrees)
		if err != nil {
			t.Fatal(err)
		}
		got, left, err := LearnScatter(base, added, 0.2, seen, s)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "scattering", got, want, 1e-4)
		if (left > 1e-4) != (scatter != want) {
			t.Errorf("scattering %g: %g is left", scatter, left)
		}
	}
	for share, ok := range map[float64]bool{1e-4: true, 0.99e-4: false, 0.9999: true, 0.99991: false} {
		if _, _, err := LearnScatter(base, added, share, Lab{L: 70}, s); (err == nil) != ok {
			t.Errorf("a share of %g: %v", share, err)
		}
	}
	if at := golden(0, 4, func(x float64) float64 { return (x - 1.37) * (x - 1.37) }); math.Abs(at-1.37) > 1e-7 {
		t.Errorf("least at %g", at)
	}
	near(t, "where it passes", halve(0, 4, func(x float64) float64 { return x - 1.37 }), 1.37, 1e-12)
}

// A curve for what an instrument told gives that back, for either observer; a colour no surface can have is refused.
func TestInstrumentsAreGivenBack(t *testing.T) {
	t.Parallel()
	for _, o := range []Observer{TwoDegrees, TenDegrees} {
		for _, p := range []Lab{{50, 0, 0}, {70, 20, 40}, {35, -25, 10}, {30, 15, -40}, {92, -2, 6}, {60, 60, 40}} {
			c, err := FromInstrument(p, o)
			if err != nil {
				t.Errorf("%+v: %v", p, err)
				continue
			}
			if q, err := LabOf(c, o); err != nil || math.Abs(p.L-q.L)+math.Abs(p.A-q.A)+math.Abs(p.B-q.B) > 1e-3 {
				t.Errorf("%+v of %d degrees is given back as %+v (%v)", p, o, q, err)
			}
		}
		if _, err := FromInstrument(Lab{95, 90, -60}, o); err == nil {
			t.Errorf("a colour beyond all is taken for %d degrees", o)
		}
	}
	if _, err := FromInstrument(Lab{L: 50}, 5); err == nil {
		t.Error("an observer of five degrees is taken")
	}
}

// The slopes of the search for a curve are those of small steps; all light together is white.
func TestSlopesOfTheGuess(t *testing.T) {
	t.Parallel()
	all, err := weights()
	if err != nil {
		t.Fatal(err)
	}
	s := newSearch(all[TwoDegrees], [3]float64{0.2, 0.5, 0.3})
	var sum [3]float64
	for _, e := range s.eye {
		for k := range sum {
			sum[k] += e[k]
		}
	}
	for _, v := range sum {
		near(t, "all light", v, 1, 1e-9)
	}
	luck := rand.New(rand.NewPCG(2, 2))
	var x [unknowns]float64
	for i := range x {
		x[i] = luck.Float64() - 0.5
	}
	j := s.slopes(&x)
	for k := range unknowns {
		const h = 1e-6
		up, down := x, x
		up[k], down[k] = x[k]+h, x[k]-h
		a, _ := s.rest(&up)
		b, _ := s.rest(&down)
		for i := range unknowns {
			if want := (a[i] - b[i]) / (2 * h); math.Abs(j.At(i, k)-want) > 1e-6 {
				t.Fatalf("slope %d of %d is %g, by steps %g", i, k, j.At(i, k), want)
			}
		}
	}
	rest, size := s.rest(&[unknowns]float64{}) // a flat half: only the light is off, by a half less that wanted
	for k, want := range []float64{0.3, 0, 0.2} {
		near(t, "light off", rest[Bands+k], want, 1e-6)
	}
	near(t, "size", size, 0.3, 1e-6)
}
