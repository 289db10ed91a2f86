package cli

import (
	"strings"

	"hopperful/quantity"
)

// material names polymer and colour, as far as they are known.
func material(polymer, colour string) string {
	if polymer == "" {
		polymer = "unknown polymer"
	}
	return strings.TrimSpace(polymer + " " + colour)
}

func mass(kg float64) string { return quantity.Mass.Show(kg) }
