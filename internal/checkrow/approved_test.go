package checkrow

import (
	"errors"
	"slices"
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

// Any number or word that moves a little, or to another place, moves the line of the whole.
func TestWholeNoticesEachPart(t *testing.T) {
	t.Parallel()
	at := Whole(t, []any{1.5, "a", map[string]float64{"x": 1e-9, "y": 2}, true, []string{}})
	for name, other := range map[string]any{
		"a number": []any{1.501, "a", map[string]float64{"x": 1e-9, "y": 2}, true}, "a small one": []any{1.5, "a", map[string]float64{"x": 1.001e-9, "y": 2}, true},
		"a sign": []any{1.5, "a", map[string]float64{"x": -1e-9, "y": 2}, true}, "a place": []any{1.5, "a", map[string]float64{"x": 2, "y": 1e-9}, true}, "a word": []any{1.5, "b", map[string]float64{"x": 1e-9, "y": 2}, true},
		"a choice": []any{1.5, "a", map[string]float64{"x": 1e-9, "y": 2}, false}, "one less": []any{1.5, "a", map[string]float64{"x": 1e-9}, true},
	} {
		line := Whole(t, other)
		if slices.EqualFunc(strings.Fields(at), strings.Fields(line), nearly) {
			t.Errorf("%s moved: %s is still %s", name, line, at)
		}
	}
	if Whole(t, []any{1.5, map[string]string{"how": "x"}}) != Whole(t, []any{1.5, map[string]string{"how": "y"}}) {
		t.Error("what is judged elsewhere moves it")
	}
}

// A row is moved one number at a time, whole numbers by one, and what a model makes of it is
// written in full; a row no model takes is told so.
func TestValuesOfRows(t *testing.T) {
	t.Parallel()
	got := movedInputs("x=0.5; n=3; list=[1 2]; word=PLA; none=0")
	if want := []string{"list=[1 2]; n=4; none=0; word=PLA; x=0.5", "list=[1 2]; n=3; none=0; word=PLA; x=0.535"}; !slices.Equal(got, want) {
		t.Errorf("moved to %q", got)
	}
	fn := func(in Inputs) ([]float64, error) {
		if in.Num("x") > 1 {
			return nil, errors.New("too large")
		}
		return []float64{in.Num("x") / 3, 2}, nil
	}
	for inputs, want := range map[string]string{"x=0.5": "0.166666667 2", "x=2": "refused", "y=1": "no row", "x": "no row"} {
		if line := valueLine(fn, inputs); line != want {
			t.Errorf("%s: %q, wanted %q", inputs, line, want)
		}
	}
}
