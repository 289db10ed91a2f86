package breakage

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Kernel{Rate: 0.01, SizeExponent: 1, RotorSize: 0.01, RotorExponent: 3, Phi: 0.5, Gamma: 1, Beta: 4}, Kernel.check)
	checkrow.Fields(t, Screen{Hole: 0.003, OpenShare: 0.3, Rate: 10, Hindrance: 4}, Screen.check)
	checkrow.Fields(t, Power{Net: 300, MinHeld: 0.01}, Power.check)
}
