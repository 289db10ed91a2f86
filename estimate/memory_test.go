package estimate

import "testing"

// What is remembered of a parameter is what it comes to, whichever of belief and score was
// another the time before.
func TestRememberedParametersAreTheSame(t *testing.T) {
	book := Prior()
	var m memory
	base := book[BreakRate]
	other := func(change func(*Belief)) Belief {
		b := base
		change(&b)
		return b
	}
	beliefs := []Belief{base, other(func(b *Belief) { b.Median *= 1.1 }), other(func(b *Belief) { b.Low *= 0.9 }),
		other(func(b *Belief) { b.High *= 1.2 }), other(func(b *Belief) { b.Family = Normal }), other(func(b *Belief) { b.Family = Exact })}
	for range 2 {
		for i := range beliefs {
			for _, from := range []Belief{base, beliefs[i]} {
				for _, score := range []float64{0, -1.5, 0.7, 0.7} {
					m.at(int(BreakRate), &from, 0.7)
					if got, want := m.at(int(BreakRate), &beliefs[i], score), beliefs[i].at(score); got != want {
						t.Errorf("belief %d at %g: %g, wanted %g", i, score, got, want)
					}
					if got := m.at(int(Discharge), &beliefs[i], score); got != beliefs[i].at(score) {
						t.Errorf("another parameter with belief %d at %g: %g", i, score, got)
					}
				}
			}
		}
	}
	if got := (*memory)(nil).at(int(BreakRate), &base, 1); got != base.at(1) {
		t.Errorf("forgetting: %g", got)
	}
}
