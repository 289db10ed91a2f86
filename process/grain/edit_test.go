package grain

import (
	"math"
	"testing"
)

// A pair of discs is cut at its waist.
func TestParted(t *testing.T) {
	t.Parallel()
	var way []Point
	for k := range 60 { // right disc from waist to waist, then the left one
		a := (-150 + 300*float64(k)/59) * math.Pi / 180
		way = append(way, Point{0.87 + math.Cos(a), math.Sin(a)})
	}
	for k := range 60 {
		a := (30 + 300*float64(k)/59) * math.Pi / 180
		way = append(way, Point{-0.87 + math.Cos(a), math.Sin(a)})
	}
	g := Grain{Outline: way, Area: areaOf(way), Width: 2, Length: 3.74}
	a, b, ok := g.Parted()
	if !ok || math.Abs(a.Area/b.Area-1) > 0.02 || math.Abs(a.Area+b.Area-g.Area) > 1e-9 {
		t.Fatalf("%v: areas %g and %g of %g", ok, a.Area, b.Area, g.Area)
	}
	for _, p := range []Grain{a, b} {
		if math.Abs(p.Width-1.87) > 0.03 || math.Abs(math.Abs(p.X)-0.93) > 0.1 || !p.Split {
			t.Errorf("a piece %g wide at %g, wanted 1.87 at ±0.93", p.Width, p.X)
		}
	}
	if both := areaOf(a.Outline) + areaOf(b.Outline); math.Abs(both/areaOf(way)-1) > 1e-12 || len(a.Outline)+len(b.Outline) != len(way)+2 {
		t.Errorf("the outlines of the pieces hold %g of %g", both, areaOf(way)) // both have the two ends of the cut
	}
	if math.Abs(a.Y) > 0.02 || math.Abs(a.Across-1.87) > 0.03 || math.Abs(a.Down-2) > 0.01 || math.Abs(a.Length-2) > 0.03 || a.Solid < 0.999 {
		t.Errorf("a piece at %g, %g by %g, %g long, %g solid", a.Y, a.Across, a.Down, a.Length, a.Solid)
	}
	if _, _, ok := (Grain{Outline: way[:4]}).Parted(); ok {
		t.Error("a square was parted")
	}
	s := &Spread{Grains: []Grain{g, {Area: 1}, g}}
	out := s.Without(func(i int) bool { return i == 1 }, func(i int) bool { return i == 2 })
	if len(out.Grains) != 3 || len(s.Grains) != 3 || out.Grains[0].Area != g.Area || out.Grains[2].Area >= g.Area {
		t.Errorf("%d grains left", len(out.Grains))
	}
}

// Two grains with a hair on one of them are parted at their waist, not at the hair.
func TestAHairIsNoGrain(t *testing.T) {
	t.Parallel()
	two := Grain{Area: 216e-8, Outline: []Point{{0, 0}, {10, 0}, {10, 3}, {14, 3}, {14, 0}, {24, 0}, {24, 4.97}, {25, 5}, {24, 5.03}, {24, 10}, {14, 10}, {14, 7}, {10, 7}, {10, 10}, {0, 10}}}
	for i := range two.Outline {
		two.Outline[i] = two.Outline[i].times(1e-4)
	}
	a, b, ok := two.Parted()
	if !ok || math.Min(a.Area, b.Area) < 0.4*two.Area || math.Abs(a.Area+b.Area-two.Area) > 1e-3*two.Area {
		t.Errorf("parted into %.3g and %.3g mm²", a.Area*1e6, b.Area*1e6)
	}
}

// How much of its hull a grain fills: a corner of two arms of 60 by 12 pixels fills
// 1296 of 60² − 48²/2 = 2448 (by hand).
func TestSolid(t *testing.T) {
	t.Parallel()
	r := NewRaster(80, 80)
	for y := range 80 {
		for x := range 80 {
			if x >= 10 && x < 70 && y >= 10 && y < 70 && (x < 22 || y < 22) {
				r.V[y*80+x] = 1
			}
		}
	}
	g := newFinder(Field{Raster: r, Pixel: 1e-4})
	g.l = Label(80, 80, func(i int) bool { return r.V[i] > 0.5 }, true)
	g.boxes, g.level, g.split = g.l.boxes(), []float32{0, 0.5}, []bool{false, false}
	one, _ := g.grain(1, g.boxes[1], edge(g.l, 1, g.boxes[1], g.V, 0.5, nil))
	if math.Abs(one.Solid-1296.0/2448) > 0.02 {
		t.Errorf("it fills %.3f of its hull, wanted %.3f", one.Solid, 1296.0/2448)
	}
}
