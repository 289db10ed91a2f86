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

// The ranges that no check row moves, at both ends.
func TestRangesOfAges(t *testing.T) {
	t.Parallel()
	one := func(_ float64, err error) error { return err }
	for _, c := range []struct {
		name   string
		lo, hi float64
		f      func(float64) error
	}{
		{"chains cut", 0, 10, func(x float64) error { return Age{[]float64{1}, x}.Check() }},
		{"share of a class", 0, 1 + 1e-6, func(x float64) error { return Age{[]float64{x}, 0}.Check() }},
		{"share of the oldest", 0, 1, func(x float64) error { _, err := Virgin().Oldest(x); return err }},
		{"chains cut in a pass", 0, 6, func(x float64) error { _, err := Age{[]float64{1}, 4}.Melted(x); return err }},
		{"chains of a molar mass", 0, 10, func(x float64) error { return one(MolarMass(100, x)) }},
		{"chains of a gain", 0, 10, func(x float64) error { return one(FlowGain(100, x, 3.4)) }},
		{"power of a gain", 1, 5, func(x float64) error { return one(FlowGain(100, 1e-3, x)) }},
		{"chains of a loop", 0, 0.1, func(x float64) error { _, err := Steady(0.3, x); return err }},
		{"new chains of strength", 0.5, 1e4, func(x float64) error { return one(StrengthLeft(x, 1e-6, 0.5)) }},
	} {
		checkrow.Range(t, c.name, c.lo, c.hi, c.f)
	}
	for sum, in := range map[float64]bool{1 - 0.99e-6: true, 1 - 1.01e-6: false, 1 + 0.99e-6: true, 1 + 1.01e-6: false} {
		err := Age{[]float64{0.5, sum - 0.5}, 0}.Check()
		_, also := BlendFlow([]float64{1e-6, 2e-6}, []float64{0.5, sum - 0.5})
		if (err == nil) != in || (also == nil) != in {
			t.Errorf("shares that add up to %.8f: %v, %v", sum, err, also)
		}
	}
	for n, in := range map[int]bool{-1: false, 0: true, 1000: true, 1001: false} {
		a, err := Passed(n)
		if (err == nil) != in || in && (len(a.Shares) != n+1 || a.Shares[n] != 1) {
			t.Errorf("%d passes: %v", n, err)
		}
	}
	oldest, err := Passed(999)
	if err != nil {
		t.Fatal(err)
	}
	if oldest, err = oldest.Melted(0); err != nil || oldest.Shares[1000] != 1 {
		t.Errorf("the thousandth pass: %v", err)
	}
	if _, err := oldest.Melted(0); err == nil {
		t.Error("a thousand and one passes are taken")
	}
	// By hand, shares 0.5, 0.3, 0.2 of 0, 1 and 2 passes: what lies beyond n is at most the share asked.
	a := Age{[]float64{0.5, 0.3, 0.2}, 0}
	for share, want := range map[float64]int{0: 2, 0.19: 2, 0.21: 1, 0.49: 1, 0.51: 0, 1: 0} {
		if n, err := a.Oldest(share); err != nil || n != want {
			t.Errorf("beyond %g of the plastic: %d passes, wanted %d, %v", share, n, want, err)
		}
	}
}
