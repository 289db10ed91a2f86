package quantity

import (
	"math"
	"strconv"
	"strings"
)

// The digits of the two ways to show a number.
const (
	showDigits  = 3 // measured and entered values
	roughDigits = 2 // forecasts, whose third digit means nothing
)

// Show renders an SI value in the workshop unit that suits its size, with three
// significant digits: "1.24 kg", "3 min 20 s", "18.0 °C". Parse reads it back.
func (k Kind) Show(si float64) string { return k.render(si, showDigits) }

// Rough renders a forecast: like Show with two significant digits.
func (k Kind) Rough(si float64) string { return k.render(si, roughDigits) }

func (k Kind) render(si float64, digits int) string {
	switch {
	case math.IsNaN(si) || math.IsInf(si, 0):
		return k.Exact(si)
	case k == Duration:
		return showDuration(si, digits)
	}
	e := k.suit(si, digits)
	v := si
	if e != nil {
		v = e.from(si)
	}
	return k.withUnit(k.number(v, digits), e)
}

// withUnit puts the unit behind a printed number.
func (k Kind) withUnit(number string, e *entry) string {
	if e == nil || e.symbol == "1" {
		return number
	}
	return number + " " + e.symbol
}

// number prints a value, already in the unit shown, by the kind's habit.
func (k Kind) number(v float64, digits int) string {
	switch k {
	case Count:
		return fixed(v, 0)
	case Temperature, SoundLevel:
		// Scales with a zero of convention: digits after the point, not digits
		// of the number, say how well it is known.
		if digits == roughDigits || math.Abs(roundPlaces(v, 1)) >= 100 {
			return fixed(v, 0)
		}
		return fixed(v, 1)
	case Money, MoneyPerEnergy, MoneyPerMass:
		return money(v, digits)
	case Number, Share, Humidity:
		return trimZeros(significant(v, digits))
	}
	return significant(v, digits)
}

// money prints cents, except for prices below a tenth, where cents say too
// little, and for rough sums, where they say too much.
func money(v float64, digits int) string {
	small := math.Abs(roundTo(v, digits)) < 0.1 && v != 0
	switch {
	case small:
		return significant(v, digits)
	case digits == roughDigits && math.Abs(roundTo(v, digits)) >= 10:
		return significant(v, digits)
	case digits == roughDigits:
		return fixed(roundTo(v, digits), 2)
	}
	return fixed(v, 2)
}

// significant prints v with so many significant digits, in powers of ten only
// where plain digits would be hard to count.
func significant(v float64, digits int) string {
	if v == 0 {
		return "0"
	}
	r, d := roundTo(v, digits), decade(v, digits)
	if d >= 7 || d < -4 {
		return strconv.FormatFloat(r, 'e', digits-1, 64)
	}
	return fixed(r, max(0, digits-1-d))
}

// fixed prints v with so many decimals and no minus before a zero.
func fixed(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// roundTo rounds to significant digits as decimal printing does.
func roundTo(v float64, digits int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	return r
}

// roundPlaces rounds to decimals as decimal printing does.
func roundPlaces(v float64, decimals int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	return r
}

// trimZeros drops the zeros that only fill up the decimals.
func trimZeros(text string) string {
	mantissa, exponent, powered := strings.Cut(text, "e")
	if strings.Contains(mantissa, ".") {
		mantissa = strings.TrimSuffix(strings.TrimRight(mantissa, "0"), ".")
	}
	if powered {
		return mantissa + "e" + exponent
	}
	return mantissa
}
