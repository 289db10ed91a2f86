package grain

// Steps of the measuring by hand, on rasters of a few pixels: limits on both sides, sums written out, another way beside each.

import (
	"errors"
	"image"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func closeTo(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.9g, wanted %.9g", what, got, want)
	}
}

func refusedWith(t *testing.T, what string, err error, want *Refusal, within float64) {
	t.Helper()
	var r *Refusal
	switch {
	case want == nil && err != nil:
		t.Errorf("%s: %v", what, err)
	case want != nil && (!errors.As(err, &r) || r.Code != want.Code || r.Limit != want.Limit || r.Unit != want.Unit || math.Abs(r.Value-want.Value) > within):
		t.Errorf("%s: %v, wanted %v", what, err, want)
	}
}

// What is refused tells what was found and what it may be, at either side of each limit.
func TestLimitsOfTheSteps(t *testing.T) {
	t.Parallel()
	_, err := Sizing(Heap{}, Ask{})
	refusedWith(t, "no grains", err, &Refusal{NoGrains, 0, 1, ""}, 0)
	_, err = Weigh(nil, Plastic{Density: 1000})
	refusedWith(t, "no sample", err, &Refusal{NoGrains, 0, 1, ""}, 0)
	for _, c := range []struct {
		noise, near float64
		want        *Refusal
	}{{0.05, 0, nil}, {0.0501, 0.0401, nil}, {0.0501, 0.04, &Refusal{Covered, 1, MostCover, ""}}, {0.2, 0.159, &Refusal{Covered, 1, 0.25, ""}}, {0.2, 0.161, nil}} {
		g := &finder{near: c.near, out: &Spread{Noise: c.noise}}
		refusedWith(t, "ground", g.plain(), c.want, 0)
	}
	for _, c := range []struct {
		contrast, noise, near, seed float64
		want                        *Refusal
	}{
		{0.12, 0.01, 0.01, 0.04, nil}, {0.119, 0.01, 0.01, 0, &Refusal{Faint, 0.119, 0.12, ""}},
		{0.4, 0.1, 0.1, 0.2, nil}, {0.39, 0.1, 0.1, 0, &Refusal{Noisy, 3.9, 4, ""}}, // four times the noise
		{0.4, 0.3, 0.1, 0.2, nil}, {0.4, 0.303, 0.1, 0, &Refusal{Noisy, 0.4 / 0.101, 4, ""}}, // no less than a third of that of the ground
		{0.4, 0.3, 0.05, 0.2, nil}, {0.9, 0.01, 0, 0.225, nil}, {0.5, 0.08, 0.08, 0.25, nil}, {0.9, 0.08, 0.08, 0.32, nil}, {0.9, 0.05, 0.05, 0.225, nil},
	} {
		g := &finder{near: c.near, out: &Spread{Contrast: c.contrast, Noise: c.noise}}
		refusedWith(t, "grains", g.tell(), c.want, 1e-9)
		closeTo(t, "where looking starts", float64(g.seed), c.seed, 1e-7)
	}
	for n, want := range map[int]*Refusal{250: nil, 251: {Covered, 0.251, 0.25, ""}} {
		g := &finder{out: &Spread{}, all: 1000, l: Labels{N: 3}, boxes: []box{{}, {area: n - 6}, {area: 6}, {area: 5}}}
		refusedWith(t, "cover", g.cover(), want, 1e-12)
		closeTo(t, "cover", g.out.Cover, float64(n)/1000, 1e-12) // what has less than six pixels is dust
	}
	for width, want := range map[float64]*Refusal{8e-3: nil, 7.99e-3: {TooFine, 7.99, 8, "px"}} {
		g := &finder{Field: Field{Pixel: 1e-3}, out: &Spread{Grains: []Grain{{Area: 1, Width: width}}}}
		refusedWith(t, "fine", g.sharp([]Grain{{Width: width}}, []float64{0}), want, 1e-9)
	}
	// Of those as wide as the one at half the mass the middle blur counts: 1, 3 and 2 px, not the 9 of a small one.
	for width, want := range map[float64]*Refusal{20.1e-3: nil, 19.9e-3: {Blurred, 3 / 19.9, 0.15, ""}} {
		all := []Grain{{}, {Area: 1, Width: 1e-3}, {Area: 5, Width: width}, {Area: 5, Width: width}, {Area: 5, Width: width}}
		g := &finder{Field: Field{Pixel: 1e-3}, out: &Spread{Grains: all[1:]}}
		refusedWith(t, "blur", g.sharp(all, []float64{0, 9, 1, 5, 3}), want, 1e-9)
		closeTo(t, "blur", g.out.Blur, 3e-3, 1e-12)
	}
	small, large := image.NewGray(image.Rect(0, 0, 399, 500)), image.NewGray(image.Rect(0, 0, 1, 1))
	_, err = Measure(small, Options{})
	refusedWith(t, "a thumbnail", err, &Refusal{TooSmall, 399, 400, "px"}, 0)
	large.Rect, large.Stride = image.Rect(0, 0, 10_000, 6_001), 0
	_, err = Measure(large, Options{})
	refusedWith(t, "a huge picture", err, &Refusal{TooLarge, 60_010_000, 60_000_000, "px"}, 0)
	plain := image.NewGray(image.Rect(0, 0, 400, 400))
	for line, code := range map[float64]Code{0.0899: OtherScale, 0.0901: Unscaled, 0.1099: Unscaled, 0.1101: OtherScale} { // within a tenth of 100 mm
		_, err := Measure(plain, Options{Line: line})
		var r *Refusal
		if !errors.As(err, &r) || r.Code != code || code == OtherScale && (r.Value != line || r.Limit != 0.1 || r.Unit != "m") {
			t.Errorf("a line of %g m: %v", line, err)
		}
	}
}

// How many squares a raster has: a begun one counts, at its own side no more than one.
func TestSquaresOfARaster(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]int{31: 1, 32: 1, 33: 2, 63: 2, 64: 2, 65: 3} {
		if s := tiles(NewRaster(n, 8), nil, 32); s.nx != want || s.ny != 1 || s.w != float64(n) || s.h != 8 || s.side != 32 {
			t.Errorf("%d pixels are %d by %d squares", n, s.nx, s.ny)
		}
		if s := tiles(NewRaster(8, n), nil, 32); s.ny != want || s.nx != 1 || len(s.v) != want {
			t.Errorf("%d lines are %d by %d squares", n, s.nx, s.ny)
		}
	}
	// The middle of every fourth pixel of every fourth line: of 0, 4, 8 and 12, in four lines, it is 6.
	r := NewRaster(16, 16)
	for i := range r.V {
		r.V[i] = 99
		if i%16%4 == 0 && i/16%4 == 0 {
			r.V[i] = float32(i % 16)
		}
	}
	closeTo(t, "the middle of a square", tiles(r, nil, 16).v[0], 6, 0)
	// Squares as far from the middle of all as three deviations, 4.4478 of their middle distance, are still near.
	for far, want := range map[float64]bool{0.4447: true, 0.4449: false} {
		s := surface{v: []float64{1, 1.1, 0.9, 1.1, 0.9, 1, 1 + far, 1 - far, 1.1}}
		if got := s.near(); got[6] != want || got[7] != want || !got[0] || !got[1] || !got[2] {
			t.Errorf("squares %g off: %v", far, got)
		}
	}
	// Twelve squares carry a curved surface, eleven do not.
	s := surface{nx: 4, ny: 4, side: 8, w: 32, h: 32, v: slices.Repeat([]float64{0.5}, 16)}
	for n, want := range map[int]bool{11: false, 12: true} {
		use := make([]bool, 16)
		for i := range n {
			use[i] = true
		}
		if p, ok := s.fit(use); ok != want || ok && math.Abs(p[0]-0.5) > 1e-9 {
			t.Errorf("%d squares: %v %v", n, p, ok)
		}
	}
	// The terms of the third square of the second line: its middle lies at (2.5/4 − 1/2, 1.5/4 − 1/2).
	if got := s.terms(6); got != [6]float64{1, 0.125, -0.125, 0.015625, -0.015625, 0.015625} {
		t.Errorf("terms %v", got)
	}
	poly := [6]float64{1, 2, 3, 4, 5, 6}
	s.poly = &poly
	closeTo(t, "the surface there", s.value(6), 1+0.25-0.375+4*0.015625-5*0.015625+6*0.015625, 1e-12)
}

// Ranks against sorting, whatever the order.
func TestRanksAgainstSorting(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(3, 1))
	for n := 1; n < 40; n++ {
		v := make([]float32, n)
		for i := range v {
			v[i] = float32(luck.IntN(12))
		}
		sorted := slices.Clone(v)
		slices.Sort(sorted)
		for k := range n {
			if got := ranked(slices.Clone(v), k); got != sorted[k] {
				t.Fatalf("place %d of %v is %g, wanted %g", k, v, got, sorted[k])
			}
		}
		if got := middle(v); got != (sorted[(n-1)/2]+sorted[n/2])/2 {
			t.Fatalf("the middle of %v is %g", v, got)
		}
	}
}

// One bright pixel softened is a quarter of it, an eighth beside, a sixteenth at the corners; at an edge what would fall outside stays.
func TestSoftenByHand(t *testing.T) {
	t.Parallel()
	r := NewRaster(5, 5)
	r.V[2*5+2] = 16
	soften(r)
	if want := []float32{0, 0, 0, 0, 0, 0, 1, 2, 1, 0, 0, 2, 4, 2, 0, 0, 1, 2, 1, 0, 0, 0, 0, 0, 0}; !slices.Equal(r.V, want) {
		t.Errorf("softened to %v", r.V)
	}
	r = NewRaster(3, 3)
	r.V[0] = 16
	soften(r)
	if want := []float32{9, 3, 0, 3, 1, 0, 0, 0, 0}; !slices.Equal(r.V, want) {
		t.Errorf("at a corner softened to %v", r.V)
	}
	r = Raster{2, 3, []float32{1, 2, 3, 4, 5, 6}} // too narrow
	soften(r)
	if !slices.Equal(r.V, []float32{1, 2, 3, 4, 5, 6}) {
		t.Errorf("two pixels wide: %v", r.V)
	}
}

// Patches of chance against flooding pixel by pixel.
func TestLabelsAgainstFlooding(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(5, 5))
	for range 60 {
		w, h := 1+luck.IntN(14), 1+luck.IntN(14)
		set := make([]bool, w*h)
		for i := range set {
			set[i] = luck.IntN(5) < 3
		}
		for _, eight := range []bool{false, true} {
			want, n := make([]int32, w*h), int32(0)
			for i := range set {
				if !set[i] || want[i] != 0 {
					continue
				}
				n++
				want[i] = n
				for todo := []int{i}; len(todo) > 0; {
					p := todo[0]
					todo = todo[1:]
					around(w, h, p, func(q int) {
						if straight := p%w == q%w || p/w == q/w; set[q] && want[q] == 0 && (eight || straight) {
							want[q], todo = n, append(todo, q)
						}
					})
				}
			}
			got := Label(w, h, func(i int) bool { return set[i] }, eight)
			if got.N != int(n) || !slices.Equal(got.L, want) {
				t.Fatalf("%d by %d, corners %t: %v, wanted %v", w, h, eight, got.L, want)
			}
		}
	}
}

// A dumb-bell of two squares of 10 with a bar of 4 by 2 is cut across the bar: of 208, 100 and 108 or what of the bar goes along.
func TestPartedByHand(t *testing.T) {
	t.Parallel()
	way := []Point{{0, 0}, {10, 0}, {10, 4}, {14, 4}, {14, 0}, {24, 0}, {24, 10}, {14, 10}, {14, 6}, {10, 6}, {10, 10}, {0, 10}}
	g := Grain{Outline: way, Area: 416, Level: 0.3}
	a, b, ok := g.Parted()
	if !ok || len(a.Outline)+len(b.Outline) != 14 {
		t.Fatalf("%v %v %v", ok, a.Outline, b.Outline)
	}
	closeTo(t, "areas", a.Area+b.Area, 416, 1e-9)
	if a.Area < b.Area {
		a, b = b, a
	}
	closeTo(t, "the larger", a.Area, 216, 1e-9)
	closeTo(t, "the smaller", b.Area, 200, 1e-9)
	for _, p := range []Grain{a, b} {
		if !p.Split || p.Level != 0.3 || p.Y != 5 || p.Down != 10 {
			t.Errorf("a piece %+v", p)
		}
	}
	for name, x := range map[string][2]float64{"middle": {math.Abs(b.X - 12), 7}, "width": {b.Width, 10}, "length": {b.Length, 10}, "across": {b.Across, 10}, "solid": {b.Solid, 1},
		"across with the bar": {a.Across, 14}, "middle with the bar": {math.Abs(a.X - 12), (100*7 + 8*0) / 108.0}, "width with the bar": {a.Width, 10}, "solid with the bar": {a.Solid, 108.0 / (100 + 4*(10+2)/2)}} {
		closeTo(t, name, x[0], x[1], 1e-9)
	}
	for n, want := range map[int]bool{5: false, 12: true} {
		if _, _, ok := (Grain{Outline: way[:n], Area: 1}).Parted(); ok != want {
			t.Errorf("%d corners parted: %t", n, ok)
		}
	}
}

// Corners that lie within the slack of the line go, those farther stay.
func TestThinnedByHand(t *testing.T) {
	t.Parallel()
	for bump, want := range map[float64]int{0.69: 4, 0.71: 5} {
		way := []Point{{0, 0}, {5, -bump}, {10, 0}, {10, 10}, {0, 10}}
		if got := thinned(way, 0.7); len(got) != want {
			t.Errorf("a bump of %g: %v", bump, got)
		}
	}
	three := []Point{{0, 0}, {5, 0.1}, {10, 0}}
	if got := thinned(three, 0.7); !slices.Equal(got, three) {
		t.Errorf("three corners: %v", got)
	}
}

// Where brightness crosses half, between pixels: 0.9 within and 0.1 without cross 0.5 half way, 0.9 and 0.4 at 4/5. Beside another
// grain or the edge of the raster it is half way.
func TestEdgeByHand(t *testing.T) {
	t.Parallel()
	v := []float32{0, 0.4, 0, 0.1, 0.9, 0.7, 0, 0.3, 0}
	l := Labels{W: 3, H: 3, L: []int32{0, 0, 0, 0, 1, 2, 0, 0, 0}, N: 2}
	got := edge(l, 1, box{1, 1, 2, 2, 1}, v, 0.5, nil)
	want := []Point{{2, 1.5}, {1.5, 1.5 + 0.4/0.6}, {1, 1.5}, {1.5, 0.7}}
	for i := range want {
		if len(got) != 4 || got[i].to(want[i]) > 1e-6 {
			t.Fatalf("edges %v, wanted %v", got, want)
		}
	}
	one := edge(Labels{W: 1, H: 1, L: []int32{1}, N: 1}, 1, box{0, 0, 1, 1, 1}, []float32{1}, 0.5, nil)
	if !slices.Equal(one, []Point{{1, 0.5}, {0.5, 1}, {0, 0.5}, {0.5, 0}}) {
		t.Errorf("alone %v", one)
	}
}

// Sizes of four grains by hand: 10, 30, 40 and 20 % of the mass, 1, 2, 4 and 8 mm wide. At their middles 5, 25, 60 and 90 % are
// finer; between them the share rises with the logarithm.
func TestSizesByHand(t *testing.T) {
	t.Parallel()
	all := []Weighed{{Width: 1, Mass: 1}, {Width: 2, Mass: 3}, {Width: 4, Mass: 4, Tile: 1}, {Width: 8, Mass: 2, Tile: 1}}
	got := sizesOf(all, []float64{1, 1}, 1, Ask{Sieves: []float64{2, 1.5, 8, 9}}, finestFirst([]float64{2, 1.5, 8, 9}))
	closeTo(t, "d10", got.d10, math.Pow(2, 0.05/0.2), 1e-9)
	closeTo(t, "d50", got.d50, 2*math.Pow(2, 0.25/0.35), 1e-9)
	closeTo(t, "d90", got.d90, 8, 1e-9)
	for i, want := range []float64{0.1, 0.1, 0.8, 1} { // a grain as wide as the hole stays on it
		closeTo(t, "passing", got.passing[i], want, 1e-12)
	}
	got = sizesOf(all, []float64{2, 0}, 0.5, Ask{}, nil) // only the first tile, twice; holes half as wide: 2 and 6 parts of 8
	closeTo(t, "d10 of one tile", got.d10, 0.5, 1e-9)
	closeTo(t, "d50 of one tile", got.d50, 0.5*math.Pow(2, 0.375/0.5), 1e-9)
	closeTo(t, "d90 of one tile", got.d90, 1, 1e-9)
	// Besides ten parts unseen, finer than 0.3: half the mass is finer than that.
	got = sizesOf(all, []float64{1, 1}, 1, Ask{Sieves: []float64{0.29, 0.3, 2}, Unseen: 10, UnseenBelow: 0.3}, []int{0, 1, 2})
	closeTo(t, "d10 unseen", got.d10, 0.3, 0)
	closeTo(t, "d50 unseen", got.d50, 0.3, 0)
	closeTo(t, "d90 unseen", got.d90, 4*math.Pow(2, (0.9-0.8)/0.15), 1e-9)
	for i, want := range []float64{0, 0.5, 0.55} {
		closeTo(t, "passing with the unseen", got.passing[i], want, 1e-12)
	}
	// The range of eleven draws: the second and the tenth, a tenth farther off by the logarithm; it holds the value.
	var s Sizes
	for i := range 11 {
		s.draws = append(s.draws, draw{d50: float64(11 - i)})
	}
	r := s.rangeOf(6, func(d draw) float64 { return d.d50 })
	closeTo(t, "value", r.Value, 6, 0)
	closeTo(t, "low", r.Low, 6*math.Pow(2.0/6, 1.1), 1e-9)
	closeTo(t, "high", r.High, 6*math.Pow(10.0/6, 1.1), 1e-9)
	if r = s.rangeOf(40, func(d draw) float64 { return d.d50 }); r.High != 40 || r.Low > 10 {
		t.Errorf("beyond all draws %+v", r)
	}
	if r = s.rangeOf(0, func(d draw) float64 { return d.d50 }); r.Low != 0 || r.High != 10 {
		t.Errorf("of nothing %+v", r)
	}
	z, err := Sizing(Heap{Grains: all, Mass: 10, Tiles: 2}, Ask{Shape: Shape{0.8, 0.1}, Scale: 0.05, Sieves: []float64{3}, Seed: 4})
	if err != nil {
		t.Fatal(err)
	}
	wide := math.Exp(1.2815515655446004 * math.Sqrt(0.1*0.1+0.05*0.05)) // the tenth on either side
	closeTo(t, "largest", z.Largest.Value, 6.4, 1e-12)
	closeTo(t, "largest, low", z.Largest.Low, 6.4/wide, 1e-9)
	closeTo(t, "largest, high", z.Largest.High, 6.4*wide, 1e-9)
	closeTo(t, "largest share", z.LargestShare, 0.4, 1e-12)
	closeTo(t, "as many as", z.Effective, 100/(1+9+16+4.0), 1e-12)
	closeTo(t, "d50", z.D50.Value, 0.8*2*math.Pow(2, 0.25/0.35), 1e-9)
	if z.D90Told || z.Passing[0].High > 1 || z.Passing[0].Value != 0.4 || z.D50.Low >= z.D50.Value || z.D50.High <= z.D50.Value {
		t.Errorf("%+v", z)
	}
	for share, told := range map[int]bool{33: false, 34: true} { // one grain of 34 carries 2.94 %, of 33 3.03 %
		h := Heap{Tiles: 1}
		for range share {
			h.Grains, h.Mass = append(h.Grains, Weighed{Width: 1, Mass: 1}), h.Mass+1
		}
		if z, err := Sizing(h, Ask{}); err != nil || z.D90Told != told {
			t.Errorf("%d grains: d90 told %t (%v)", share, z.D90Told, err)
		}
	}
	if got := tilesUsed([]Weighed{{Tile: 7}, {Tile: 2}, {Tile: 7}}); !slices.Equal(got, []int{2, 7}) {
		t.Errorf("tiles %v", got)
	}
}
