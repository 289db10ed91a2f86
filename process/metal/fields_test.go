package metal

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Spectrum{Median: 1e-3, Spread: 0.5}, Spectrum.Check)
	checkrow.Fields(t, Window{From: 1e-4, To: 1e-2}, Window.Check)
	checkrow.Fields(t, Rate{Shape: 1, Exposure: 1}, func(r Rate) error { _, err := Learn(r, 1, 1); return err })
	checkrow.Fields(t, Metal{Wear: 1e-5, Parts: blend(0.9), Sizes: Spectrum{1e-4, 0.5}, Screen: 3e-3, Slip: 1.5, Passes: 1}, Metal.Check)
	one := Metal{Wear: 1e-5, Parts: blend(0.9), Sizes: Spectrum{1e-4, 0.5}, Screen: 3e-3, Slip: 1.5, Passes: 1}
	print1 := Print{Mass: 0.2, Nozzle: 8e-4}
	kind := func(change func(*Kind)) error {
		parts := blend(0.9)
		change(&parts[0].Kind)
		_, err := StaysIn(parts, 1)
		return err
	}
	for _, c := range []struct {
		name   string
		lo, hi float64
		f      func(float64) error
	}{
		{"mass of a print", 1e-6, 1e6, func(x float64) error { p := print1; p.Mass = x; _, err := PrintRisk(one, p); return err }},
		{"nozzle", 1e-4, 0.05, func(x float64) error { p := print1; p.Nozzle = x; _, err := PrintRisk(one, p); return err }},
		{"shape", 1e-6, 1e9, func(x float64) error { return Rate{x, 1}.Check() }},
		{"exposure", 1e-9, 1e9, func(x float64) error { return Rate{1, x}.Check() }},
		{"shape learned on", 1e-6, 1e9, func(x float64) error { _, err := Learn(Rate{x, 1}, 1, 1); return err }},
		{"chance", 1e-9, 1 - 1e-9, func(x float64) error { _, err := (Rate{1, 1}).Quantile(x); return err }},
		{"rate", 0, 1e12, func(x float64) error { _, err := (Rate{1, 1}).Above(x); return err }},
		{"next mass", 0, 1e6, func(x float64) error { _, err := (Rate{1, 1}).Clean(x); return err }},
		{"density of a metal", 1000, 25000, func(x float64) error { return kind(func(k *Kind) { k.Density = x }) }},
		{"caught", 0, 1, func(x float64) error { return kind(func(k *Kind) { k.Catch = x }) }},
		{"caught at least", 0, 1, func(x float64) error { return kind(func(k *Kind) { k.Low = x }) }},
		{"caught at most", 0, 1, func(x float64) error { return kind(func(k *Kind) { k.High = x }) }},
		{"hole of a finer screen", 1e-5, 3e-3, func(x float64) error { _, err := FinerScreen(one, print1, x); return err }},
		{"sum of shares", 1 - 1e-6, 1 + 1e-6, func(x float64) error { _, err := StaysIn([]Part{{Brass, 0.5}, {Ferritic, x - 0.5}}, 1); return err }},
	} {
		checkrow.Range(t, c.name, c.lo, c.hi, c.f)
	}
	for caught, in := range map[float64]bool{0.4999: true, 0.5001: false} { // of 1 kg ground: half of it metal
		if _, err := WearFromMagnet(MagnetYield{caught, 1, 1}); (err == nil) != in {
			t.Errorf("%g kg on the magnet: %v", caught, err)
		}
	}
	many := func(n int) error {
		parts := make([]Part, n)
		for i := range parts {
			parts[i] = Part{Ferritic, 1 / float64(n)}
		}
		_, err := StaysIn(parts, 0)
		return err
	}
	if many(50) != nil || many(51) == nil || many(0) == nil || many(1) != nil {
		t.Errorf("of 0, 1, 50 and 51 metals: %v, %v, %v, %v", many(0), many(1), many(50), many(51))
	}
}
