// Test sieves: standard series by designation, and sieves of one's own.

package sieve

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"hopperful/process"
	"hopperful/source/rows"
)

// Standard names a series of openings.
type Standard string

// The series of series.csv. R 20/3 is the principal series of ISO 565, the
// other two supplement it; the ASTM E11 sieves go by number or inches.
const (
	R20x3   Standard = "ISO R20/3"
	R40x3   Standard = "ISO R40/3"
	R20     Standard = "ISO R20"
	ASTME11 Standard = "ASTM E11"
	NoOne   Standard = "" // a sieve of one's own
)

// Form is what the sieving surface is made of. A round hole holds back what a
// square one of the same width lets through at its corners, so stacks of both
// do not compare.
type Form string

// The forms.
const (
	Woven       Form = "woven wire"
	PlateRound  Form = "plate, round holes"
	PlateSquare Form = "plate, square holes"
)

// Sieve is one test sieve.
type Sieve struct {
	Opening     float64 // width of a square, diameter of a round hole [m]
	Form        Form
	Designation string   // "1.40 mm", "No. 14", or the opening of one's own
	Standard    Standard // NoOne for a sieve of one's own
}

//go:embed series.csv
var seriesText string

// table holds the sieves of series.csv, coarsest first in each standard.
var table = sync.OnceValues(readSeries)

func readSeries() ([]Sieve, error) {
	var all []Sieve
	err := rows.Each("series.csv", "standard,designation,opening_mm,source,place,mark", strings.NewReader(seriesText), func(f []string) error {
		// The exponent is appended to the standard's own digits, so that 0.850 mm is exactly the double nearest 850 µm.
		opening, err := strconv.ParseFloat(f[2]+"e-3", 64)
		if err != nil || f[3] == "" {
			return fmt.Errorf("%q: no opening or no source", f[1])
		}
		all = append(all, Sieve{opening, Woven, f[1], Standard(f[0])})
		return nil
	})
	return all, err
}

// Openings returns all sieves of a series between 8 mm and 63 µm, coarsest
// first. A name that is no series gives none.
func Openings(s Standard) []Sieve {
	all, _ := table() // embedded; a test holds that it reads
	var out []Sieve
	for _, one := range all {
		if one.Standard == s {
			out = append(out, one)
		}
	}
	return out
}

// ByDesignation finds a standard sieve by what is stamped on it: "2 mm", "500 µm",
// "No. 10", "#10", "1/4 in". A bare number is refused because it may mean
// either, and so is "10 mesh", which is another scale. Of equal openings the
// principal ISO series comes first.
//
// Source: Fluids2026 (the values of series.csv).
// Errors: *EntryError for a designation that is in no series, with its
// neighbours.
// Checks: ByDesignation rows of checks.csv (published).
func ByDesignation(text string) (Sieve, error) {
	all, err := table()
	if err != nil {
		return Sieve{}, err
	}
	word, opening := normalise(text)
	for _, s := range all {
		if known, _ := normalise(s.Designation); known == word || opening > 0 && s.Opening == opening {
			return s, nil
		}
	}
	hint := "write it as stamped, such as 2 mm, 500 µm, No. 10 or 1/4 in, or enter its hole size as a sieve of your own"
	if opening > 0 {
		hint = fmt.Sprintf("the nearest standard sieves are %s; or enter it as a sieve of your own", neighbours(all, opening))
	}
	return Sieve{}, &EntryError{Code: UnknownSieve, What: fmt.Sprintf("%q is no sieve of ISO 565 or ASTM E11 between 8 mm and 63 µm", text), Hint: hint}
}

// normalise brings the spellings of a designation together; a length in mm or
// µm is also returned in metres.
func normalise(text string) (string, float64) {
	s := strings.ToLower(strings.Join(strings.Fields(text), ""))
	s = strings.NewReplacer("μ", "µ", "um", "µm", "\"", "in", "#", "no.", "1/2", ".5").Replace(s)
	if strings.HasPrefix(s, "no") && !strings.HasPrefix(s, "no.") {
		s = "no." + s[2:]
	}
	for unit, exponent := range map[string]string{"mm": "e-3", "µm": "e-6"} {
		if number, ok := strings.CutSuffix(s, unit); ok {
			if v, err := strconv.ParseFloat(number+exponent, 64); err == nil && v > 0 && !math.IsInf(v, 0) {
				return s, v
			}
		}
	}
	return s, 0
}

// neighbours names the standard openings around one.
func neighbours(all []Sieve, opening float64) string {
	near := slices.Clone(all)
	away := func(s Sieve) float64 { return math.Abs(math.Log(s.Opening / opening)) }
	slices.SortStableFunc(near, func(a, b Sieve) int {
		switch {
		case away(a) < away(b):
			return -1
		case away(a) > away(b):
			return 1
		}
		return 0
	})
	first := near[0]
	for _, s := range near {
		if s.Opening != first.Opening {
			return first.Designation + " and " + s.Designation
		}
	}
	return first.Designation
}

// Own returns a sieve of one's own by the size of its holes.
//
//	opening  width of a square or diameter of a round hole [m], 20 µm to 125 mm
//	form     what the surface is made of
//
// Equation: none; the opening is taken as given.
// Holds for: any sieve whose holes are of one size.
// Source: own derivation; the range is the span of test sieves (from memory).
// Errors: RangeError for an opening out of range, *EntryError for an unknown form.
// Checks: Own rows of checks.csv (1 own derivation, 1 refusal).
func Own(opening float64, form Form) (Sieve, error) {
	if err := process.Within("hole size", opening, 20e-6, 0.125, "m", "from memory"); err != nil {
		return Sieve{}, err
	}
	if form != Woven && form != PlateRound && form != PlateSquare {
		return Sieve{}, &EntryError{Code: UnknownSieve, What: fmt.Sprintf("%q is no form of sieve", form),
			Hint: fmt.Sprintf("say %q, %q or %q", Woven, PlateRound, PlateSquare)}
	}
	return Sieve{Opening: opening, Form: form, Designation: name(opening)}, nil
}

// name writes an opening for a person.
func name(x float64) string {
	if x >= 1e-3 {
		return strconv.FormatFloat(x*1e3, 'g', 4, 64) + " mm"
	}
	return strconv.FormatFloat(x*1e6, 'g', 4, 64) + " µm"
}
