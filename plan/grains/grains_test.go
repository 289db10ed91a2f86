package grains_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/plan/grains"
	"hopperful/plan/sieving"
	"hopperful/process/grain"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// heap are n grains of a width and so many times that length, thrown on a field.
func heap(n int, width, times float64) []grain.Grain {
	rng := rand.New(rand.NewPCG(uint64(n), 4))
	var all []grain.Grain
	for range n {
		all = append(all, grain.Grain{X: 0.16 * rng.Float64(), Y: 0.12 * rng.Float64(), Width: width, Length: times * width, Area: math.Pi / 4 * times * width * width, Solid: 1})
	}
	return all
}

func spread(parts ...[]grain.Grain) *grain.Spread {
	out := &grain.Spread{W: 0.16, H: 0.12, Pixel: 5e-5}
	for _, p := range parts {
		out.Grains = append(out.Grains, p...)
	}
	return out
}

// ground is a lot of a mill whose screen has holes of 3 mm (shoptest.Mill).
func ground(t testing.TB, more ...shop.Body) *shop.State {
	t.Helper()
	level := 12
	return shoptest.Bin(t, append([]shop.Body{shoptest.Scrap("PLA", "black", 2),
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Left: shoptest.P(0.005), Run: 60, Level: &level}}, more...)...)
}

func pictured(t testing.TB, s *shop.State, lot shop.LotID, samples ...grain.Sample) *shop.Sieved {
	t.Helper()
	out, err := grains.Of(s, grains.Ask{Lot: lot, Samples: samples})
	if err != nil {
		t.Fatal(err)
	}
	return out.Body
}

// Grains longer than two holes of the mill's screen are counted in the picture and
// warn of a torn screen, as they do when found by eye; threads, which a sound screen
// lets through end first, do not.
func TestLongGrainsWarnOfATornScreen(t *testing.T) {
	t.Parallel()
	fine := heap(400, 1.5e-3, 1.2)
	for name, c := range map[string]struct {
		more []grain.Grain
		long int
		word sieving.ScreenWord
	}{
		"sound":         {nil, 0, sieving.NothingSays},
		"torn":          {heap(9, 7e-3, 1.3), 9, sieving.LookNow},
		"threads":       {heap(9, 1e-3, 8), 0, sieving.NothingSays},
		"a little over": {heap(60, 5e-3, 1.1), 0, sieving.LookNow}, // no longer than two holes, and far too many above 1.25
	} {
		s := ground(t)
		body := pictured(t, s, "R1", grain.Sample{Spreads: []*grain.Spread{spread(fine, c.more)}})
		if body.LongFound == nil || *body.LongFound != c.long {
			t.Errorf("%s: long grains %v, wanted %d", name, body.LongFound, c.long)
		}
		after, err := sieving.Screen(ground(t, body), "Rattle")
		if err != nil {
			t.Fatal(err)
		}
		if after.Word != c.word {
			t.Errorf("%s: the screen %s, wanted %s: %+v", name, after.Word, c.word, after.Unused)
		}
	}
	if scrap := pictured(t, ground(t), "S1", grain.Sample{Spreads: []*grain.Spread{spread(fine)}}); scrap.LongFound != nil {
		t.Error("scrap came through no screen, and yet long grains were counted")
	}
}

// Grains all alike: every size by mass is their width times the shape.
func TestAlike(t *testing.T) {
	t.Parallel()
	body := pictured(t, ground(t), "R1", grain.Sample{Spreads: []*grain.Spread{spread(heap(500, 1.2e-3, 1.3))}, Mass: 0.8e-3})
	hole := 1.2e-3 * body.Photo.Shape
	finer := body.Pan
	for i := len(body.Sieves) - 1; i >= 0; i-- {
		x := body.Sieves[i]
		want := 0.0
		if x.Opening > hole {
			want = body.Charge
		}
		if math.Abs(finer-want) > 1e-9 {
			t.Errorf("%.3g kg pass %.3g mm, wanted %.3g", finer, x.Opening*1e3, want)
		}
		finer += x.Mass
	}
	if math.Abs(body.Charge-0.8e-3) > 1e-12 || !body.Photo.Weighed || math.Abs(body.Photo.Effective-500) > 1e-6 {
		t.Errorf("charge %g, weighed %v, effective %g", body.Charge, body.Photo.Weighed, body.Photo.Effective)
	}
}

// Two pictures of one class weigh no more than one: the class stands for what it weighs.
func TestAClassCountsOnce(t *testing.T) {
	t.Parallel()
	coarse, fine := spread(heap(100, 2e-3, 1.2)), spread(heap(300, 0.8e-3, 1.2))
	one := pictured(t, ground(t), "R1", grain.Sample{Of: 18e-3, Spreads: []*grain.Spread{coarse}}, grain.Sample{Of: 7e-3, Spreads: []*grain.Spread{fine}})
	two := pictured(t, ground(t), "R1", grain.Sample{Of: 18e-3, Spreads: []*grain.Spread{coarse, coarse}}, grain.Sample{Of: 7e-3, Spreads: []*grain.Spread{fine}})
	if math.Abs(one.Charge-25e-3) > 1e-12 || math.Abs(two.Charge-25e-3) > 1e-12 {
		t.Errorf("charges %g and %g, wanted 25 g", one.Charge, two.Charge)
	}
	for i := range one.Sieves {
		if math.Abs(one.Sieves[i].Mass-two.Sieves[i].Mass) > 1e-9 {
			t.Errorf("sieve %d: %g and %g", i, one.Sieves[i].Mass, two.Sieves[i].Mass)
		}
	}
}

// A lot that was sieved and photographed teaches the shape: sieves that call the same
// grains finer than the picture did make the next picture read finer.
func TestShapeIsLearned(t *testing.T) {
	t.Parallel()
	seen := heap(500, 1.2e-3, 1.3)
	before := pictured(t, ground(t), "R1", grain.Sample{Spreads: []*grain.Spread{spread(seen)}})
	sieved := &shop.Sieved{Lot: "R1", Charge: 0.02, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.005,
		Sieves: []shop.OnSieve{{Opening: 1.4e-3, Mass: 0}, {Opening: 0.8e-3, Mass: 0.01}, {Opening: 0.6e-3, Mass: 0.005}}}
	after := pictured(t, ground(t, before, sieved), "R1", grain.Sample{Spreads: []*grain.Spread{spread(seen)}})
	if !(after.Photo.Shape < 0.98*before.Photo.Shape) || !(after.Photo.Spread < before.Photo.Spread) {
		t.Errorf("shape %.3f ± %.3f before, %.3f ± %.3f after", before.Photo.Shape, before.Photo.Spread, after.Photo.Shape, after.Photo.Spread)
	}
}

// A picture in which every grain was struck out is a refusal, not a NaN.
func TestNothingLeft(t *testing.T) {
	t.Parallel()
	_, err := grains.Of(ground(t), grains.Ask{Lot: "R1", Samples: []grain.Sample{{Spreads: []*grain.Spread{spread()}}}})
	var r *grain.Refusal
	if !errors.As(err, &r) || r.Code != grain.NoGrains {
		t.Errorf("got %v", err)
	}
}

// Every refusal has its own words and its own remedy.
func TestRefusedEachInItsWords(t *testing.T) {
	t.Parallel()
	seen := map[string]grain.Code{}
	for _, c := range []grain.Code{grain.Covered, grain.Faint, grain.Noisy, grain.TooFine, grain.Unscaled, grain.Blurred, grain.WideAngle,
		grain.Tilted, grain.NoGrains, grain.TooLarge, grain.TooSmall, grain.NotRead, grain.OtherScale} {
		f := grains.Refused(&grain.Refusal{Code: c, Value: 0.3, Limit: 0.25})
		if len(f.Remedies) != 1 {
			t.Fatalf("%s has %d remedies", c, len(f.Remedies))
		}
		if other, twice := seen[f.Code]; twice {
			t.Errorf("%s and %s are worded alike", c, other)
		}
		seen[f.Code] = c
	}
}
