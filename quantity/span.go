package quantity

import (
	"math"
	"strings"
)

// Span renders a forecast's range in one unit, with two digits or as many more
// as it takes not to hide its width: "1.1–1.4 kg", "3 min 20 s to 4 min 10 s".
// Ends that look the same with four digits are shown as one value.
func (k Kind) Span(low, high float64) string {
	if !finite(low) || !finite(high) {
		return k.Exact(low) + " to " + k.Exact(high)
	}
	for digits := roughDigits; digits <= showDigits+1; digits++ {
		e := k.ends(low, high, digits)
		switch {
		case e.low == e.high || e.coarse && digits <= showDigits:
			continue
		case k == Duration || strings.Contains(e.low+e.high, "-"):
			return strings.TrimSpace(e.low + " to " + e.high + " " + e.unit)
		}
		return strings.TrimSpace(e.low + "–" + e.high + " " + e.unit)
	}
	return k.Show(high)
}

// ends are the printed ends of a range.
type ends struct {
	low, high, unit string
	coarse          bool // a step of the last digit is more than the whole range
}

// ends prints both ends in the unit that suits the larger one and with the same
// number of decimals.
func (k Kind) ends(low, high float64, digits int) ends {
	if k == Duration {
		digits = min(digits, showDigits)
		return ends{showDuration(low, digits), showDuration(high, digits), "", false}
	}
	large := high
	if math.Abs(low) > math.Abs(high) {
		large = low
	}
	x, y, unit := low, high, ""
	if e := k.suit(large, digits); e != nil {
		x, y = e.from(low), e.from(high)
		if e.symbol != "1" {
			unit = e.symbol
		}
	}
	d := decade(math.Max(math.Abs(x), math.Abs(y)), digits)
	decimals := digits - 1 - d // of the last digit printed; negative: tens, hundreds
	switch {
	case k == Count:
		return ends{fixed(x, 0), fixed(y, 0), unit, false}
	case k == Temperature || k == SoundLevel:
		decimals = digits - roughDigits
	case k == Money && decimals == 1:
		decimals = 2 // cents, never tenths
	}
	step := math.Pow(10, float64(-decimals))
	coarse := step > (y-x)*(1+1e-9) // 1.4 − 1.3 is a little less than 0.1
	switch {
	case d >= 7 || d < -4:
		return ends{significant(x, digits), significant(y, digits), unit, coarse}
	case decimals < 0:
		return ends{fixed(math.Round(x/step)*step, 0), fixed(math.Round(y/step)*step, 0), unit, coarse}
	}
	return ends{fixed(x, decimals), fixed(y, decimals), unit, coarse}
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

// Minus swaps the hyphens that stand for a minus in a shown quantity, before a number and
// in a power of ten, for the sign itself, which Parse reads too: "−18.0 °C", "1.2e−05 %".
func Minus(shown string) string {
	var out strings.Builder
	for i := range len(shown) {
		if shown[i] == '-' && i+1 < len(shown) && isDigit(shown[i+1]) && signs(shown[:i]) {
			out.WriteString("−")
			continue
		}
		out.WriteByte(shown[i])
	}
	return out.String()
}

// signs reports whether a hyphen behind that text is a minus: it begins a number or the
// exponent of one, and is part of no name, date or range.
func signs(before string) bool {
	n := len(before)
	switch {
	case n == 0 || before[n-1] == ' ' || before[n-1] == '(':
		return true
	case n > 1 && before[n-1] == 'e':
		return isDigit(before[n-2])
	}
	return false
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
