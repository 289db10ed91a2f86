package moisture

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Plastic{Density: 1240, Saturated: 0.01, Diffusivity: 1e-12, Reference: 300, Energy: 4e4, Softening: 330, Heat: 1500, Comes: 293.15}, Plastic.Check)
	checkrow.Fields(t, Sorption{Saturated: 0.01}, Sorption.check)
	checkrow.Fields(t, Dryer{Temperature: 350, Vapour: 100, Flow: 0.001}, Dryer.Check)
}
