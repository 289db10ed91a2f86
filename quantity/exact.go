package quantity

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Exact prints an SI value so that Parse gives back the same float64, in the SI
// unit; shares and humidities are in percent. A number that is not finite
// prints as "not a number" or "infinite", which Parse refuses.
func (k Kind) Exact(si float64) string {
	switch {
	case math.IsNaN(si):
		return "not a number"
	case math.IsInf(si, 0):
		return "infinite"
	}
	text := strconv.FormatFloat(si, 'g', -1, 64)
	switch k {
	case Share:
		return hundredfold(text) + " %"
	case Humidity:
		return hundredfold(text) + " %RH"
	}
	return strings.TrimSpace(text + " " + k.SI())
}

// hundredfold shifts the decimal point of a printed number by two places, which
// loses nothing, where multiplying a float64 by 100 might.
func hundredfold(text string) string {
	mantissa, exponent, _ := strings.Cut(text, "e")
	e, _ := strconv.Atoi("0" + strings.TrimPrefix(strings.TrimPrefix(exponent, "+"), "-"))
	if strings.HasPrefix(exponent, "-") {
		e = -e
	}
	v, ok := new(big.Rat).SetString(mantissa + "e" + strconv.Itoa(e+2))
	if !ok {
		return mantissa + "e" + strconv.Itoa(e+2)
	}
	digits := len(mantissa) // no more decimals than this if the exponent is small
	if e+2 >= -6 && e+2 <= 15 {
		out := v.FloatString(digits + 6)
		return strings.TrimSuffix(strings.TrimRight(out, "0"), ".")
	}
	return mantissa + "e" + strconv.Itoa(e+2)
}

// In converts an SI value of this kind into a unit it may be written in.
func (k Kind) In(si float64, unit string) (float64, error) {
	if unit == "" && len(k.Units()) == 0 {
		return si, nil
	}
	e, ok := units.find(k, unit)
	if !ok {
		return 0, k.unknownUnit(unit, unit)
	}
	v := new(big.Rat).SetFloat64(si)
	if v == nil {
		return 0, k.refuse(k.Exact(si), "", notFinite)
	}
	v.Quo(v, e.factor)
	out, _ := v.Sub(v, e.shift).Float64()
	if math.IsInf(out, 0) {
		return 0, k.refuse(k.Exact(si), "", tooLarge)
	}
	return out, nil
}
