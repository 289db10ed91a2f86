package study

import (
	"math"
	"testing"

	"hopperful/internal/study/outside"
)

// A mill that stalls readily, with one rough record: what a stall says is believed at
// once. No campaign stalls more than three times or asks for one trial after the other,
// each charge after a stall is clearly less, and where the rotor takes next to nothing
// any more it is said so.
func TestACampaignDoesNotStallOnAndOn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		seed   outside.Tuning
		record float64 // of the usual charge
		times  float64 // of what that brings before it, the rotor takes then
		ended  End
	}{{3, 0.5, 0.6, Enough}, {2, 1, 0.03, Blocked}} {
		m, err := newMaker(c.seed)
		if err != nil {
			t.Fatal(err)
		}
		set := m.mill.Usual
		set.Charge *= c.record
		if err := m.charge(m.feasible(set)); err != nil || len(m.yields) != 1 {
			t.Fatal(err, m.refused)
		}
		m.mill.Jam(c.times)
		e, err := m.evening(c.seed.Chance(3))
		if err != nil {
			t.Fatal(err)
		}
		got, err := e.carryOut(0.2)
		if err != nil {
			t.Fatal(err)
		}
		if got.Stalls == 0 && c.ended == Blocked || got.Stalls > 3 || got.Trials > 4 || got.Ended != c.ended {
			t.Errorf("mill %d: %d stalls, %d trials, %d charges, ended %v", c.seed, got.Stalls, got.Trials, got.Charges, got.Ended)
		}
		for i, s := range got.Steps {
			if i == 0 && s.Charge > 1.001*m.ran[0].Charge {
				t.Errorf("mill %d: the first charge is above the only one on record: %v", c.seed, s)
			}
			if before := got.Steps[max(0, i-1)]; i > 0 && before.Gave.Stalled && (s.Charge > 0.61*math.Max(before.Charge, before.Gave.Left) || s.Level < before.Level) {
				t.Errorf("mill %d: after %v comes %v", c.seed, before, s)
			}
		}
		if t.Failed() {
			for _, s := range got.Steps {
				t.Log(c.seed, s)
			}
		}
	}
}
