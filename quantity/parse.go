package quantity

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"unicode/utf8"
)

// MaxText is the longest text, in bytes, that is looked at; a quantity needs
// far less.
const MaxText = 100

// Parse reads a quantity of this kind, "240 g" or "3 min 20 s", into SI. The
// result is the float64 nearest to what is written, whatever the unit. An error
// is an [*Error].
func (k Kind) Parse(text string) (float64, error) { return k.ParseOr(text, "") }

// ParseOr reads like Parse but takes a bare number to be in the given unit, as
// in a form field with the unit printed beside it. A number with its own unit
// keeps it. An empty unit is none.
func (k Kind) ParseOr(text, unit string) (float64, error) {
	if _, ok := namings[k]; !ok {
		return 0, k.refuse(text, "", noKind)
	}
	if len(text) > MaxText {
		return 0, k.refuse(text, "", tooLong, strconv.Itoa(len(text)), strconv.Itoa(MaxText))
	}
	if !utf8.ValidString(text) {
		return 0, k.refuse(strings.ToValidUTF8(text, "?"), "", noText)
	}
	body := strings.TrimSpace(plain.Replace(text))
	if body == "" {
		return 0, k.refuse(text, "", empty)
	}
	value, err := k.read(text, body, unit)
	if err != nil {
		return 0, err
	}
	si, _ := value.Float64()
	if math.IsInf(si, 0) {
		return 0, k.refuse(text, "", tooLarge)
	}
	if k == Temperature && si < 0 {
		return 0, k.refuse(text, "", coldest)
	}
	return si, nil
}

// read dispatches on the form of the text: clock time, parts, or one number.
func (k Kind) read(text, body, unit string) (*big.Rat, error) {
	if k == Duration && strings.Contains(body, ":") {
		return k.readClock(text, body, unit)
	}
	number, rest, part, why := scanNumber(body)
	if why != "" {
		return nil, k.refuse(text, part, why)
	}
	rest = strings.TrimSpace(rest)
	if rest == "" {
		rest = unit
	}
	if rest == "" {
		if len(k.Units()) == 0 {
			return number, nil
		}
		return nil, k.refuse(text, part, unitMissing)
	}
	if e, ok := units.find(k, rest); ok {
		return e.toSI(number), nil
	}
	if chained(k) && strings.ContainsAny(rest, "0123456789") {
		if _, foreign := units.owner(k, rest); !foreign {
			return k.readParts(text, body)
		}
	}
	return nil, k.unknownUnit(text, rest)
}

// toSI converts exactly.
func (e *entry) toSI(number *big.Rat) *big.Rat {
	sum := new(big.Rat).Add(number, e.shift)
	return sum.Mul(sum, e.factor)
}

// chained kinds may be written in several parts of falling size: "3 min 20 s",
// "2 lb 3 oz", "5 ft 3 in".
func chained(k Kind) bool { return k == Duration || k == Mass || k == Length }

// readParts reads numbers with units one after the other.
func (k Kind) readParts(text, body string) (*big.Rat, error) {
	sum := new(big.Rat)
	negative := strings.HasPrefix(body, "-")
	var last *entry
	for rest := body; rest != ""; {
		number, after, part, why := scanNumber(rest)
		if why == "" && last != nil && strings.ContainsAny(part[:1], "+-") {
			why = signInside
		}
		if why != "" {
			return nil, k.refuse(text, part, why)
		}
		end := strings.IndexAny(after, "0123456789+-")
		if end < 0 {
			end = len(after)
		}
		name := strings.Trim(after[:end], " ,;")
		if name == "" && end < len(after) {
			return nil, k.refuse(text, part, gap, part)
		}
		if name == "" {
			return nil, k.refuse(text, part, unitMissing)
		}
		e, ok := units.find(k, name)
		if !ok {
			return nil, k.unknownUnit(text, name)
		}
		if last != nil && e.factor.Cmp(last.factor) >= 0 {
			return nil, k.refuse(text, name, unitOrder, e.symbol, last.symbol)
		}
		sum.Add(sum, e.toSI(number.Abs(number)))
		last, rest = e, strings.TrimSpace(after[end:])
	}
	if negative {
		sum.Neg(sum)
	}
	return sum, nil
}
