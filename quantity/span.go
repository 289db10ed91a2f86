package quantity

import (
	"math"
	"strings"
)

// Span renders a forecast's range in one unit, with as many digits as it takes
// to tell the ends apart: "1.1–1.4 kg", "3 min 20 s to 4 min 10 s". Ends that
// look the same with four digits are shown as one value.
func (k Kind) Span(low, high float64) string {
	if !finite(low) || !finite(high) {
		return k.Exact(low) + " to " + k.Exact(high)
	}
	for digits := roughDigits; ; digits++ {
		a, b, unit := k.ends(low, high, digits)
		if a == b && digits > showDigits {
			return k.Show(high)
		}
		switch {
		case a == b:
			continue
		case k == Duration || strings.HasPrefix(a, "-") || strings.HasPrefix(b, "-"):
			return strings.TrimSpace(a + " to " + b + " " + unit)
		}
		return strings.TrimSpace(a + "–" + b + " " + unit)
	}
}

// ends prints both ends in the unit that suits the larger one and with the same
// number of decimals.
func (k Kind) ends(low, high float64, digits int) (a, b, unit string) {
	if k == Duration {
		return showDuration(low, min(digits, showDigits)), showDuration(high, min(digits, showDigits)), ""
	}
	large := high
	if math.Abs(low) > math.Abs(high) {
		large = low
	}
	e, x, y := k.suit(large, digits), low, high
	if e != nil {
		x, y = e.from(low), e.from(high)
		if e.symbol != "1" {
			unit = e.symbol
		}
	}
	top := math.Max(math.Abs(x), math.Abs(y))
	d := decade(top, digits)
	switch {
	case k == Count:
		return fixed(x, 0), fixed(y, 0), unit
	case k == Temperature || k == SoundLevel:
		return fixed(x, digits-roughDigits), fixed(y, digits-roughDigits), unit
	case d >= 7 || d < -4:
		return significant(x, digits), significant(y, digits), unit
	}
	decimals := max(0, digits-1-d)
	if k == Money && decimals == 1 {
		decimals = 2 // cents, never tenths
	}
	if decimals > 0 {
		return fixed(x, decimals), fixed(y, decimals), unit
	}
	step := math.Pow(10, float64(d-digits+1))
	return fixed(math.Round(x/step)*step, 0), fixed(math.Round(y/step)*step, 0), unit
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Comma swaps the decimal points of a shown quantity for commas: "1,24 kg".
func Comma(shown string) string {
	out := []byte(shown)
	for i := 1; i+1 < len(out); i++ {
		if out[i] == '.' && isDigit(out[i-1]) && isDigit(out[i+1]) {
			out[i] = ','
		}
	}
	return string(out)
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
