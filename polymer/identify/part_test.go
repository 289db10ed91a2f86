package identify_test

import (
	"math"
	"testing"

	"hopperful/polymer/identify"
)

// between is how the liquid for two plastics, thought equally likely, is found.
func between(t *testing.T, a, b string) identify.Worth {
	t.Helper()
	book := identify.Books()
	shares := make([]float64, len(book.Candidates))
	for i, c := range book.Candidates {
		if c.Name == a || c.Name == b {
			shares[i] = 0.5
		}
	}
	w, err := book.PartingLiquid(shares)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func meanOf(t *testing.T, name string) (mean, spread float64) {
	t.Helper()
	for _, c := range identify.Books().Candidates {
		if c.Name == name {
			return c.Density()
		}
	}
	t.Fatalf("no %s", name)
	return 0, 0
}

// Of two alike in spread and in what is thought of them, the best liquid lies
// half way: own derivation, by the symmetry of the two normal distributions.
func TestTheBestLiquidIsHalfWayBetweenTwoAlike(t *testing.T) {
	t.Parallel()
	for _, pair := range [][2]string{{"ABS", "ASA"}, {"HIPS", "ASA"}} {
		lo, s1 := meanOf(t, pair[0])
		hi, s2 := meanOf(t, pair[1])
		if s1 != s2 {
			t.Fatalf("%v differ in spread; take another pair", pair)
		}
		if w := between(t, pair[0], pair[1]); math.Abs(w.At-(lo+hi)/2) > 2.5+1e-9 { // half a step of the search
			t.Errorf("%v: %g, half way is %g", pair, w.At, (lo+hi)/2)
		}
	}
}

// A liquid that parts two plastics lies between them, can be mixed, and of two
// far apart tells all that slips of 2 % leave: 1 − H(0.02) bit, H the entropy of
// a coin (Shannon1948).
func TestALiquidBetweenTwoFarApartTellsAllButSlips(t *testing.T) {
	t.Parallel()
	most := 1 + 0.02*math.Log2(0.02) + 0.98*math.Log2(0.98)
	for _, c := range []struct {
		light, heavy string
		liquid       identify.Liquid
	}{{"PP", "ABS", identify.Ethanol}, {"ABS", "PA6", identify.Brine}, {"PA12", "PET", identify.Brine}, {"PP", "PETG", identify.Water}, {"PC", "PVC", identify.Chloride}} {
		w := between(t, c.light, c.heavy)
		lo, _ := meanOf(t, c.light)
		hi, _ := meanOf(t, c.heavy)
		if !(w.At > lo && w.At < hi) || math.Abs(w.Bits-most) > 0.02 {
			t.Errorf("%s and %s: %s of %g tells %g of %g bit", c.light, c.heavy, w.Liquid, w.At, w.Bits, most)
		}
		if w.Liquid == identify.Water {
			continue
		}
		if mix, err := identify.RecipeFor(w.Liquid, w.At, 293.15); err != nil || math.Abs(mix.Density-w.At) > 1e-6 {
			t.Errorf("%s of %g cannot be mixed: %v", w.Liquid, w.At, err)
		}
	}
}

func TestNoLiquidPartsOnePlastic(t *testing.T) {
	t.Parallel()
	if w := between(t, "HIPS", "PS"); w.Bits > 1e-9 { // the same density in the book
		t.Errorf("%s of %g tells HIPS from PS by %g bit", w.Liquid, w.At, w.Bits)
	}
}
