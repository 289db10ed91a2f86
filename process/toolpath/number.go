package toolpath

import "strconv"

// mostInteger digits before the point are read: a coordinate of a billion is no
// print, and the bound keeps every sum finite.
const mostInteger = 9

// mostDigits of a number are read exactly by one division: both operands are
// then exact in a float64, so the quotient is the nearest one.
const mostDigits = 15

var pow10 = [mostDigits + 1]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

type numberState uint8

const (
	numberNone numberState = iota // no digit here
	numberOK
	numberHuge // more than mostInteger digits before the point
)

// number reads a sign, digits and a point at line[i:] and returns where it ends.
func number(line []byte, i int) (value float64, next int, state numberState) {
	start, first := i, i
	if i < len(line) && (line[i] == '-' || line[i] == '+') {
		i++
		first = i
	}
	mant := int64(0)
	digits := 0
	for ; i < len(line) && isDigit(line[i]); i++ {
		mant = mant*10 + int64(line[i]-'0') // beyond mostDigits it overflows and is not used
		if digits > 0 || line[i] != '0' {
			digits++
		}
	}
	if digits > mostInteger {
		return 0, i, numberHuge
	}
	whole := i - first
	frac := 0
	if i < len(line) && line[i] == '.' {
		for i++; i < len(line) && isDigit(line[i]); i++ {
			mant = mant*10 + int64(line[i]-'0')
			frac++
		}
	}
	if whole+frac == 0 {
		return 0, start, numberNone
	}
	if digits+frac > mostDigits {
		// Rare: more digits than one division can round once.
		v, err := strconv.ParseFloat(string(line[start:i]), 64)
		if err != nil {
			return 0, start, numberNone
		}
		return v, i, numberOK
	}
	value = float64(mant) / pow10[frac]
	if line[start] == '-' {
		value = -value
	}
	return value, i, numberOK
}

func isDigit(c byte) bool { return c-'0' <= 9 }

func isLetter(c byte) bool { return (c|0x20)-'a' <= 'z'-'a' }
