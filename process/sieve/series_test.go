// The tables of openings held against what every such table must keep.

package sieve

import (
	"encoding/csv"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestSeriesReads(t *testing.T) {
	t.Parallel()
	all, err := table()
	if err != nil || len(all) != 15+29+43+30 {
		t.Fatalf("%d sieves, %v", len(all), err)
	}
	lines, err := csv.NewReader(strings.NewReader(seriesText)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"standard", "designation", "opening_mm", "source", "place", "mark"}; !slices.Equal(lines[0], want) {
		t.Errorf("the header is %q", lines[0])
	}
	for i, f := range lines[1:] {
		if f[3] == "" || f[4] == "" || f[5] == "" {
			t.Errorf("line %d has no source, place or mark", i+2)
		}
	}
}

// Openings fall, in the steps of the standard's rounding, and keep near the
// preferred numbers they round. The table itself is never made by formula.
func TestSeriesKeepTheirSteps(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		s           Standard
		exponent    float64
		least, most float64
	}{
		{R20x3, 3.0 / 20, 1.388, 1.4401}, {R40x3, 3.0 / 40, 1.176, 1.2143}, {R20, 1.0 / 20, 1.111, 1.143},
	} {
		all := Openings(c.s)
		for i, one := range all {
			steps := math.Log10(one.Opening/1e-3) / c.exponent
			if off := math.Abs(math.Pow(10, c.exponent*(steps-math.Round(steps))) - 1); off > 0.0127 {
				t.Errorf("%s: %s is %.2f %% off its preferred number", c.s, one.Designation, 100*off)
			}
			if i == 0 {
				continue
			}
			if r := all[i-1].Opening / one.Opening; r < c.least || r > c.most {
				t.Errorf("%s: step %g at %s", c.s, r, one.Designation)
			}
		}
	}
	numbered := Openings(ASTME11)
	for i := 1; i < len(numbered); i++ {
		if r := numbered[i-1].Opening / numbered[i].Opening; r < 1.05 || r > 1.25 {
			t.Errorf("%s: step %g at %s", ASTME11, r, numbered[i].Designation)
		}
	}
}

// R 20/3 is part of both supplementary series, which meet only there; the
// numbered sieves are R 40/3 and 6.3 mm.
func TestSeriesContainOneAnother(t *testing.T) {
	t.Parallel()
	sizes := func(s Standard) map[float64]bool {
		m := map[float64]bool{}
		for _, one := range Openings(s) {
			m[one.Opening] = true
		}
		return m
	}
	main, third, twenty, numbered := sizes(R20x3), sizes(R40x3), sizes(R20), sizes(ASTME11)
	for x := range main {
		if !third[x] || !twenty[x] {
			t.Errorf("%g m is not in both supplementary series", x)
		}
	}
	for x := range third {
		if twenty[x] && !main[x] {
			t.Errorf("%g m is in both supplementary series only", x)
		}
		if !numbered[x] {
			t.Errorf("%g m has no number", x)
		}
	}
	if len(numbered) != len(third)+1 || !numbered[6.3e-3] || third[6.3e-3] {
		t.Errorf("%d numbered sieves", len(numbered))
	}
}

func TestEveryDesignationFindsItsSieve(t *testing.T) {
	t.Parallel()
	all, err := table()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range all {
		for _, text := range []string{want.Designation, " " + strings.ToUpper(want.Designation) + " ", strings.ReplaceAll(want.Designation, " ", "")} {
			got, err := ByDesignation(text)
			if err != nil || got.Opening != want.Opening {
				t.Errorf("%q: %g m, %v", text, got.Opening, err)
			}
		}
	}
	if s, err := ByDesignation("850 µm"); err != nil || s.Opening != 850e-6 || s.Form != Woven {
		t.Errorf("850 µm: %+v, %v", s, err)
	}
}

func TestUnknownDesignationsNameNeighbours(t *testing.T) {
	t.Parallel()
	_, err := ByDesignation("1.9 mm")
	var refused *EntryError
	if !errors.As(err, &refused) || refused.Code != UnknownSieve {
		t.Fatalf("got %v", err)
	}
	if !strings.Contains(refused.Hint, "2.00 mm and 1.80 mm") {
		t.Errorf("hint %q", refused.Hint)
	}
	if got := Openings("Tyler"); got != nil {
		t.Errorf("a series nobody has: %v", got)
	}
	if _, err := Own(2e-3, "net"); err == nil {
		t.Error("a form nobody has is taken")
	}
}

func FuzzByDesignation(f *testing.F) {
	for _, text := range []string{"2 mm", "No. 10", "#10", "1/4 in", "500 µm", "1e400 mm", "NaN mm", "-1 mm", "no", ""} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ByDesignation(text)
		if err == nil && !(s.Opening > 0 && s.Opening < 1) {
			t.Fatalf("%q: %+v", text, s)
		}
	})
}

// Sieves of one's own are called by their opening, and a length finds its sieve in either unit.
func TestSievesAreCalledByTheirOpening(t *testing.T) {
	t.Parallel()
	for opening, want := range map[float64]string{1e-3: "1 mm", 0.999e-3: "999 µm", 1.234e-3: "1.234 mm", 0.0125: "12.5 mm", 63e-6: "63 µm", 0.125: "125 mm", 20e-6: "20 µm"} {
		if one, err := Own(opening, Woven); err != nil || one.Designation != want {
			t.Errorf("%g m is called %q, wanted %q (%v)", opening, one.Designation, want, err)
		}
	}
	for text, want := range map[string]float64{"0.5 mm": 0.5e-3, "500 um": 0.5e-3, "2000 µm": 2e-3, "2 mm": 2e-3, "no 10": 2e-3, "#10": 2e-3, "1/4 in": 6.3e-3, "1/4\"": 6.3e-3} {
		if one, err := ByDesignation(text); err != nil || one.Opening != want {
			t.Errorf("%q is %+v, wanted %g (%v)", text, one, want, err)
		}
	}
	for _, text := range []string{"0 mm", "-2 mm", "2", "10 mesh", "Inf mm", ""} {
		if one, err := ByDesignation(text); err == nil {
			t.Errorf("%q is %+v", text, one)
		}
	}
}
