package ageing

import (
	"math"
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

// A thousand parts make a blend, one more is refused; all of one age they are that age.
func TestABlendOfAThousandParts(t *testing.T) {
	t.Parallel()
	many := make([]Part, 1001)
	for i := range many {
		many[i] = Part{Virgin(), 1}
	}
	a, err := Blend(many[:1000]...)
	if err != nil || math.Abs(a.Shares[0]-1) > 1e-9 {
		t.Errorf("a thousand parts: %+v, %v", a, err)
	}
	if _, err := Blend(many...); err == nil {
		t.Error("1001 parts are taken")
	}
	if _, err := Blend(); err == nil {
		t.Error("no part is a blend")
	}
}
