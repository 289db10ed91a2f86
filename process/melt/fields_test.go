package melt

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, CrossSet{Zero: 1000, Stress: 1e5, N: 0.4}, CrossSet.check)
	checkrow.Fields(t, Nozzle{Bore: 4e-4, Land: 1e-3, Entry: 2e-3, Taper: 1e-3, Losses: UsualLosses}, Nozzle.Check)
}
