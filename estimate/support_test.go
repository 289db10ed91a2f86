package estimate_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/estimate"
)

// practised are runs around 100 g for two minutes at level 12 of 20, as a maker who
// has settled on that scatters.
func practised(t testing.TB, n int) []estimate.Run {
	t.Helper()
	chance := rand.New(rand.NewPCG(51, uint64(n)))
	one, _ := notes(t, 1, rand.New(rand.NewPCG(52, 1)), 0)
	runs := make([]estimate.Run, n)
	for i := range runs {
		r := one[0]
		r.Record, r.Day, r.OfDay = int64(i+1), i+1, 1
		r.Charge, r.Time, r.Load.Share = 0.1*math.Exp(0.1*chance.NormFloat64()), 120, 0.6
		runs[i] = r
	}
	return runs
}

// A forecast like the records is supported from the first on; half the level or 1.8
// times the charge is not, however many there are, until one was run so.
func TestSupportIsOfRecordsLikeIt(t *testing.T) {
	t.Parallel()
	with := func(change func(*estimate.Run)) estimate.Run {
		r := practised(t, 1)[0]
		r.Charge, r.Record = 0.1, 99
		change(&r)
		return r
	}
	like := with(func(*estimate.Run) {})
	for name, far := range map[string]estimate.Run{
		"twice nearly": with(func(r *estimate.Run) { r.Charge = 0.18 }),
		"half":         with(func(r *estimate.Run) { r.Charge = 0.05 }),
		"low level":    with(func(r *estimate.Run) { r.Load.Share = 0.3 }),
		"five minutes": with(func(r *estimate.Run) { r.Time = 300 }),
	} {
		for _, n := range []int{1, 3, 10, 25} {
			f := fitted(t, practised(t, n))
			if !f.Supported(like) {
				t.Errorf("after %d records one like them has no support", n)
			}
			if f.Supported(far) {
				t.Errorf("%s: after %d records of others it has support", name, n)
			}
		}
		once := append(practised(t, 10), far)
		if f := fitted(t, once); !f.Supported(far) {
			t.Errorf("%s: run once, it still has no support", name)
		}
	}
	if f := fitted(t, nil); f.Supported(like) {
		t.Error("without a record a forecast is supported")
	}
	stalled := practised(t, 1)
	stalled[0].Stalled = true
	if f := fitted(t, stalled); f.Supported(like) {
		t.Error("a stall supports a forecast")
	}
}
