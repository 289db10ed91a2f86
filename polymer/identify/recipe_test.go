package identify

import (
	"math"
	"testing"
)

// A recipe weighs what it says: what goes into a litre of water, over it and the water, is the
// strength, also at the warm end, and the fall of the density by a kelvin is that of the tables.
func TestRecipesWeighWhatTheySay(t *testing.T) {
	t.Parallel()
	for _, l := range Liquids() {
		share := map[Liquid]float64{Brine: 0.1, Ethanol: 0.4, Propanol: 0.2, Chloride: 0.2, Sugar: 0.5}[l]
		if l == Water {
			continue
		}
		for _, kelvin := range []float64{283.15, 293.15, 308, 308.15} {
			r, err := RecipeOf(l, share, kelvin)
			if err != nil {
				t.Fatal(l, err)
			}
			water, err := WaterDensity(kelvin)
			if err != nil {
				t.Fatal(err)
			}
			litre := water / 1000
			if math.Abs(r.PerLitre/(r.PerLitre+litre)-share) > 1e-12 {
				t.Errorf("%s at %g K: %g kg to %g kg of water", l, kelvin, r.PerLitre, litre)
			}
			step := 0.25
			if kelvin+step > 308.15 {
				step = -step
			}
			other, err := Density(l, share, kelvin+step)
			if err != nil {
				t.Fatal(err)
			}
			if fall := (r.Density - other) / step; math.Abs(fall-r.PerKelvin) > 0.02 || r.PerKelvin <= 0 {
				t.Errorf("%s at %g K falls %g a kelvin, by the table %g", l, kelvin, r.PerKelvin, fall)
			}
			back, err := StrengthFor(l, r.Density, kelvin)
			if err != nil || math.Abs(back-share) > 1e-6 {
				t.Errorf("%s at %g K: %g makes %g kg/m³ (%v)", l, kelvin, back, r.Density, err)
			}
		}
	}
	if _, err := RecipeOf(Ethanol, 0.999, 293.15); err != nil {
		t.Errorf("almost pure: %v", err)
	}
	if _, err := RecipeOf(Ethanol, 0.9991, 293.15); err == nil {
		t.Error("pure spirit is a recipe")
	}
}
