package estimate_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hopperful/estimate"
)

// Charges that came out as grains did not melt: whoever never read one's temperature
// knows that much. Runs of a kind the models think too hot make forecasts of it cooler
// at the hot end, and hardly touch those of the product; that they were read so is
// believed instead.
func TestRunsThatCameOutAsGrainsDidNotMelt(t *testing.T) {
	t.Parallel()
	run := func(i int) estimate.Run {
		return estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Since: 0.12 * float64(i), Charge: 0.08, Time: 180, Room: 293.15,
			Resolution: 0.001, Load: estimate.Load{Watts: 900, Spread: 1.4}, Largest: 0.03, Thickness: 0.0016, WallBefore: ptr(293.15), Product: ptr(0.07)}
	}
	ends := func(intact bool) (product, charge float64) {
		var runs []estimate.Run
		for i := range 4 {
			r := run(i)
			r.Intact = intact
			runs = append(runs, r)
		}
		all, err := fitted(t, runs).Outcomes(run(9), 400, rand.New(rand.NewPCG(5, 5)))
		if err != nil {
			t.Fatal(err)
		}
		products, charges := make([]float64, len(all)), make([]float64, len(all))
		for i, o := range all {
			products[i], charges[i] = o.Product, o.Charge
		}
		slices.Sort(products)
		slices.Sort(charges)
		return products[len(all)/2], charges[len(all)*9/10]
	}
	product, hot := ends(false)
	same, cooler := ends(true)
	softening := estimate.Prior()[estimate.Softening].Median
	if hot < softening+10 {
		t.Fatalf("one in ten is at most %g K anyhow: the test tests nothing", hot)
	}
	if cooler > softening+5 || cooler > hot-10 {
		t.Errorf("one in ten is above %g K, without that evidence above %g K; it softens at %g K", cooler, hot, softening)
	}
	if same < 0.95*product || same > 1.05*product {
		t.Errorf("the product moved from %g to %g kg", product, same)
	}
}

// A draw far out in the range of the sheet's exponent still grinds.
func TestAHinderedSheetStillPasses(t *testing.T) {
	t.Parallel()
	b := shelf()
	row := b.Medians()
	run := estimate.Run{Charge: 0.08, Time: 120, Room: 293.15, Load: estimate.Load{Watts: 600, Spread: 1.4}, Largest: 0.03, Thickness: 0.0016}
	last := math.Inf(1)
	for _, p := range []float64{0.5, 1, 2, 4, 10, 25} {
		row[estimate.Hindrance] = p
		o, err := estimate.Reckon(row, 0.05, run)
		if err != nil {
			t.Fatalf("exponent %g: %v", p, err)
		}
		if o.Product > last+1e-9 || o.Product <= 0 {
			t.Errorf("exponent %g: %g kg pass, with a lower one %g", p, o.Product, last)
		}
		last = o.Product
	}
}
