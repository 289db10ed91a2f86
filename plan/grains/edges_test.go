package grains

// What is believed of the holes grains fall through, which sieves speak, and which analysis is the newest, by hand.

import (
	"math"
	"slices"
	"testing"

	"hopperful/process/grain"
	"hopperful/process/sieve"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Grains of prints with a wall: the hole lies between that of a plate as thick as the wall and that of a flat egg, halfway on the logarithm,
// and either end is one standard deviation off, or more.
func TestTheShapeOfWalls(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t)
	for _, c := range []struct{ wall, width, thick float64 }{{1.6e-3, 3e-3, 1.6e-3}, {0.8e-3, 4e-3, 0.8e-3}, {5e-3, 3e-3, 3e-3}} {
		flat, err := grain.HoleRectangular(c.width, c.thick)
		if err != nil {
			t.Fatal(err)
		}
		round, err := grain.HoleElliptic(c.width, c.thick)
		if err != nil {
			t.Fatal(err)
		}
		got, n, err := shapeOf(s, grain.Plastic{Wall: c.wall}, c.width)
		if err != nil || n != 0 || math.Abs(got.Median-math.Sqrt(flat*round)/c.width) > 1e-9 || math.Abs(got.Spread-math.Max(leastShapeSpread, math.Log(flat/round)/2)) > 1e-9 {
			t.Errorf("a wall of %g m: %+v of %d, %v", c.wall, got, n, err)
		}
	}
	prior := grain.PriorShape()
	for i, c := range [][2]float64{{0, 3e-3}, {1.6e-3, 0}} {
		if got, _, err := shapeOf(s, grain.Plastic{Wall: c[0]}, c[1]); err != nil || math.Abs(got.Median-prior.Median) > 1e-9 || math.Abs(got.Spread-prior.Spread) > 1e-9 {
			t.Errorf("case %d: %+v, %v", i, got, err)
		}
	}
}

// The newest stack on sieves is one that was sieved, however many pictures came after it.
func TestTheNewestStack(t *testing.T) {
	t.Parallel()
	sieved := func(photo *shop.Photographed, opening float64) *shop.Sieved {
		return &shop.Sieved{Lot: "R1", Charge: 0.01, Series: shop.OwnSet, Holes: shop.WovenWire, Photo: photo, Sieves: []shop.OnSieve{{Opening: opening, Mass: 0.01}}}
	}
	photo := &shop.Photographed{Pictures: 1, Grains: 500, Effective: 400, Largest: 0.01, Shape: 0.8, Spread: 0.1, Seen: 1e-4}
	lot := &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}
	for i, c := range []struct {
		of   []shop.Body
		want float64
	}{{nil, 0}, {[]shop.Body{sieved(photo, 1e-3)}, 0}, {[]shop.Body{sieved(nil, 2e-3), sieved(nil, 3e-3), sieved(photo, 1e-3), sieved(photo, 0.5e-3)}, 3e-3}} {
		got := newestStack(shoptest.Bin(t, append([]shop.Body{lot}, c.of...)...))
		if (got == nil) != (c.want == 0) || got != nil && got.Sieves[0].Opening != c.want {
			t.Errorf("case %d: %+v", i, got)
		}
	}
}

// The sieve that speaks of a torn screen is told of where the screen is known and the pictures see so far.
func TestWhereATornScreenSpeaks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		screen, seen float64
		told         bool
	}{{3e-3, 1e-3, true}, {3e-3, 3e-3 * sieve.CoarseRatio, true}, {3e-3, 3.1e-3 * sieve.CoarseRatio, false}, {0.2e-3, 1e-3, false}, {0, 0, false}} {
		j := &job{state: &shop.State{}, screen: c.screen, seen: c.seen}
		j.sieves()
		if got := slices.ContainsFunc(j.holes, func(x float64) bool { return math.Abs(x/(sieve.CoarseRatio*c.screen)-1) < 1e-9 }); got != c.told {
			t.Errorf("a screen of %g m where %g m are seen: told %t of %v", c.screen, c.seen, got, j.holes)
		}
	}
}
