package plan

import (
	"testing"

	"hopperful/figure"
	"hopperful/quantity"
)

// What a reading moved is told in four things at most: how many charges and how long each runs are
// left out first, and only from a longer list.
func TestAChangeNamesFourThings(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ moved, told []string }{
		{[]string{"level", "charge", "run", "charges", "rest", "total"}, []string{"level", "charge", "rest", "total"}},
		{[]string{"level", "run", "charges", "rest", "total"}, []string{"level", "run", "rest", "total"}},
		{[]string{"run", "charges", "rest", "total"}, []string{"run", "charges", "rest", "total"}},
	} {
		m := &Moved{Record: 7}
		for _, key := range c.moved {
			f := figure.Exact(key, "plan."+key, quantity.Count, 1, figure.Reckoned)
			m.Changes = append(m.Changes, Change{f, f})
		}
		parts := m.says(campaign{})[0].Facts[1].Parts
		if len(parts) != len(c.told) || len(m.Changes) != len(c.moved) {
			t.Fatalf("of %v it tells %d", c.moved, len(parts))
		}
		for i, p := range parts {
			if got := p.Facts[0].Figure.Key; got != c.told[i] {
				t.Errorf("of %v it tells %s, not %s", c.moved, got, c.told[i])
			}
		}
	}
}
