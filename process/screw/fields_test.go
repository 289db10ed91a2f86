package screw

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Heating{Heaters: 100, Efficiency: 0.8, Loss: 10, Shaft: 5, Heat: 4e5}, Heating.check)
}
