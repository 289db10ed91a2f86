package say

import (
	"slices"
	"strings"
	"testing"
)

// The masses of a plan, of which a person at the bench weighs several, can be told
// apart by their names: no two share more than one of the words that carry the
// meaning.
func TestMassesHaveNamesOfTheirOwn(t *testing.T) {
	t.Parallel()
	little := strings.Fields("the of a as and is once der die das in aus zu im den wenn")
	for _, lang := range Languages() {
		p := For(lang)
		var names []string
		for _, code := range []string{"plan.wanted", "plan.in", "plan.product", "plan.left", "plan.lost", "plan.missing", "plan.usable", "plan.stop_at", "plan.on_hand"} {
			names = append(names, p.Line(code))
		}
		for i, a := range names {
			for _, b := range names[:i] {
				alike := 0
				for _, w := range strings.Fields(a) {
					if !slices.Contains(little, w) && slices.Contains(strings.Fields(b), w) {
						alike++
					}
				}
				if alike > 1 {
					t.Errorf("%q and %q are nearly alike", a, b)
				}
			}
		}
	}
}
