package colour

import (
	"math"
	"testing"
)

// A grey's curve is flat at its light, but never below what a screen's black is taken for; any hue bends it.
func TestNearBlacksAreFlat(t *testing.T) {
	t.Parallel()
	for light, want := range map[float64]float64{0: 1e-4, 5e-5: 1e-4, 1e-4: 1e-4, 1.1e-4: 1.1e-4, 0.4: 0.4, 1: 1} {
		c, err := guess([3]float64{light, light, light})
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range c {
			if math.Abs(v-want) > 1e-12 {
				t.Fatalf("a light of %g reflects %g, wanted %g", light, v, want)
			}
		}
	}
	if c, err := guess([3]float64{0.1, 0.1, 0.1 + 1e-6}); err != nil || c[0] == c[len(c)-1] {
		t.Errorf("a hint of blue is %v, %v", c, err)
	}
}

// What is seen beside a white is seen alike where light and white are brighter by one factor, and of the white
// itself only its own share counts: half of each of a white's three values is L* = 76.07 (116/∛2 − 16), without hue.
func TestColourGoesByTheWhite(t *testing.T) {
	t.Parallel()
	for _, white := range []XYZ{{0.95, 1, 1.09}, {0.6, 0.5, 0.3}, {1.9, 2, 1.2}} {
		v := XYZ{0.3 * white.X, 0.25 * white.Y, 0.1 * white.Z}
		a, err := ToLab(v, white)
		b, worse := ToLab(XYZ{v.X / 2, v.Y / 2, v.Z / 2}, XYZ{white.X / 2, white.Y / 2, white.Z / 2})
		if err != nil || worse != nil || math.Abs(a.L-b.L)+math.Abs(a.A-b.A)+math.Abs(a.B-b.B) > 1e-9 {
			t.Errorf("under %v: %v, darker %v (%v, %v)", white, a, b, err, worse)
		}
		if half, err := ToLab(XYZ{white.X / 2, white.Y / 2, white.Z / 2}, white); err != nil || math.Abs(half.L-(116/math.Cbrt(2)-16)) > 1e-9 || math.Abs(half.A)+math.Abs(half.B) > 1e-9 {
			t.Errorf("half of %v is %v, %v", white, half, err)
		}
	}
}

// An instrument that rounds its last band to a hair below 700 nm is read, and its last value
// is held to the end.
func TestLastBandIsHeld(t *testing.T) {
	t.Parallel()
	var wavelengths, values []float64
	for nm := 400.0; nm <= 700; nm += 10 {
		wavelengths, values = append(wavelengths, nm*1e-9), append(values, 0.1+(nm-400)/1000)
	}
	last := len(wavelengths) - 1
	wavelengths[last] = 700e-9 - 0.5e-12
	c, err := Resampled(wavelengths, values)
	if err != nil {
		t.Fatal(err)
	}
	if got := c[len(c)-1]; got != values[last] {
		t.Errorf("the last band is %g, read %g", got, values[last])
	}
}
