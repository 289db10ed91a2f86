package polymer

import (
	"slices"
	"testing"
)

func TestWhoseDataStandIn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		polymer  string
		property Property
		want     string
	}{
		{"HIPS", PowerN, "polystyrene"},           // by its grade
		{"HIPS", WaterDiffusivity, "polystyrene"}, // among its conditions
		{"HIPS", ImpactNotched, ""},
		{"ASA", WaterDiffusivity, "ABS"}, // "as ABS, fitted to …"
		{"ASA", PowerN, "ABS"},
		{"PLA", Softening, ""},
		{Unknown, DryingTemperature, "PLA"},
	} {
		p, err := Find(c.polymer)
		if err != nil {
			t.Fatal(err)
		}
		v := si(t, p, c.property)
		if v.Lender() != c.want {
			t.Errorf("%s of %s: data of %q stand in, wanted %q", c.property, c.polymer, v.Lender(), c.want)
		}
		if told := len(v.Figure().Warnings) > 0; told != (c.want != "") {
			t.Errorf("%s of %s: the figure says %q", c.property, c.polymer, v.Figure().Warnings)
		}
	}
}

// What decides of a material and is a guess says so: its figure stands on nothing one
// could look up. What was read somewhere does not.
func TestGuessesOfTheTableAreCalledSo(t *testing.T) {
	t.Parallel()
	guesses := []Mark{Practice, Memory, Judged}
	each(t, func(p Polymer) {
		for _, v := range p.Values() {
			f := v.Figure()
			if p.Name == Unknown {
				continue // assumed: nobody has said what it is
			}
			if got := f.Standing() == "guess"; got != slices.Contains(guesses, v.Mark) {
				t.Errorf("%s of %s, %s, is shown as %q", v.Property, p.Name, v.Mark, f.Standing())
			}
			if twice := v.Vouch(f); twice.Standing() != f.Standing() {
				t.Errorf("%s of %s: a figure that repeats it is shown as %q", v.Property, p.Name, twice.Standing())
			}
		}
	})
}
