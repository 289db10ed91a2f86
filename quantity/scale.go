package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// OnScale shows a mass with as many digits as a scale has, so that two masses
// that differ look different: 3 digits would not.
func OnScale(kg float64) string {
	unit, x, places := " g", kg*1e3, 1
	switch {
	case math.Abs(kg) >= 1:
		unit, x, places = " kg", kg, 4
	case math.Abs(x) < 1:
		places = 4
	}
	text := strconv.FormatFloat(x, 'f', places, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + unit
}

// tails are zeros behind a decimal point, with the point when nothing else is.
var tails = regexp.MustCompile(`\.0+\b|(\.\d*?[1-9])0+\b`)

// Bare shows a number without the zeros that only stand there because three
// digits are usual: what was read as 59 s is not 59.0 s.
func (k Kind) Bare(x float64) string { return tails.ReplaceAllString(k.Show(x), "$1") }
