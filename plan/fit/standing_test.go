package fit_test

import (
	"testing"

	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/shop"
)

// A temperature that is set says on what it stands: a dated page, a guess of ours, or
// the word of who typed it.
func TestTemperaturesSayOnWhatTheyStand(t *testing.T) {
	t.Parallel()
	warm := 330.0
	for _, c := range []struct {
		polymer string
		at      *float64
		want    figure.Basis
	}{
		{"PETG", nil, figure.Books},   // AutodeskPetg2025
		{"PLA", nil, figure.Guessed},  // common practice, no source
		{"HIPS", nil, figure.Guessed}, // cut to what it bears
		{"PETG", &warm, figure.Entered},
	} {
		d, err := fit.Dry(ground(t, c.polymer), fit.DryRequest{Polymer: c.polymer, Way: shop.DryAir, Temperature: c.at})
		if err != nil {
			t.Fatal(err)
		}
		if got := d.Temperature.Standing(); got != c.want {
			t.Errorf("%s is dried at %s, %q, wanted %q", c.polymer, d.Temperature.Shown(), got, c.want)
		}
	}
	for _, c := range []struct {
		polymer         string
		nozzle, ceiling figure.Basis
	}{
		{"PETG", figure.Guessed, ""},            // from memory; AutodeskPetg2025
		{"PLA", figure.Books, figure.Guessed},   // NatureWorks2026; from memory
		{"TPU", figure.Guessed, figure.Guessed}, // both from memory
	} {
		for _, s := range judge(t, ground(t, c.polymer), fit.Request{Lot: "R1", Need: vase(0.06, c.polymer)}).Settings {
			if s.Key == "temperature" && (s.Standing() != c.nozzle || s.Limit.Basis != c.ceiling) {
				t.Errorf("%s: the nozzle temperature is shown as %q, its ceiling as %q", c.polymer, s.Standing(), s.Limit.Basis)
			}
		}
	}
}

// Pressure and speed of a plastic whose melt nobody measured say whose data stand in.
func TestFitSaysWhoseMeltStandsIn(t *testing.T) {
	t.Parallel()
	for polymer, want := range map[string]bool{"HIPS": true, "PLA": false} {
		f := judge(t, ground(t, polymer), fit.Request{Lot: "R1", Need: vase(0.06, polymer)})
		said := false
		for _, s := range f.Document.Spoilers {
			said = said || s.Saying.Code == "fit.law_lent"
		}
		if said != want {
			t.Errorf("%s: says %v", polymer, said)
		}
	}
}
