package web

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

func TestANumberKeepsItsUnit(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"Grind 9 charges of 180 g; done.": "Grind 9 charges of 180\u00a0g; done.", "at 58 °C.": "at 58\u00a0°C.", "3 min 20 s": "3\u00a0min 20\u00a0s", "": "",
	} {
		if got := together(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

func TestAFigureIsSplitAndBarred(t *testing.T) {
	t.Parallel()
	for shown, want := range map[string][2]string{"1.24 kg": {"1.24", "kg"}, "3 min 20 s": {"3 min 20 s", ""}, "7 g/10 min": {"7 g/10 min", ""}, "58 °C": {"58", "°C"}, "5": {"5", ""}, "−3 °C": {"−3", "°C"}} {
		if v, u := splitUnit(shown); v != want[0] || u != want[1] {
			t.Errorf("%q splits into %q and %q", shown, v, u)
		}
	}
	f := figure.Figure{Key: "t", Name: "temperature", Kind: quantity.Temperature, Value: 320, Low: 310, High: 330}
	f = f.Held(figure.Limit{Name: "softening", Value: 335, Side: figure.Below, Holds: 0.97})
	b := viewBar(f)
	if b == nil || !b.HasLimit || !(b.Lo < b.Mid && b.Mid < b.Lo+b.Width && b.Lo+b.Width < b.LimitAt && b.LimitAt < barWidth) {
		t.Errorf("the bar is out of order: %+v", b)
	}
	f.Limit.Value = 1000
	if viewBar(f).HasLimit {
		t.Error("a limit far away squeezes the range")
	}
	if viewBar(figure.Exact("m", "mass", quantity.Mass, 1, figure.Measured)) != nil {
		t.Error("a number without a range has a bar")
	}
}

// TestHeapsAreDrawnWell draws lots of every class from a crumb to a sack and
// reads the drawing back: it must be well-formed, hold to its bounds and be the
// same each time.
func TestHeapsAreDrawnWell(t *testing.T) {
	t.Parallel()
	for _, class := range anyLot {
		for _, mass := range []float64{0, 1e-4, 0.03, 1, 40, 1e4} {
			for _, grain := range []float64{0, 1e-5, 0.003, 0.3} {
				l := &shop.Lot{ID: "S1", Class: class, Mass: mass, Colour: "dark blue"}
				a := string(drawHeap(l, grain, colourOf(l.RGB, l.Colour), mass > 1))
				if a != string(drawHeap(l, grain, colourOf(l.RGB, l.Colour), mass > 1)) {
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
	if c := colourOf("#ff8800", "black"); c.String() != "#ff8800" {
		t.Errorf("a picked colour is drawn as %s", c)
	}
	dark, plain := colourOf("", "dark green"), colourOf("", "Green")
	if dark.g >= plain.g {
		t.Errorf("dark green %s is not darker than green %s", dark, plain)
	}
	for _, odd := range []string{"", "sparkling", "#12", "#zzzzzz"} {
		if c := colourOf(odd, odd); c != noColour {
			t.Errorf("%q is drawn as %s", odd, c)
		}
	}
}
