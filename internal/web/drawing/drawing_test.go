package drawing

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"hopperful/shop"
)

// classes are those a lot may be of.
var classes = []shop.Class{shop.Scrap, shop.Regrind, shop.Virgin, shop.Blend, shop.Print}

// TestHeapsAreDrawnWell draws lots of every class from a crumb to a sack and
// reads the drawing back: it must be well-formed, hold to its bounds and be the
// same each time.
func TestHeapsAreDrawnWell(t *testing.T) {
	t.Parallel()
	for _, class := range classes {
		for _, mass := range []float64{0, 1e-4, 0.03, 1, 40, 1e4} {
			for _, grain := range []float64{0, 1e-5, 0.003, 0.3} {
				l := &shop.Lot{ID: "S1", Class: class, Mass: mass, Colour: "dark blue"}
				a := string(Heap(l, grain, ColourOf(l.RGB, l.Colour), mass > 1))
				if a != string(Heap(l, grain, ColourOf(l.RGB, l.Colour), mass > 1)) {
					t.Errorf("%s of %g kg looks different the second time", class, mass)
				}
				n := 0
				for dec := xml.NewDecoder(strings.NewReader(a)); ; n++ {
					if _, err := dec.Token(); err == io.EOF {
						break
					} else if err != nil {
						t.Fatalf("%s of %g kg: %v", class, mass, err)
					}
				}
				if mass > 0 && n < 5 || n > 5000 || len(a) > 60_000 || strings.Contains(a, "NaN") || strings.Contains(a, "Inf") {
					t.Errorf("%s of %g kg with grains of %g m: %d parts, %d bytes", class, mass, grain, n, len(a))
				}
			}
		}
	}
}

func TestColourWords(t *testing.T) {
	t.Parallel()
	if c := ColourOf("#ff8800", "black"); c.String() != "#ff8800" {
		t.Errorf("a picked colour is drawn as %s", c)
	}
	dark, plain := ColourOf("", "dark green"), ColourOf("", "Green")
	if dark.G >= plain.G {
		t.Errorf("dark green %s is not darker than green %s", dark, plain)
	}
	for _, odd := range []string{"", "sparkling", "#12", "#zzzzzz"} {
		if c := ColourOf(odd, odd); c != NoColour {
			t.Errorf("%q is drawn as %s", odd, c)
		}
	}
}
