package plan

import (
	"reflect"
	"slices"
	"testing"

	"hopperful/shop"
)

// A draw that stands in several rows is ground once, and each of its rows still errs by
// its own: a campaign and its first look are the same as if every row were ground.
func TestRepeatedDrawsAreGroundOnceAndErrAlone(t *testing.T) {
	t.Parallel()
	j := pressed(t, func(*shop.Mill, *Request) {})
	once := *j.bench
	repeated := 0
	for i := range once.rows {
		if i > 0 && &once.rows[i][0] == &once.rows[i-1][0] {
			repeated++
		}
	}
	if repeated < 10 {
		t.Fatalf("only %d rows repeat the one before: this tests nothing", repeated)
	}
	each := once
	each.rows = make([][]float64, len(once.rows))
	for i, row := range once.rows {
		each.rows[i] = slices.Clone(row)
	}
	at := each.levels[11]
	a, err := once.chain(at, 0.08, 120)
	if err != nil {
		t.Fatal(err)
	}
	b, err := each.chain(at, 0.08, 120)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(a, b) {
		t.Error("a campaign differs")
	}
	look := func(on *bench) []*cell {
		cells := []*cell{{d: at, mass: 0.08, at: []float64{60, 120}}, {d: each.levels[9], mass: 0.1, at: []float64{90}}}
		if err := on.glance(cells); err != nil {
			t.Fatal(err)
		}
		return cells
	}
	if !reflect.DeepEqual(look(&once), look(&each)) {
		t.Error("a first look differs")
	}
}
