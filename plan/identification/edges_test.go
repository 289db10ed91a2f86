package identification

import (
	"errors"
	"math"
	"testing"

	"hopperful/polymer/identify"
	"hopperful/shop"
)

// Hot metal from 40 to 300 °C tells something; only a float in another liquid than water has to be mixed.
func TestTestsAtTheEdge(t *testing.T) {
	t.Parallel()
	for text, in := range map[string]bool{"40 °C=yes": true, "39.9 °C=yes": false, "300 °C=no": true, "300.1 °C=no": false} {
		if f, err := ReadSticks(text); (err == nil) != in || in && f.Yes != (text == "40 °C=yes") {
			t.Errorf("%s: %+v, %v", text, f, err)
		}
	}
	for _, c := range []struct {
		test Test
		mix  bool
	}{
		{Test{Worth: identify.Worth{Test: identify.Test{Name: "floats", Kind: identify.Float, Liquid: identify.Water, At: 997}}}, false}, {Test{Worth: identify.Worth{Test: identify.Test{Name: "floats", Kind: identify.Float, Liquid: identify.Brine, At: 1100}}}, true},
		{Test{Worth: identify.Worth{Test: identify.Test{Name: "sticks", Kind: identify.Hot, At: 400}}}, false}, {Test{Worth: identify.Worth{Test: identify.Test{Name: "sticks", Kind: identify.Hot, Liquid: identify.Brine, At: 400}}}, false},
	} {
		if c.test.Mix().Empty() == c.mix {
			t.Errorf("%+v is mixed as %s", c.test, c.test.Mix().Code)
		}
	}
}

// Liquids lie between 0.7 and 1.5 g/cm³; a print is weighed that has a mass and a volume, on a scale ten steps fine.
func TestLiquidsAndWeighingsAtTheEdge(t *testing.T) {
	t.Parallel()
	for text, in := range map[string]bool{"0.7 g/cm3": true, "0.699 g/cm3": false, "1.5 g/cm3": true, "1.501 g/cm3": false} {
		if rho, err := ReadLiquid(text, 293.15); (err == nil) != in {
			t.Errorf("%s: %g, %v", text, rho, err)
		}
	}
	for i, c := range []struct {
		mass, volume, step float64
		field              string
	}{{0.0124, 1e-5, 1e-4, ""}, {0, 1e-5, 1e-4, "mass"}, {0.0124, 0, 1e-4, "mass"}, {-0.0124, 1e-5, 1e-4, "mass"}, {0.0124, 1e-5, 0.00123, ""}, {0.0124, 1e-5, 0.00125, "scale"}, {0.0124, 1e-5, 0, "scale"}} {
		f, err := WeighedFinding(c.mass, c.volume, c.step)
		var refused *shop.Error
		if (err == nil) != (c.field == "") || err != nil && (!errors.As(err, &refused) || refused.Field != c.field) {
			t.Errorf("case %d: %v", i, err)
			continue
		}
		// 12.4 g in 10 cm³; a hundredth of it and the scale's step over √12 of the mass.
		if err == nil && (math.Abs(f.At-1240) > 1e-9 || math.Abs(f.Within-1240*math.Hypot(0.01, c.step/math.Sqrt(12)/0.0124)) > 1e-9) {
			t.Errorf("case %d: %+v", i, f)
		}
	}
}
