package quantity

import (
	"math/big"
	"strings"
)

// readClock reads "3:20 min" (3 min 20 s), "1:15 h" (1 h 15 min) and "1:02:03"
// or "1:02:03 h" (hours, minutes, seconds). Two fields without a unit are
// refused: 3:20 is three minutes to one person and three hours to the next.
func (k Kind) readClock(text, body, unit string) (*big.Rat, error) {
	end := strings.LastIndexAny(body, "0123456789") + 1
	fields := strings.Split(body[:end], ":")
	name := strings.TrimSpace(body[end:])
	if name == "" {
		name = unit
	}
	if name == "" && len(fields) == 3 {
		name = "h"
	}
	if name == "" {
		return nil, k.refuse(text, body, clockUnit, body)
	}
	e, ok := units.find(k, name)
	if !ok {
		return nil, k.unknownUnit(text, name)
	}
	first := map[string]int{"min": 1, "h": 0}
	at, ok := first[e.symbol]
	if !ok || len(fields) > 3-at || len(fields) < 2 {
		return nil, k.refuse(text, name, clockForm)
	}
	sum, sizes := new(big.Rat), []int64{3600, 60, 1}
	negative := strings.HasPrefix(fields[0], "-")
	for i, f := range fields {
		number, rest, _, why := scanNumber(f)
		last := i == len(fields)-1
		switch {
		case why == "" && rest != "":
			why = notNumber
		case why == "" && i > 0 && (number.Cmp(big.NewRat(60, 1)) >= 0 || !twoDigits(f)):
			why = clockDigits
		case why == "" && !last && strings.ContainsAny(f, ".,eE"):
			why = clockLast
		}
		if why != "" {
			return nil, k.refuse(text, f, why)
		}
		sum.Add(sum, number.Mul(number.Abs(number), big.NewRat(sizes[at+i], 1)))
	}
	if negative {
		sum.Neg(sum)
	}
	return sum, nil
}

// twoDigits reports whether a field starts with exactly two digits.
func twoDigits(field string) bool {
	whole := strings.IndexAny(field, ".,")
	if whole < 0 {
		whole = len(field)
	}
	return whole == 2 && strings.Trim(field[:2], "0123456789") == ""
}
