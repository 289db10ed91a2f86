package shop

import "testing"

// TestHandOn: values come over once, later ones take the place of those that came over,
// and what a shop measured itself stands.
func TestHandOn(t *testing.T) {
	t.Parallel()
	density := func(p string, v float64) Record {
		return Record{Body: &MaterialSet{Polymer: p, Property: "density", Value: v, Low: v - 10, High: v + 10}}
	}
	book := write(t, bench(t), density("PLA", 1240), density("PETG", 1270))
	own := write(t, bench(t), density("PETG", 1260))
	take := func(want int) {
		t.Helper()
		list := own.HandOn(book, "common")
		if len(list) != want {
			t.Fatalf("%d values come over, want %d: %+v", len(list), want, list)
		}
		if want > 0 {
			own = write(t, own, list...)
		}
	}
	take(1) // PLA; PETG is its own
	take(0)
	book = write(t, book, density("PLA", 1250), density("PETG", 1280))
	take(1)
	if m, _ := own.ownMaterial(MaterialSet{Polymer: "PLA", Property: "density"}); m.Value != 1250 {
		t.Errorf("PLA is %+v", m)
	}
	own = write(t, own, density("PLA", 1245))
	book = write(t, book, density("PLA", 1255))
	take(0) // now it is its own
	if m, _ := own.ownMaterial(MaterialSet{Polymer: "PETG", Property: "density"}); m.Value != 1260 {
		t.Errorf("PETG is %+v", m)
	}
}
