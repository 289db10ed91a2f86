package quantity

import (
	"regexp"
	"strings"
)

// decimals finds numbers with a decimal part.
var decimals = regexp.MustCompile(`\d+\.\d+`)

// Plain renders an SI value as [Kind.Show] does, without zeros that say nothing:
// "35 g" where an instrument would show "35.0 g". It is for settings and other
// chosen numbers; what was measured keeps the digits of its instrument.
func (k Kind) Plain(si float64) string {
	switch k {
	case Money, MoneyPerEnergy, MoneyPerMass: // prices are written with their cents
		return k.Show(si)
	}
	return decimals.ReplaceAllStringFunc(k.Show(si), func(n string) string {
		return strings.TrimSuffix(strings.TrimRight(n, "0"), ".")
	})
}
