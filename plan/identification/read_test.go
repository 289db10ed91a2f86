package identification_test

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"hopperful/plan/identification"
	"hopperful/polymer/identify"
)

const zeroCelsius = 273.15

// Strengths read as the published tables say: OIML1973 and Wnt1974 at 20 °C,
// water of 15 °C as Tanaka2001 does.
func TestLiquidsAreReadByName(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]float64{
		"water=no": 998.21, "ethanol 40 %=yes": 935.15, "Brine 12%=no": 1085.7, "1.08 g/cm3=yes": 1080, "1080kg/m³=no": 1080,
		"brine 12% 20 °C=yes": 1085.7, "water 15°C=no": 999.10,
	} {
		f, err := identification.ReadFloat(text, zeroCelsius+20)
		if err != nil || math.Abs(f.At-want) > 0.05 || f.Yes != strings.HasSuffix(text, "yes") {
			t.Errorf("%s: %+v, %v; wanted %g", text, f, err, want)
		}
	}
}

// Whatever is typed is read within bounds or refused in a short sentence.
func readOrRefused(t interface{ Errorf(string, ...any) }, text string) {
	found, err := identification.ReadFloat(text, zeroCelsius+20)
	if err == nil && !(found.At >= 700 && found.At <= 1500) {
		t.Errorf("%q became a liquid of %g", text, found.At)
	}
	hot, err2 := identification.ReadSticks(text)
	if err2 == nil && !(hot.At >= zeroCelsius+40 && hot.At <= zeroCelsius+300) {
		t.Errorf("%q became metal of %g K", text, hot.At)
	}
	any, err3 := identification.ReadFinding(text)
	if _, err := identify.Books().Chances(any); err3 == nil && err != nil {
		t.Errorf("%q became a finding that is none: %v", text, err)
	}
	for _, e := range []error{err, err2, err3} {
		if e != nil && (e.Error() == "" || utf8.ValidString(text) && len(e.Error()) > 4*len(text)+400) {
			t.Errorf("%q gave %q", text, e)
		}
	}
}

func FuzzFindings(f *testing.F) {
	for _, seed := range []string{"water=no", "brine 12%=yes", "1.08g/cm3=yes", "120°C=no", "=", "a=b=yes", "ethanol -4%=no", "1e999 g/cm3=yes", "\xff=yes", "brine NaN%=no", "limp70=yes", "weighed 12g 10cm3 0.1g", "floats brine 12% 25°C=no", "sticks 120=no"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) { readOrRefused(t, text) })
}

// The same with words that look like a finding, which chance alone seldom makes.
func TestOddFindingsAreReadOrRefused(t *testing.T) {
	t.Parallel()
	part := rapid.SampledFrom([]string{"limp70", "floats ", "sticks ", "weighed ", "g ", "cm3 ", "water", "brine", "2-propanol", "ethanol", "sugar", " ", "12", "-3", "1e9", ".", "%", " %", "g/cm3", "kg/m³", "°C", "K", "=", "=yes", "=no", "NaN", "Inf", "é"})
	rapid.Check(t, func(r *rapid.T) {
		readOrRefused(r, strings.Join(rapid.SliceOfN(part, 0, 6).Draw(r, "parts"), "")+rapid.SampledFrom([]string{"", "=yes", "=no"}).Draw(r, "answer"))
	})
}

// What a test of the book is spelled as reads as that test again.
func TestTestsAreSpelledAsTheyAreRead(t *testing.T) {
	t.Parallel()
	for _, test := range identify.Books().Tests {
		for _, yes := range []bool{true, false} {
			want := identify.Finding{Test: test.Name, Yes: yes, At: test.At}
			got, err := identification.ReadFinding(identification.Spell(want))
			if err != nil || got.Test != want.Test || got.Yes != yes || math.Abs(got.At-want.At) > 1e-6 {
				t.Errorf("%s became %+v, %v", identification.Spell(want), got, err)
			}
		}
	}
}

func TestAWeighingIsRead(t *testing.T) {
	t.Parallel()
	f, err := identification.ReadFinding("weighed 12.2g 10cm3 0.1g")
	if err != nil || f.Test != identify.Weighed || math.Abs(f.At-1220) > 1e-6 || !(f.Within > 12 && f.Within < 13) {
		t.Errorf("%+v, %v", f, err)
	}
	for _, text := range []string{"weighed", "weighed 12g 10cm3", "weighed a b c", "weighed 12g 0cm3 0.1g", "flame=yes", "floats", "sticks hot=yes"} {
		if f, err := identification.ReadFinding(text); err == nil {
			t.Errorf("%q became %+v", text, f)
		}
	}
}
