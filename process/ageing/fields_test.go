package ageing

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	checkrow.Fields(t, Factor{1.2, 1.1, 1.3}, Factor.Check)
	checkrow.Fields(t, FreshFlow{Rate: 1e-5, Grade: 0.1, Shift: 0.1}, FreshFlow.check)
	checkrow.Fields(t, FlowTest{Rate: 1e-5, Doubt: 0.1, Passes: 1, Gain: 2, GainDoubt: 0.1, Grades: []float64{1}}, func(x FlowTest) error { return x.check(1) })
}
