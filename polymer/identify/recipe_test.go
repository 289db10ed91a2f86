package identify

import (
	"math"
	"strconv"
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

// However sure, what is left for the rest is one part in MostOdds + 1, shared as it was; the shares
// still sum to one. What is less sure stays as it is.
func TestNothingIsSurerThanTheCap(t *testing.T) {
	t.Parallel()
	most := MostOdds / (MostOdds + 1.0)
	got := capped([]float64{1e-9, 1 - 4e-9, 3e-9})
	if math.Abs(got[1]-most) > 1e-15 || math.Abs(got[0]+got[1]+got[2]-1) > 1e-9 || math.Abs(got[2]/got[0]-3) > 1e-6 {
		t.Errorf("%v", got)
	}
	for _, shares := range [][]float64{{0.3, 0.7}, {most, 1 - most}, {1, 0}} {
		if got := capped(shares); got[0] != shares[0] || got[1] != shares[1] {
			t.Errorf("%v became %v", shares, got)
		}
	}
}

// Metal is tried from 40 to 300 °C, liquids up to 1500 kg/m³; whose numbers stand behind a liquid is
// told once each, in order.
func TestFindingsAtTheEdge(t *testing.T) {
	t.Parallel()
	for _, f := range []Finding{{Test: "sticks", At: 313.15}, {Test: "sticks", At: 573.15}, {Test: "floats", At: 1500}} {
		if _, err := Books().Chances(f); err != nil {
			t.Errorf("%+v: %v", f, err)
		}
	}
	for _, f := range []Finding{{Test: "sticks", At: 313.1}, {Test: "sticks", At: 573.2}, {Test: "floats", At: 1501}, {Test: "floats", At: lightest - 1}, {Test: "nobody"}} {
		if _, err := Books().Chances(f); err == nil {
			t.Errorf("%+v: taken", f)
		}
	}
	for _, l := range Liquids() {
		keys := l.Sources()
		if len(keys) == 0 {
			t.Errorf("%s has no source", l)
		}
		for i, key := range keys {
			if key == "" || i > 0 && keys[i-1] >= key {
				t.Errorf("%s: %v", l, keys)
			}
		}
	}
	if keys := Brine.Sources(); len(keys) != 1 && len(keys) != 2 {
		t.Errorf("brine: %v", keys)
	}
}

// On metal as hot as the table says a plastic sticks in one of two tries, whatever the lapses; twenty kelvin hotter,
// two of its spreads, in nearly all, and as much colder in hardly any.
func TestHowHotMetalIs(t *testing.T) {
	t.Parallel()
	b := Books()
	err := table("sticks.csv", "candidate,onset,spread,source,place,mark", func(f []string) error {
		at, err := strconv.ParseFloat(f[1], 64)
		if err != nil {
			return err
		}
		spread, err := strconv.ParseFloat(f[2], 64)
		if err != nil {
			return err
		}
		i, err := b.index(f[0])
		if err != nil {
			t.Fatalf("no candidate %q", f[0])
		}
		for _, c := range []struct{ off, low, high float64 }{{0, 0.499, 0.501}, {2 * spread, 0.9, 0.98}, {-2 * spread, 0.02, 0.1}} {
			if hot := at + c.off; hot > 40 && hot < 300 {
				chances, err := b.Chances(Finding{Test: "sticks", At: 273.15 + hot, Yes: true})
				if err != nil || chances[i] < c.low || chances[i] > c.high {
					t.Errorf("%s at %g °C sticks with %g, %v", f[0], hot, chances[i], err)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Only looks were tried as long as every finding is one.
func TestOnlyLooks(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		tried []string
		want  bool
	}{"nothing": {nil, true}, "a look": {[]string{"waxy"}, true}, "two": {[]string{"rings", "waxy"}, true}, "a bench test": {[]string{"snaps"}, false},
		"one of each": {[]string{"waxy", "snaps"}, false}, "weighed": {[]string{Weighed}, false}} {
		var tried []Finding
		for _, x := range c.tried {
			tried = append(tried, Finding{Test: x})
		}
		if got := Books().LooksOnly(tried); got != c.want {
			t.Errorf("%s: looks only %t", name, got)
		}
	}
}
