package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// typedDigits are more than any instrument shows and hide the last bit of a
// conversion.
const typedDigits = 10

// Typed writes an SI value the way a person would type it into a field with that
// unit printed beside it: a bare number, and for a time that is no short number
// of minutes or hours the clock's way, "3:29" beside min. ParseOr with the unit
// reads it back.
func (k Kind) Typed(si float64, unit string) string {
	n, err := k.In(si, unit)
	if err != nil {
		return k.Exact(si)
	}
	n = roundTo(n, typedDigits)
	if k == Duration && (unit == "min" || unit == "h") && n != roundPlaces(n, 2) {
		return clock(si, unit)
	}
	if n != 0 && math.Abs(n) < 1e-6 {
		return strconv.FormatFloat(n, 'g', -1, 64)
	}
	return strconv.FormatFloat(n, 'f', -1, 64)
}

// clock writes a time with colons, to the millisecond: "3:29" of minutes, "1:15"
// or "1:15:30" of hours.
func clock(si float64, unit string) string {
	sign := ""
	if si < 0 {
		sign = "-"
	}
	ms := int64(math.Round(math.Abs(si) * 1000))
	s := fmt.Sprintf("%02d", ms/1000%60)
	if part := ms % 1000; part != 0 {
		s += "." + strings.TrimRight(fmt.Sprintf("%03d", part), "0")
	}
	switch {
	case unit == "min":
		return fmt.Sprintf("%s%d:%s", sign, ms/60000, s)
	case s == "00":
		return fmt.Sprintf("%s%d:%02d", sign, ms/3600000, ms/60000%60)
	}
	return fmt.Sprintf("%s%d:%02d:%s", sign, ms/3600000, ms/60000%60, s)
}

// fineDigits tell two numbers apart that look alike with three.
const fineDigits = 7

// Fine renders an SI value as [Kind.Plain] does, with digits enough to see that it
// lies just beyond a bound.
func (k Kind) Fine(si float64) string {
	switch e := k.suit(si, fineDigits); k {
	case Temperature, SoundLevel:
		return k.withUnit(trimZeros(fixed(e.from(si), 4)), e)
	case Duration:
		return trimZeros(fixed(si, 3)) + " s"
	}
	return decimals.ReplaceAllStringFunc(k.render(si, fineDigits), trimZeros)
}
