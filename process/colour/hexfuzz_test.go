package colour

import (
	"math"
	"strings"
	"testing"
)

// FuzzParseHex: a colour that is read is shown as it was typed, and its three parts are
// shares of light.
func FuzzParseHex(f *testing.F) {
	for _, text := range []string{"#c98a5c", "c98a5c", "#fff", "#FFFFFF", "", "#", "#12345", "#gggggg", "#é12345", " #000000 "} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseHex(text)
		if err != nil {
			return
		}
		for _, part := range []float64{c.R, c.G, c.B} {
			if math.IsNaN(part) || part < 0 || part > 1 {
				t.Fatalf("%q is %v", text, c)
			}
		}
		code, exact := c.Hex()
		again, err := ParseHex(code)
		if err != nil || !exact || again != c {
			t.Fatalf("%q is shown as %s, which is %v, %v", text, code, again, err)
		}
		if typed := strings.ToLower(strings.TrimPrefix(strings.TrimSpace(text), "#")); len(typed) == 6 && "#"+typed != code {
			t.Fatalf("%q is shown as %s", text, code)
		}
	})
}
