package web

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/quantity"
	"hopperful/shop"
)

// lotWhat says what a lot is: "black PETG scrap".
func lotWhat(p *say.Printer, l *shop.Lot) string {
	return p.Line("lot."+string(l.Class), fact.Name("polymer", l.Polymer), fact.Name("colour", l.Colour))
}

// lotLine is a lot on one line, for choosing: "S3, black PETG scrap, 1.24 kg".
func lotLine(p *say.Printer, l *shop.Lot) string {
	line := string(l.ID) + ", " + lotWhat(p, l)
	if l.Name != "" {
		line += " (" + l.Name + ")"
	}
	return line + ", " + grams(l.Mass)
}

// grams writes a weighed mass with a scale's digits and no more: "88 g",
// "1.312 kg".
func grams(kg float64) string {
	digits, unit, n := 1, "g", kg*1000
	if math.Abs(kg) >= 1 {
		digits, unit, n = 3, "kg", kg
	}
	return untailed(strconv.FormatFloat(n, 'f', digits, 64) + " " + unit)
}

// total writes a sum of masses: three digits are enough of it.
func total(kg float64) string { return untailed(quantity.Mass.Show(kg)) }

// decimals are the numbers of a text that have a decimal point.
var decimals = regexp.MustCompile(`\d+\.\d+`)

// untailed takes the zeros off a printed measurement that only stand there
// because three digits are usual: "59.0 s" was read as 59 s.
func untailed(shown string) string {
	return decimals.ReplaceAllStringFunc(shown, func(n string) string {
		return strings.TrimRight(strings.TrimRight(n, "0"), ".")
	})
}
