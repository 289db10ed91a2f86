package colour_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/colour"
)

// The word for each of a thousand colours all round, as approved: -run AsApproved -update
// keeps it. The words themselves are judgement; none may move unseen.
func TestNamesAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for light := 5.0; light < 100; light += 9 {
		for _, chroma := range []float64{1, 6, 15, 30, 45, 70} {
			fmt.Fprintf(&out, "%g/%g", light, chroma)
			for hue := 5.0; hue < 360; hue += 15 {
				p := colour.Lab{L: light, A: chroma * math.Cos(hue*math.Pi/180), B: chroma * math.Sin(hue*math.Pi/180)}
				name, err := colour.Name(p)
				if err != nil {
					t.Fatal(err)
				}
				fmt.Fprintf(&out, " %s", strings.ReplaceAll(name, " ", "_"))
			}
			fmt.Fprintln(&out)
		}
	}
	checkrow.ApprovedText(t, "names", out.String())
}
