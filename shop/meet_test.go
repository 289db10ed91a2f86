package shop

import "testing"

// TestAPrintClosesItsNeed: by the need's name, or by its own where that was saved before; a
// failed print leaves the need open.
func TestAPrintClosesItsNeed(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		print Printed
		done  bool
	}{
		"by its name":       {Printed{From: "R1", Need: "bracket", Print: "first try", Mass: 0.1}, true},
		"by the print's":    {Printed{From: "R1", Print: "bracket", Mass: 0.1, Good: Yes}, true},
		"failed":            {Printed{From: "R1", Need: "bracket", Print: "bracket", Mass: 0.1, Good: No}, false},
		"something else":    {Printed{From: "R1", Print: "hook", Mass: 0.1}, false},
		"of another's name": {Printed{From: "R1", Need: "hook", Print: "bracket", Mass: 0.1}, false},
	} {
		s := write(t, bench(t), Record{Body: &NeedSet{Need{Name: "hook", From: "typed", Mass: kg(0.1)}}}, Record{Body: &c.print})
		if n, _ := s.Need("bracket"); n.Done != c.done {
			t.Errorf("%s: done is %t", name, n.Done)
		}
	}
	// Saved anew it is wanted again, and a print of before it was saved was another.
	s := write(t, bench(t), Record{Body: &Printed{From: "R1", Print: "bracket", Mass: 0.1}}, Record{Body: &NeedSet{Need{Name: "bracket", From: "typed", Mass: kg(0.1)}}})
	if n, _ := s.Need("bracket"); n.Done {
		t.Error("a need saved anew is done")
	}
	s = write(t, bench(t), Record{Body: &Printed{From: "R1", Print: "lid", Mass: 0.1}}, Record{Body: &NeedSet{Need{Name: "lid", From: "typed", Mass: kg(0.1)}}})
	if n, _ := mustFold(t, s.History.List()).Need("lid"); n.Done {
		t.Error("a need is done by a print of before")
	}
}

// TestPlasticsAreSpelledAsInTheTable, whatever the edge.
func TestPlasticsAreSpelledAsInTheTable(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &TakenIn{Class: Scrap, Polymer: "pla", Mass: 1}}, Record{Body: &TakenIn{Class: Scrap, Polymer: "our own mix", Mass: 1}},
		Record{Body: &Sorted{From: "S4", Into: []Part{{Mass: 0.2, Polymer: "petg"}}}})
	if a, b, c := s.Lots.At("S3").Polymer, s.Lots.At("S4").Polymer, s.Lots.At("S5").Polymer; a != "PLA" || b != "our own mix" || c != "PETG" {
		t.Errorf("they are %q, %q and %q", a, b, c)
	}
}
