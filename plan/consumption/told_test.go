package consumption

import (
	"errors"
	"testing"

	"hopperful/answer"
	"hopperful/process/mesh"
	"hopperful/process/toolpath"
	"hopperful/shop"
)

// How a need was read is told, but not of one that was typed or of which nothing was taken; a solid tells its measures.
func TestHowANeedWasRead(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		from, taken string
		solid       *mesh.Solid
		notes       int
		figures     int
	}{{"typed", takenSolid, nil, 0, 0}, {"mesh", takenSolid, nil, 1, 0}, {"mesh", "", nil, 0, 0}, {"g-code", "", nil, 0, 0}, {"typed", "", nil, 0, 0}, {"mesh", takenSolid, &mesh.Solid{Volume: 1e-6, Max: [3]float64{0.1, 0.2, 0.3}, Facets: 12}, 1, 7}} {
		var s answer.Section
		var d answer.Document
		Found{Need: shop.Need{Name: "cup", From: c.from, Taken: c.taken}, Solid: c.solid}.behind(&s, &d, false)
		if len(s.Notes) != c.notes || len(s.Figures) != c.figures {
			t.Errorf("case %d: %d notes, %d figures", i, len(s.Notes), len(s.Figures))
		}
		for k, want := range []float64{1e-6, 0, 0.1, 0.2, 0.3, 12, 0} {
			if c.figures > 0 && s.Figures[k].Value != want {
				t.Errorf("%s is %g", s.Figures[k].Key, s.Figures[k].Value)
			}
		}
	}
}

// What is refused tells how many there may be, and which line was the first bad one.
func TestRefusalsTellNumbers(t *testing.T) {
	t.Parallel()
	_, err := meshNeed("a.stl", mesh.Solid{Volume: 1e-6, Max: [3]float64{0.01, 0.01, 0.01}}, Reading{Copies: 10_001})
	var refused *shop.Error
	if !errors.As(err, &refused) {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"n": 10_001, "most": 10_000} {
		if f, _ := refused.What.Fact(name); f.Value != want {
			t.Errorf("%s is %g", name, f.Value)
		}
	}
	why, _ := whyUnread(&toolpath.BadLinesError{Bad: 3, Blocks: 40, First: []*toolpath.SyntaxError{{Line: 7, Column: 2}, {Line: 9, Column: 4}}})
	first, _ := why.Fact("first")
	if n, _ := why.Fact("n"); n.Value != 3 {
		t.Errorf("%g are bad", n.Value)
	}
	if of, _ := why.Fact("of"); of.Value != 40 {
		t.Errorf("of %g", of.Value)
	}
	if line, _ := first.Parts[0].Fact("line"); line.Value != 7 {
		t.Errorf("line %g is the first", line.Value)
	}
	if column, _ := first.Parts[0].Fact("column"); column.Value != 2 {
		t.Errorf("column %g", column.Value)
	}
}
