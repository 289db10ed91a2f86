package quantity

import (
	"math/big"
	"strconv"
	"strings"
)

// maxExponent bounds the power of ten that is worked out exactly; a float64
// ends near 10^±308, so nothing legible is lost.
const maxExponent = 400

// scanNumber reads the number at the start of plain text and returns it exactly
// with what follows. why is "" when it was read, else what was wrong with part.
func scanNumber(text string) (value *big.Rat, rest, part string, why Fault) {
	sign, i := "", 0
	if strings.HasPrefix(text, "-") || strings.HasPrefix(text, "+") {
		sign, i = text[:1], 1
		for i < len(text) && text[i] == ' ' {
			i++
		}
	}
	start := i
	for i < len(text) && strings.IndexByte("0123456789.,'_", text[i]) >= 0 {
		i++
	}
	mantissa := text[start:i]
	if strings.Trim(mantissa, ".,'_") == "" {
		return nil, text, text, noNumber
	}
	exponent, n := scanExponent(text[i:])
	part = text[:i+n]
	if exponent > maxExponent || exponent < -maxExponent {
		return nil, text, part, powerOfTen
	}
	digits, why := decimal(mantissa)
	if why != "" {
		return nil, text, part, why
	}
	value, ok := new(big.Rat).SetString(sign + digits + "e" + strconv.Itoa(exponent))
	if !ok {
		return nil, text, part, notNumber
	}
	return value, text[i+n:], part, ""
}

// scanExponent reads "e-3" at the start of text and returns its length; an "e"
// that no digit follows belongs to a unit.
func scanExponent(text string) (exponent, length int) {
	if text == "" || (text[0] != 'e' && text[0] != 'E') {
		return 0, 0
	}
	i := 1
	if i < len(text) && (text[i] == '-' || text[i] == '+') {
		i++
	}
	start := i
	for i < len(text) && text[i] >= '0' && text[i] <= '9' {
		i++
	}
	if i == start {
		return 0, 0
	}
	exponent, err := strconv.Atoi(text[1:i])
	if err != nil {
		return maxExponent + 1, i // more digits than an int holds
	}
	return exponent, i
}

// decimal turns a mantissa with decimal point or comma into one with a point.
// Signs that group thousands are refused because they mean a thousandfold
// difference from one country to the next.
func decimal(mantissa string) (digits string, why Fault) {
	if strings.ContainsAny(mantissa, "'_") || strings.Count(mantissa, ".")+strings.Count(mantissa, ",") > 1 {
		return "", whichComma
	}
	whole, part, comma := strings.Cut(mantissa, ",")
	if !comma {
		return mantissa, ""
	}
	if part == "" {
		return "", commaEnds
	}
	if len(part) == 3 && whole != "" && len(whole) <= 3 && whole[0] != '0' {
		return "", commaOpen
	}
	return whole + "." + part, ""
}
