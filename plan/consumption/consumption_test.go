package consumption

import (
	"math"
	"testing"

	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

func ptr(v float64) *float64 { return &v }

// A litre of a plastic weighs its density in kilograms per cubic decimetre: the
// definition of density.
func TestALitreWeighsItsDensity(t *testing.T) {
	t.Parallel()
	fs, err := Of(polymer.Books(), shop.Need{Name: "litre", From: "g-code", Polymer: "PLA", Volume: ptr(1e-3), Time: ptr(60)})
	if err != nil {
		t.Fatal(err)
	}
	byKey := map[string]figure.Figure{}
	for _, f := range fs {
		if err := figure.Check(f); err != nil {
			t.Error(err)
		}
		byKey[f.Key] = f
	}
	pla, err := polymer.Find("PLA")
	if err != nil {
		t.Fatal(err)
	}
	density, err := pla.Value(polymer.Density)
	if err != nil {
		t.Fatal(err)
	}
	m := byKey["mass"]
	for _, c := range [][2]float64{{m.Value, density.Value}, {m.Low, density.Low}, {m.High, density.High}} {
		if math.Abs(c[0]-c[1]*1e-3) > 1e-12 {
			t.Errorf("got %g kg for a litre, wanted %g", c[0], c[1]*1e-3)
		}
	}
	if byKey["print_time"].Value != 60 || len(fs) != 3 {
		t.Errorf("got %v", fs)
	}
}

func TestWhatIsUnknownIsLeftOut(t *testing.T) {
	t.Parallel()
	fs, err := Of(polymer.Books(), shop.Need{Name: "n", From: "mesh", Volume: ptr(1e-3)})
	if err != nil || len(fs) != 1 || fs[0].Key != "volume" {
		t.Errorf("got %v, %v", fs, err)
	}
	if _, err := Of(polymer.Books(), shop.Need{Name: "n", From: "mesh", Volume: ptr(1e-3), Polymer: "oak"}); err == nil {
		t.Error("oak was taken for a polymer")
	}
}

func TestTogetherAddsUp(t *testing.T) {
	t.Parallel()
	a := figure.Exact("mass", "a", quantity.Mass, 0.2, figure.Entered)
	b := figure.Exact("mass", "b", quantity.Mass, 0.3, figure.Reckoned)
	b.Low, b.High = 0.28, 0.33
	sum := Together([]figure.Figure{a, b})
	if math.Abs(sum.Value-0.5) > 1e-12 || math.Abs(sum.Low-0.48) > 1e-12 || math.Abs(sum.High-0.53) > 1e-12 || len(sum.Inputs) != 2 {
		t.Errorf("got %+v", sum)
	}
}
