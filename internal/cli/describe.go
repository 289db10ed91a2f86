package cli

import (
	"strings"

	"hopperful/internal/say"
	"hopperful/quantity"
)

// material names polymer and colour, as far as they are known.
func material(p *say.Printer, polymer, colour string) string {
	if polymer == "" {
		polymer = p.Line("cell.unknown_polymer")
	}
	return strings.TrimSpace(polymer + " " + colour)
}

func mass(kg float64) string { return quantity.Mass.Show(kg) }
