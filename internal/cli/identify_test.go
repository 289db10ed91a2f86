package cli

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// Strengths read as the published tables say: OIML1973 and Wnt1974 at 20 °C.
func TestLiquidsAreReadByName(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]float64{
		"water=no": 998.21, "ethanol 40 %=yes": 935.15, "Brine 12%=no": 1085.7, "1.08 g/cm3=yes": 1080, "1080kg/m³=no": 1080,
	} {
		f, err := floated(text, zeroCelsius+20)
		if err != nil || math.Abs(f.At-want) > 0.05 || f.Yes != strings.HasSuffix(text, "yes") {
			t.Errorf("%s: %+v, %v; wanted %g", text, f, err, want)
		}
	}
}

// Whatever is typed is read within bounds or refused in a short sentence.
func readOrRefused(t interface{ Errorf(string, ...any) }, text string) {
	found, err := floated(text, zeroCelsius+20)
	if err == nil && !(found.At >= 700 && found.At <= 1500) {
		t.Errorf("%q became a liquid of %g", text, found.At)
	}
	hot, err2 := stuck(text)
	if err2 == nil && !(hot.At >= zeroCelsius+40 && hot.At <= zeroCelsius+300) {
		t.Errorf("%q became metal of %g K", text, hot.At)
	}
	for _, e := range []error{err, err2} {
		if e != nil && (e.Error() == "" || utf8.ValidString(text) && len(e.Error()) > 4*len(text)+400) {
			t.Errorf("%q gave %q", text, e)
		}
	}
}

func FuzzFindings(f *testing.F) {
	for _, seed := range []string{"water=no", "brine 12%=yes", "1.08g/cm3=yes", "120°C=no", "=", "a=b=yes", "ethanol -4%=no", "1e999 g/cm3=yes", "\xff=yes", "brine NaN%=no"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) { readOrRefused(t, text) })
}

// The same with words that look like a finding, which chance alone seldom makes.
func TestOddFindingsAreReadOrRefused(t *testing.T) {
	t.Parallel()
	part := rapid.SampledFrom([]string{"water", "brine", "2-propanol", "ethanol", "sugar", " ", "12", "-3", "1e9", ".", "%", " %", "g/cm3", "kg/m³", "°C", "K", "=", "=yes", "=no", "NaN", "Inf", "é"})
	rapid.Check(t, func(r *rapid.T) {
		readOrRefused(r, strings.Join(rapid.SliceOfN(part, 0, 6).Draw(r, "parts"), "")+rapid.SampledFrom([]string{"", "=yes", "=no"}).Draw(r, "answer"))
	})
}
