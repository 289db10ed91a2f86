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
	if _, _, ok := (Grain{Outline: way[:4]}).Parted(); ok {
		t.Error("a square was parted")
	}
	s := &Spread{Grains: []Grain{g, {Area: 1}, g}}
	out := s.Without(func(i int) bool { return i == 1 }, func(i int) bool { return i == 2 })
	if len(out.Grains) != 3 || len(s.Grains) != 3 || out.Grains[0].Area != g.Area || out.Grains[2].Area >= g.Area {
		t.Errorf("%d grains left", len(out.Grains))
	}
}
