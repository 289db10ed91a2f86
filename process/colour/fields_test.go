package colour

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Lab{50, 1, 1}, Lab.Check)
	checkrow.Fields(t, Surface{0.04, 0.6, true}, Surface.Check)
}
