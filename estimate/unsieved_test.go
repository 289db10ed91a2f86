package estimate

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// halves is the size that half of a run's product is finer than, the models' error
// among it, as a logarithm: its middle and 80 % range.
func halves(t testing.TB, f *Fitted, r *Run) (middle, width float64) {
	t.Helper()
	const n = 300
	target, chance := Target{Polymer: r.Polymer, Screen: r.Screen}, rand.New(rand.NewPCG(8, 8))
	rows, err := f.Draws(f.fit.setup.Priors[r.Polymer], target, n, chance)
	if err != nil {
		t.Fatal(err)
	}
	d, err := f.Discrepancy(target, rows, chance)
	if err != nil {
		t.Fatal(err)
	}
	_, workers, err := workshop(r.Largest, drawTolerance)
	if err != nil {
		t.Fatal(err)
	}
	factors, all := d.At(r.setting()).Sizes, make([]float64, n)
	for i, row := range rows {
		if all[i], err = workers[0].half(r, row); err != nil {
			t.Fatal(err)
		}
		all[i] += math.Log(factors[i])
	}
	slices.Sort(all)
	return all[n/2], all[n-n/10] - all[n/10]
}

// Records without a sieve stack say nothing of sizes: their middle and range stay the
// books', whatever masses and energies taught. A stack moves and narrows them.
func TestOnlyAStackTellsOfSizes(t *testing.T) {
	t.Parallel()
	books := Prior()
	books[Hole].Family, books[OpenShare].Family = Exact, Exact
	set := Setup{Area: 0.05, Priors: map[string]Beliefs{"PLA": books}}
	var runs []Run
	for i := range 10 { // slow and half through, far from what the books expect
		product, energy := 0.04+0.002*float64(i%3), 30e3
		runs = append(runs, Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Charge: 0.1, Time: 150, Room: 293.15, Resolution: 0.001, Day: i + 1, OfDay: 1,
			Load: Load{Watts: 700, Spread: 1.35}, Largest: 0.035, Thickness: 0.0016, Product: &product, Energy: &energy})
	}
	fit := func(runs []Run) *Fitted {
		f, err := Fit(set, runs)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	middle, width := halves(t, fit(nil), &runs[0])
	after, wide := halves(t, fit(runs), &runs[0])
	if math.Abs(after-middle) > 0.1*width || math.Abs(wide/width-1) > 0.15 {
		t.Errorf("by the books half is finer than e^%.2f m within %.2f, after ten records without a stack e^%.2f within %.2f", middle, width, after, wide)
	}
	runs[9].Sieved = &Sieved{Openings: []float64{0.001, 0.002}, Passing: []float64{0.1, 0.9}, Mass: 0.03}
	told, narrow := halves(t, fit(runs), &runs[0])
	if narrow > 0.7*width || math.Abs(told-math.Log(0.0014)) > 0.15 {
		t.Errorf("a stack with its half at 1.4 mm leaves it at e^%.2f m within %.2f, before e^%.2f within %.2f", told, narrow, middle, width)
	}
}
