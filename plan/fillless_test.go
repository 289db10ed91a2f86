package plan

import "testing"

// A quick campaign that has to wait for the wall first is no quicker: what counts between
// two charges is the time from now on.
func TestWaitingForTheFirstStartCosts(t *testing.T) {
	t.Parallel()
	one := campaign{cell: &cell{at: []float64{60}}, charges: 1, rest: 60}
	two := one
	two.charges = 2
	if one.cost() >= two.cost() {
		t.Errorf("one charge costs %g, two %g", one.cost(), two.cost())
	}
	if one.first = 2400; one.cost() <= two.cost() {
		t.Errorf("one charge after 40 min costs %g, two at once %g", one.cost(), two.cost())
	}
}
