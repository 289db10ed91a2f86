package colour

import "testing"

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
