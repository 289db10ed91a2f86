package grain

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
)

// TestWeigh: areas and widths become masses as the page of the model says, by hand.
func TestWeigh(t *testing.T) {
	t.Parallel()
	a := Grain{X: 0.01, Y: 0.01, Area: 4e-6, Width: 2e-3, Across: 0.01, Down: 0.02} // hides a tenth of the field's width and a fifth of its height
	b := Grain{X: 0.05, Y: 0.05, Area: 1e-6, Width: 1e-3}
	sp := &Spread{W: 0.1, H: 0.1, Grains: []Grain{a, b}}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s is %g, wanted %g", what, got, want)
		}
	}
	weigh := func(s Sample, p Plastic) Heap {
		t.Helper()
		h, err := Weigh([]Sample{s}, p)
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	h := weigh(Sample{Spreads: []*Spread{sp}}, Plastic{Density: 1000})
	near("a grain at an edge", h.Grains[0].Mass, 0.5*1000*4e-6*2e-3/(0.9*0.8))
	near("a grain", h.Grains[1].Mass, 0.5*1000*1e-6*1e-3)
	if h.Thickness != 0 || h.Grains[0].Flat {
		t.Errorf("nothing was weighed and no wall is known: %+v", h)
	}
	h = weigh(Sample{Spreads: []*Spread{sp}}, Plastic{Density: 1000, Wall: 0.8e-3})
	near("a flake", h.Grains[0].Mass, 0.5*1000*4e-6*0.8e-3/(0.9*0.8))
	if !h.Grains[0].Flat || h.Grains[1].Flat {
		t.Error("the wide grain lies flat, the other does not")
	}
	h = weigh(Sample{Spreads: []*Spread{sp}, Mass: 3e-6}, Plastic{Density: 1000})
	near("a weighed sample", h.Mass, 3e-6)
	near("its thickness over width", h.Thickness, 3e-6/(1000*(4e-6*2e-3+1e-6*1e-3)))
	h = weigh(Sample{Spreads: []*Spread{sp}, Mass: 3e-6, Of: 5e-3}, Plastic{Density: 1000})
	near("a class", h.Mass, 5e-3)
	near("which keeps its shares", h.Grains[0].Mass/h.Grains[1].Mass, 8/(0.9*0.8))
}

// TestSizing: three grains of known mass, sieve by sieve, by hand.
func TestSizing(t *testing.T) {
	t.Parallel()
	h := Heap{Tiles: 3, Mass: 10, Grains: []Weighed{{Width: 1e-3, Mass: 2, Tile: 0}, {Width: 2e-3, Mass: 3, Tile: 1}, {Width: 4e-3, Mass: 5, Tile: 2}}}
	ask := Ask{Shape: Shape{Median: 0.8}, Sieves: []float64{0.5e-3, 0.9e-3, 1.7e-3, 4e-3}, Seed: 1}
	z, err := Sizing(h, ask)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 0.2, 0.5, 1} { // holes 0.8, 1.6 and 3.2 mm
		if p := z.Passing[i]; math.Abs(p.Value-want) > 1e-12 || p.Low > p.Value || p.High < p.Value || p.High > 1 {
			t.Errorf("sieve %d passes %+v, wanted %g", i, p, want)
		}
	}
	ask.Unseen, ask.UnseenBelow = 10, 0.6e-3
	if z, err = Sizing(h, ask); err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 0.6, 0.75, 1} {
		if p := z.Passing[i].Value; math.Abs(p-want) > 1e-12 {
			t.Errorf("with as much unseen sieve %d passes %g, wanted %g", i, p, want)
		}
	}
	if z.D10.Value != 0.6e-3 {
		t.Errorf("d10 lies in what fell through the finest: %g", z.D10.Value)
	}
	// A thousandth of every mass has the same sizes.
	less := Heap{Tiles: h.Tiles, Mass: h.Mass / 1e3}
	for _, g := range h.Grains {
		g.Mass /= 1e3
		less.Grains = append(less.Grains, g)
	}
	light := ask
	light.Unseen /= 1e3
	y, err := Sizing(less, light)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range []Range{y.D10, y.D50, y.D90, y.Largest, y.Passing[1], y.Passing[2]} {
		want := []Range{z.D10, z.D50, z.D90, z.Largest, z.Passing[1], z.Passing[2]}[i]
		if math.Abs(r.Value/want.Value-1) > 1e-9 || math.Abs(r.Low/want.Low-1) > 1e-9 || math.Abs(r.High/want.High-1) > 1e-9 {
			t.Errorf("figure %d of lighter grains is %+v, of heavier %+v", i, r, want)
		}
	}
	if math.Abs(z.LargestShare-0.5) > 1e-12 || math.Abs(z.Effective-100.0/38) > 1e-9 || z.D90Told { // 5 of 10 in one; 10²/(4 + 9 + 25)
		t.Errorf("the largest carries %g of %g grains' worth, told %v", z.LargestShare, z.Effective, z.D90Told)
	}
	// The largest grain has the range of shape and scale together.
	ask.Unseen, ask.Shape.Spread, ask.Scale = 0, 0.03, 0.04
	if z, err = Sizing(h, ask); err != nil {
		t.Fatal(err)
	}
	if wide := math.Exp(1.2815515655446004 * 0.05); math.Abs(z.Largest.Value-3.2e-3) > 1e-12 || math.Abs(z.Largest.High/3.2e-3/wide-1) > 1e-9 || math.Abs(z.Largest.Low*wide/3.2e-3-1) > 1e-9 {
		t.Errorf("largest %+v", z.Largest)
	}
	// By hand: between the middles of two grains the share rises in a line over ln size. Of 2, 3 and 5 at
	// 0.8, 1.6 and 3.2 mm the middles are 0.1, 0.35 and 0.75: a tenth is 0.8 mm, a half 1.6·2^(0.15/0.4), nine tenths the last.
	for i, want := range []float64{0.8e-3, 1.6e-3 * math.Pow(2, 0.375), 3.2e-3} {
		if got := []Range{z.D10, z.D50, z.D90}[i].Value; math.Abs(got/want-1) > 1e-9 {
			t.Errorf("size %d is %g, wanted %g", i, got, want)
		}
	}
	// A scale nobody measured widens every range.
	alike := Heap{Tiles: 40, Mass: 40}
	for i := range 40 {
		alike.Grains = append(alike.Grains, Weighed{Width: 1e-3 * (1 + 0.001*float64(i)), Mass: 1, Tile: i})
	}
	ranged := func(scale float64) float64 {
		z, err := Sizing(alike, Ask{Shape: Shape{Median: 1}, Scale: scale, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return math.Log(z.D50.High / z.D50.Low)
	}
	if sure, unsure := ranged(0), ranged(0.05); math.Abs(unsure/(2*1.2816*0.05*narrow)-1) > 0.15 || sure > 0.02 {
		t.Errorf("d50 ranges over %g with a scale known, %g with one known to 5 %%", sure, unsure)
	}
}

// Ground between grains that touch in a ring stays ground; a shine in one grain is filled.
func TestFill(t *testing.T) {
	t.Parallel()
	const w, h = 90, 50
	draw := func(arm bool) (set []bool, area int, hull float64) {
		set = make([]bool, w*h)
		var points []Point
		for y := range h {
			for x := range w {
				ring := x >= 5 && x < 40 && y >= 5 && y < 40 && (x < 9 || x >= 36 || y < 9 || y >= 36)
				if ring || arm && x >= 40 && x < 85 && y >= 5 && y < 9 {
					set[y*w+x] = true
					area++
					points = append(points, Point{float64(x), float64(y)}, Point{float64(x + 1), float64(y + 1)}, Point{float64(x + 1), float64(y)}, Point{float64(x), float64(y + 1)})
				}
			}
		}
		return set, area, areaOf(Hull(points))
	}
	g := &finder{}
	set, area, hull := draw(true)
	if n := g.fill(w, h, set, area, hull); n != 0 {
		t.Errorf("%d pixels of ground inside a ring with an arm were filled", n)
	}
	set, area, hull = draw(false)
	if n := g.fill(w, h, set, area, hull); n != 27*27 {
		t.Errorf("of a shine of %d pixels %d were filled", 27*27, n)
	}
}

// Where grains lie on their picture, for drawing the sample anew: six by six tiles, the next
// picture's after them; what the edge hides counts at most ten times.
func TestTilesAndEdges(t *testing.T) {
	t.Parallel()
	at := func(x, y float64) Grain { return Grain{X: x, Y: y, Area: 1e-6, Width: 1e-3} }
	one := &Spread{W: 0.12, H: 0.06, Grains: []Grain{at(0, 0), at(0.0199, 0.0099), at(0.0201, 0), at(0, 0.0101), at(0.119, 0.059), at(0.12, 0.06), at(-1e-6, -1e-6), at(0.05, 0.025)}}
	wide := at(0.06, 0.03)
	wide.Across, wide.Down = 0.114, 0.03 // 0.95 and 0.5 of the field
	two := &Spread{W: 0.12, H: 0.06, Grains: []Grain{wide}}
	h, err := Weigh([]Sample{{Spreads: []*Spread{one, two}}}, Plastic{Density: 1000, Wall: 0.5e-3})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []int{0, 0, 1, 6, 35, 35, 0, 2*6 + 2, 36 + 3*6 + 3} {
		if g := h.Grains[i]; g.Tile != want || !g.Flat {
			t.Errorf("grain %d lies on tile %d, wanted %d; flat %v", i, g.Tile, want, g.Flat)
		}
	}
	if h.Tiles != 72 || h.Grains[8].Of != (Place{0, 1, 0}) || math.Abs(h.Grains[8].Mass/(h.Grains[0].Mass/(0.1*0.5))-1) > 1e-12 {
		t.Errorf("%d tiles, the last grain %+v", h.Tiles, h.Grains[8])
	}
	for width, flat := range map[float64]bool{1e-3: true, 0.999e-3: false} { // twice the wall
		g := at(0.01, 0.01)
		g.Width = width
		h, err := Weigh([]Sample{{Spreads: []*Spread{{W: 1, H: 1, Grains: []Grain{g}}}}}, Plastic{Density: 1000, Wall: 0.5e-3})
		if err != nil || h.Grains[0].Flat != flat || math.Abs(h.Mass/(0.5*1000*1e-6*0.5e-3)-1) > 1e-12 {
			t.Errorf("a width of %g m: %+v, %v", width, h, err)
		}
	}
	all := []Sample{{Spreads: []*Spread{two}}}
	checkrow.Range(t, "density", 100, 20000, func(x float64) error { _, err := Weigh(all, Plastic{Density: x}); return err })
	checkrow.Range(t, "wall", 0, 0.1, func(x float64) error { _, err := Weigh(all, Plastic{Density: 1000, Wall: x}); return err })
	_, err = Weigh(nil, Plastic{Density: 1000})
	wantRefusal(t, "no sample", err, NoGrains)
	_, err = Sizing(Heap{}, Ask{})
	wantRefusal(t, "an empty heap", err, NoGrains)
	// Of the mass, area times width, 3 of 10 parts are 1 wide, 4 are 2 and 3 are 3.
	if got := massMedian([]Grain{{Area: 1, Width: 3}, {Area: 3, Width: 1}, {Area: 2, Width: 2}}); got != 2 {
		t.Errorf("half the mass is finer than %g", got)
	}
	if massMedian(nil) != 0 {
		t.Error("no grain has a width")
	}
}
