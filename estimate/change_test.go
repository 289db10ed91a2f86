package estimate_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hopperful/estimate"
)

// usedMill grinds the same few charges in turn, its break rate times a factor from
// some run on.
func usedMill(t testing.TB, n, from int, factor float64, seed uint64) []estimate.Run {
	t.Helper()
	chance := rand.New(rand.NewPCG(41, seed))
	priors := shelf()
	row := priors.Medians()
	var runs []estimate.Run
	for i := range n {
		now := slices.Clone(row)
		if i >= from {
			now[estimate.BreakRate] *= factor
		}
		r := estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Since: 0.1 * float64(i), Day: 1 + i/2, OfDay: 1 + i%2,
			Charge: 0.08 + 0.02*float64(i%3), Time: 60, Room: 293.15, Resolution: 0.001,
			Load: estimate.Load{Watts: 550, Spread: 1.35}, Largest: 0.035, Thickness: 0.0016}
		o, err := estimate.Reckon(now, 0.05, r)
		if err != nil {
			t.Fatal(err)
		}
		r.Product = ptr(o.Product * math.Exp(0.07*chance.NormFloat64())) // as charges differ
		runs = append(runs, r)
	}
	return runs
}

func TestASuddenChangeIsAskedAbout(t *testing.T) {
	t.Parallel()
	found, wrong := 0, 0
	const mills = 8
	for seed := range uint64(mills) {
		if c, ok := fitted(t, usedMill(t, 16, 11, 0.5, seed)).Change(); ok {
			found++
			if c.Since < 10 || c.Since > 14 || c.Factor > 0.85 || len(c.Records) != 17-int(c.Since) {
				t.Errorf("mill %d: since record %d by a factor %g (%d records); made from record 12 with 0.5", seed, c.Since, c.Factor, len(c.Records))
			}
		}
		if _, ok := fitted(t, usedMill(t, 16, 99, 1, seed)).Change(); ok {
			wrong++
		}
	}
	t.Logf("found %d of %d, false alarms %d", found, mills, wrong)
	if found < mills/2 || wrong > 0 {
		t.Errorf("of %d mills that broke at half the rate from record 12 on %d are asked about five records later, of as many without a change %d", mills, found, wrong)
	}
}

// A new blade is told, so nothing sudden is asked about; after it the next record
// alone moves the forecast most of the way.
func TestAToldChangeIsNoSuddenOne(t *testing.T) {
	t.Parallel()
	runs := usedMill(t, 16, 11, 0.5, 3)
	for i := 11; i < len(runs); i++ {
		runs[i].Chapter, runs[i].Since = 1, 0.1*float64(i-11)
	}
	f := fitted(t, runs)
	if c, ok := f.Change(); ok {
		t.Errorf("asked about a change since record %d that was told", c.Since)
	}
}

// A new sheet lets through half as much. The runs before it keep theirs, and one
// record on it brings the forecast to it.
func TestOneRecordOnANewSheetIsEnough(t *testing.T) {
	t.Parallel()
	runs := usedMill(t, 13, 12, 0.45, 5)
	fresh := &runs[12]
	fresh.Screen = "3 mm after 1"
	foresee := func(runs []estimate.Run, of estimate.Run) float64 {
		f := fitted(t, runs)
		of.Record, of.Product = 99, nil
		all, err := f.Outcomes(of, 200, rand.New(rand.NewPCG(5, 5)))
		if err != nil {
			t.Fatal(err)
		}
		var v []float64
		for _, o := range all {
			v = append(v, o.Product)
		}
		slices.Sort(v)
		return v[100]
	}
	after := foresee(runs, *fresh)
	if off := math.Abs(math.Log(after / *fresh.Product)); off > 0.22 {
		t.Errorf("after one record of %g kg on the new sheet %g kg are forecast", *fresh.Product, after)
	}
	old := runs[11]
	before, now := foresee(runs[:12], old), foresee(runs, old)
	if math.Abs(math.Log(now/before)) > 0.12 {
		t.Errorf("the new sheet moves what the old one gave from %g to %g kg", before, now)
	}
}
