package metal

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Spectrum{Median: 1e-3, Spread: 0.5}, Spectrum.Check)
	checkrow.Fields(t, Window{From: 1e-4, To: 1e-2}, Window.Check)
	checkrow.Fields(t, Rate{Shape: 1, Exposure: 1}, func(r Rate) error { _, err := Learn(r, 1, 1); return err })
	checkrow.Fields(t, Metal{Wear: 1e-5, Parts: blend(0.9), Sizes: Spectrum{1e-4, 0.5}, Screen: 3e-3, Slip: 1.5, Passes: 1}, Metal.Check)
}
