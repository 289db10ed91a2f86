package checkrow

import (
	"strings"
	"testing"
)

// Every number, code and name stands in a line of its own, rows of numbers in one, and a
// number may differ by no more than a millionth.
func TestLinesOfAnAnswer(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	writeLines(&out, "", map[string]any{"Code": "a b", "Empty": "", "How": "x + y", "Row": []any{1.0, 2.0, 3.0, 5.0}, "List": []any{map[string]any{"V": 1.5}, true, 0.0}})
	if want := ".Code a_b\n.List[0].V 1.5\n.List[1] true\n.Row 4 11 1 5\n"; out.String() != want {
		t.Errorf("got\n%swanted\n%s", out.String(), want)
	}
	for _, c := range []struct {
		a, b string
		same bool
	}{{"1", "1.0000001", true}, {"1", "1.00001", false}, {"-1", "1", false}, {"x", "y", false}, {"x", "x", true}, {"1", "x", false}, {"0", "0.1", false}} {
		if nearly(c.a, c.b) != c.same {
			t.Errorf("%s and %s: alike is not %t", c.a, c.b, c.same)
		}
	}
}
