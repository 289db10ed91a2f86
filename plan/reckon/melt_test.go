package reckon_test

import (
	"math"
	"testing"

	"hopperful/plan/fit"
	"hopperful/polymer"
)

// The sentence, the table and the notes of a melt flow rate speak of the same
// numbers, each with its temperature and load: PLA's 6 g/10 min of the table of
// materials belong to another test than the one reckoned.
func TestAMeltFlowRateNamesItsTest(t *testing.T) {
	t.Parallel()
	r := ask(t, "melt-flow", nil, nil) // 300 mg in 30 s are 6 g/10 min
	books, times := valueOf(t, r, "books"), valueOf(t, r, "runny")
	if rate := valueOf(t, r, "rate"); math.Abs(rate/books-times) > 1e-12 {
		t.Errorf("%g ÷ %g is not %g", rate, books, times)
	}
	for name, want := range map[string]float64{"rate": valueOf(t, r, "rate"), "temperature": 463.15, "load": 2.16, "times": times, "books": books} {
		if !same(r.Head.Saying, name, want) {
			t.Errorf("%s is not %g in %+v", name, want, r.Head)
		}
	}
	there := valueOf(t, ask(t, "melt-flow", map[string]float64{"test_temperature": 483.15}, nil), "books")
	table := r.Spoilers[len(r.Spoilers)-1].Saying
	for name, want := range map[string]float64{"rate": 6.0 / 6e5, "low": 3.0 / 6e5, "high": 10.0 / 6e5, "temperature": 483.15, "load": 2.16, "law": there} {
		if f, _ := table.Fact(name); math.Abs(f.Value-want) > 1e-9*want {
			t.Errorf("%s is %g and not %g in %+v", name, f.Value, want, table)
		}
	}
	if !noted(r, "law.cross") {
		t.Errorf("the notes do not name the law: %+v", r.Spoilers)
	}
}

// A curve drawn through a melt flow rate gives that rate in the test it was
// measured in, such as ABS at 220 °C and 10 kg (ISO 1133's condition for it, from
// memory), and not in another.
func TestAUsualCurvePassesThroughItsMeltFlowRate(t *testing.T) {
	t.Parallel()
	drawn := 0
	for _, name := range polymer.Names() {
		p, err := polymer.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		v, err := p.Value(polymer.MeltFlowRate)
		if _, refused := p.Refused(); err != nil || refused {
			continue
		}
		kelvin, load := fit.FlowTestOf(v, 1)
		r := ask(t, "melt-flow", map[string]float64{"test_temperature": kelvin, "load": load, "melt_density": 1050}, map[string]string{"material": name})
		if !noted(r, "law.usual") {
			continue
		}
		drawn++
		if got := valueOf(t, r, "books"); math.Abs(got/v.Value-1) > 1e-9 {
			t.Errorf("%s at %s: %g kg/s, the table has %g", name, v.At, got, v.Value)
		}
	}
	if drawn < 3 {
		t.Errorf("only %d materials have such a curve", drawn)
	}
}

// Tadmor and Gogos list ABS at 210 °C as a power law of 3.93e4 Pa·sⁿ and n = 0.25
// (Principles of Polymer Processing, table of rheological constants; from memory).
// Grades differ by a factor of two.
func TestTheUsualCurveOfABSIsAsThickAsABS(t *testing.T) {
	t.Parallel()
	r := ask(t, "viscosity", map[string]float64{"temperature": 483.15, "rate": 100}, map[string]string{"material": "ABS"})
	want := 3.93e4 * math.Pow(100, 0.25-1)
	if got := valueOf(t, r, "viscosity"); got < want/2 || got > want*2 {
		t.Errorf("ABS has %g Pa·s at 210 °C and 100/s, the book %g", got, want)
	}
}

func TestAFlowTestIsReadFromItsWords(t *testing.T) {
	t.Parallel()
	for at, want := range map[string][2]float64{"210 °C, 2.16 kg": {483.15, 2.16}, "220 °C, 10 kg": {493.15, 10}, "220 to 240 °C": {503.15, 2.16},
		"": {500, 2.16}, "as bought": {500, 2.16}, "5 kg": {500, 2.16}, "230 °C, a lot": {503.15, 2.16}} {
		kelvin, load := fit.FlowTestOf(polymer.Value{At: at}, 500)
		if math.Abs(kelvin-want[0]) > 1e-9 || math.Abs(load-want[1]) > 1e-9 {
			t.Errorf("%q is read as %g K and %g kg, want %v", at, kelvin, load, want)
		}
	}
}
