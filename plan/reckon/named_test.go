package reckon_test

import (
	"fmt"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/reckon"
)

// What each number of an answer is called and follows from, topic by topic, at its defaults and for two more materials, as approved: sums of an answer
// leave both out.
func TestNamesOfNumbersAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for _, topic := range reckon.Topics() {
		if topic.Key == "drying" {
			continue
		}
		for _, words := range []map[string]string{nil, {"material": "PET"}, {"material": "ABS"}, {"property": "melt flow rate"}, {"property": "melt flow rate", "material": "PET"}} {
			r, err := reckon.Answer(nil, topic.Key, reckon.Given{Words: words})
			if err != nil {
				continue // what is refused has tests of its own
			}
			fmt.Fprintf(&out, "%s %v\n", topic.Key, words)
			for _, f := range r.Figures {
				fmt.Fprintf(&out, "  %s %s %s %s", f.Key, f.Name, strings.ReplaceAll(f.How, " ", "_"), strings.ReplaceAll(f.About, " ", "_"))
				for _, x := range f.Inputs {
					fmt.Fprintf(&out, " %s", x.Key)
				}
				out.WriteString("\n")
			}
		}
	}
	checkrow.ApprovedText(t, "named", out.String())
}
