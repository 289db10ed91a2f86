package colour

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestPortionsRead(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text    string
		codes   string
		weights []float64
	}{
		{"#1c1c1c 40, #f2f2ee 30, #c0402a 30", "#1c1c1c #f2f2ee #c0402a", []float64{40, 30, 30}},
		{"#1C1C1C 40 %\n#f2f2ee: 60%", "#1c1c1c #f2f2ee", []float64{40, 60}},
		{"#1c1c1c 12,5; #f2f2ee 87,5", "#1c1c1c #f2f2ee", []float64{12.5, 87.5}},
		{"#1c1c1c 300 g, #f2f2ee 1.2 kg", "#1c1c1c #f2f2ee", []float64{0.3, 1.2}},
		{"#1c1c1c, #f2f2ee,", "#1c1c1c #f2f2ee", []float64{1, 1}},
		{"#1c1c1c #f2f2ee", "#1c1c1c #f2f2ee", []float64{1, 1}},
		{" #1c1c1c=0,\r\n#f2f2ee=2", "#1c1c1c #f2f2ee", []float64{0, 2}},
	} {
		list, err := ParsePortions(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		codes := make([]string, len(list))
		for i, p := range list {
			codes[i], _ = p.Colour.Hex()
			if math.Abs(p.Weight-c.weights[i]) > 1e-12 {
				t.Errorf("%q: weight %g, want %g", c.text, p.Weight, c.weights[i])
			}
		}
		if got := strings.Join(codes, " "); got != c.codes {
			t.Errorf("%q: %s, want %s", c.text, got, c.codes)
		}
	}
}

// A list of 4000 letters is read, one of 4001 is not, and so it is with 24 colours and 25; a weight up to a thousand million.
func TestPortionsAtTheEdge(t *testing.T) {
	t.Parallel()
	for text, says := range map[string]string{
		"#1c1c1c" + strings.Repeat(" ", 3993): "", "#1c1c1c" + strings.Repeat(" ", 3994): "too long", strings.Repeat("#1c1c1c ", 24): "", strings.Repeat("#1c1c1c ", 25): "too many",
		"#1c1c1c 1000000000": "", "#1c1c1c 1000000001": "weight beyond", "#1c1c1c 0, #f2f2ee 1": "",
	} {
		_, err := ParsePortions(text)
		if (err == nil) != (says == "") || err != nil && !strings.Contains(err.Error(), says) {
			t.Errorf("%.30q of %d letters: %v, wanted %q", text, len(text), err, says)
		}
	}
}

func TestPortionsSayWhereTheyAreWrong(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		entry int
		says  string
	}{
		{"", 0, "empty"},
		{"black 40", 1, "no sign"},
		{"#1c1c1c 40, #f2f2e 30", 2, "no code"},
		{"#1c1c1c 40, #f2f2ee", 2, "mixed weights"},
		{"#1c1c1c 40 g, #f2f2ee 30 %", 2, "mixed weights"},
		{"#1c1c1c much", 1, "no weight"},
		{"#1c1c1c -3", 1, "weight beyond"},
		{"#1c1c1c40", 1, "no blank"},
		{"#1c1c1c 0, #f2f2ee 0", 0, "all nothing"},
		{"#1c1c1c 1e300", 1, "weight beyond"},
		{strings.Repeat("#1c1c1c 1,", MostPortions+1), 0, "too many"},
		{strings.Repeat("#1c1c1c 1,", 1000), 0, "too long"},
	} {
		_, err := ParsePortions(c.text)
		var wrong *PortionError
		if !errors.As(err, &wrong) || wrong.Entry != c.entry || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%.40q: %v, want entry %d and %q", c.text, err, c.entry, c.says)
		}
	}
}

func FuzzParsePortions(f *testing.F) {
	for _, text := range []string{"#1c1c1c 40, #f2f2ee 60", "#1c1c1c 40 %\n#f2f2ee: 60%", "#1c1c1c 12,5; #f2f2ee 87,5", "#1c1c1c 300 g", "#1c1c1c", "# # #", "#ééé 4"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		list, err := ParsePortions(text)
		if err != nil {
			var wrong *PortionError
			if !errors.As(err, &wrong) || list != nil || len(err.Error()) > 400 {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		if len(list) == 0 || len(list) > MostPortions {
			t.Fatalf("%q: %d colours", text, len(list))
		}
		again, err := ParsePortions(Portions(list).String())
		if err != nil || len(again) != len(list) {
			t.Fatalf("%q shown as %q: %v", text, Portions(list).String(), err)
		}
		for i, p := range list {
			if again[i].Colour != p.Colour || math.Abs(again[i].Weight-p.Weight) > 1e-5*p.Weight {
				t.Fatalf("%q: %v became %v", text, p, again[i])
			}
		}
	})
}

// Doubt of the scattering widens the range and moves no middle; counting does not
// take it away.
func TestDoubtOfScatteringWidensTheForecast(t *testing.T) {
	t.Parallel()
	white, _ := Flat(0.8)
	black, _ := Flat(0.05)
	wide := func(doubt float64) Band {
		o, err := Forecast(Heap{Parts: []Scrap{{white, 1, 0.7, doubt}, {black, 1, 0.3, doubt}}, Surface: PhotoSurface(), Counted: 1e5, Draws: 2000}, rand.New(rand.NewPCG(4, 4)))
		if err != nil {
			t.Fatal(err)
		}
		return o.Lightness
	}
	sure, doubted := wide(0), wide(0.5)
	if sure.High-sure.Low > 0.5 || doubted.High-doubted.Low < 5 || math.Abs(sure.Median-doubted.Median) > 0.5 {
		t.Errorf("%v without doubt, %v with", sure, doubted)
	}
	if _, err := Forecast(Heap{Parts: []Scrap{{white, 1, 1, -1}}, Counted: 10, Draws: 20}, rand.New(rand.NewPCG(4, 4))); err == nil {
		t.Error("a doubt below 0 is taken")
	}
}

// Weights are written to six figures.
func TestPortionsAreWrittenToSixFigures(t *testing.T) {
	t.Parallel()
	for weight, want := range map[float64]string{40: "40", 0.1234567: "0.123457", 1234567: "1.23457e+06", 0.5: "0.5"} {
		if got := (Portions{{Colour: RGB{1, 1, 1}, Weight: weight}}).String(); got != "#ffffff "+want {
			t.Errorf("%q, wanted %q", got, "#ffffff "+want)
		}
	}
}

// Of ten draws a tenth lies below the second and nine tenths below the tenth; the ends are the least and the greatest.
func TestQuantilesOfDraws(t *testing.T) {
	t.Parallel()
	for share, want := range map[float64]float64{0: 1, 0.09: 1, 0.1: 2, 0.5: 6, 0.9: 10, 1: 10} {
		if got := quantile([]float64{10, 9, 8, 7, 6, 5, 4, 3, 2, 1}, share); got != want {
			t.Errorf("the quantile of %g is %g, by hand %g", share, got, want)
		}
	}
}
