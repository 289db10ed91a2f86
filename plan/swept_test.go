package plan

import (
	"testing"

	"hopperful/estimate"
)

// A mill that was emptied in the sitting is not emptied again before its fourth charge since; where a
// sitting begins says nothing.
func TestWhatWasEmptiedIsNotEmptiedAgainAtOnce(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		follows string // of the sitting's runs: one that follows on what lay there, or an emptied mill
		swept   bool
	}{{"", false}, {"e", false}, {"f", false}, {"eff", false}, {"ffe", true}, {"ffef", true}, {"ffeff", true}, {"ffefff", false}, {"fefffe", true}} {
		var going []estimate.Run
		for _, f := range c.follows {
			going = append(going, estimate.Run{Follows: f == 'f'})
		}
		if got := lately(going); got != c.swept {
			t.Errorf("%q: %t", c.follows, got)
		}
		b := &bench{still: &still{inside: []float64{0.1}}, practice: practice{swept: c.swept, deeds: []deed{{charge: 0.1}}}}
		if _, there := b.emptied(); there == c.swept {
			t.Errorf("%q: emptied %t", c.follows, there)
		}
	}
}
