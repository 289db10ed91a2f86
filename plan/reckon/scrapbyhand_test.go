package reckon

// Parts of heaps and loops, by hand.

import (
	"math"
	"testing"

	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/process/colour"
	"hopperful/quantity"
)

// A heap of lots tints as they do by mass: 0.3 of 2 and 0.1 of 4 of four tenths known are 2.5, with the widest doubt of any, half of the logarithm
// of its range in standard deviations.
func TestHowAHeapTints(t *testing.T) {
	t.Parallel()
	part := func(share, value, low, high float64) traceability.ColourPart {
		return traceability.ColourPart{Share: share, Scatter: figure.Figure{Value: value, Low: low, High: high}}
	}
	p := heapPart{strength: 1, doubt: 0.7}
	p.tinting([]traceability.ColourPart{part(0.3, 2, 1, 4), part(0.1, 4, 3.5, 4.5)})
	if math.Abs(p.strength-2.5) > 1e-12 || math.Abs(p.doubt-math.Log(4)/2/1.2815515655446004) > 1e-12 {
		t.Errorf("%g within %g", p.strength, p.doubt)
	}
	p = heapPart{strength: 1, doubt: 0.7}
	if p.tinting(nil); p.strength != 1 || p.doubt != 0.7 {
		t.Errorf("%g within %g of nothing known", p.strength, p.doubt)
	}
}

// What a melt is called in so many of ten cases, one at the least.
func TestHowOftenItIsCalledSo(t *testing.T) {
	t.Parallel()
	for share, n := range map[float64]float64{0.04: 1, 0.1: 1, 0.26: 3, 0.7: 7, 1: 10} {
		said := calledIn(Swatch{Word: "grey"}, []colour.NamedShare{{Name: "grey", Share: share}})
		if f, _ := said.Fact("n"); f.Value != n || said.Code != "reckon.called_that" {
			t.Errorf("%g: %s in %g", share, said.Code, f.Value)
		}
	}
	if said := calledIn(Swatch{Word: "grey"}, []colour.NamedShare{{Name: "brown", Share: 0.5}}); said.Code != "reckon.called" {
		t.Errorf("%s", said.Code)
	}
}

// One of several numbers of a kind is called by it, in its name and formula.
func TestWhatOneOfAKindIsCalled(t *testing.T) {
	t.Parallel()
	r := &reckoning{topic: Topic{Key: "loop"}}
	f := r.add("without_1", quantity.Number, 3).about("light_without", "#102030")
	if f.Name != "reckoned.loop.light_without" || f.How != "how.loop.light_without" || f.About != "#102030" || f.Key != "without_1" {
		t.Errorf("%+v", *f.Figure)
	}
}

// Of what to leave out four are named, of more three and how many more there are; what wins less than two is not worth it.
func TestWhatToLeaveOutIsNamed(t *testing.T) {
	t.Parallel()
	grey := func(v float64) (c colour.Curve) {
		for i := range c {
			c[i] = v
		}
		return c
	}
	names := []string{"a", "b", "c", "d", "e", "f"}
	for n, told := range map[int][2]int{1: {1, 0}, 4: {4, 0}, 5: {3, 2}, 6: {3, 3}} {
		r := &reckoning{topic: Topic{Key: "scrap-colour"}, out: Reckoning{Words: map[string]string{}}}
		g := goal{sign: 1, rest: "light_rest"}
		said, err := r.advise(g, []float64{40}, []step{{names: names[:n], out: 0.3, far: []float64{80}, curve: grey(0.5)}})
		if err != nil {
			t.Fatal(err)
		}
		f, _ := said.Fact("names")
		more := 0
		for _, p := range f.Parts {
			if p.Code == "reckon.more" {
				k, _ := p.Fact("n")
				more = int(k.Value)
			}
		}
		if said.Code != "reckon.leave_out" || len(f.Parts)-min(more, 1) != told[0] || more != told[1] {
			t.Errorf("of %d: %d parts, %d more", n, len(f.Parts), more)
		}
		if share, _ := said.Fact("share"); share.Value != 0.3 {
			t.Errorf("%g is left out", share.Value)
		}
	}
	for gain, code := range map[float64]string{1.9: "reckon.wins_little", 2.1: "reckon.leave_out"} {
		r := &reckoning{topic: Topic{Key: "scrap-colour"}, out: Reckoning{Words: map[string]string{}}}
		said, err := r.advise(goal{sign: 1, rest: "light_rest"}, []float64{40}, []step{{names: names[:1], out: 0.3, far: []float64{40 + gain}, curve: grey(0.5)}})
		if err != nil || said.Code != code {
			t.Errorf("%g lighter: %s, %v", gain, said.Code, err)
		}
	}
	// The fewest that win half of what all of them could.
	r := &reckoning{topic: Topic{Key: "scrap-colour"}, out: Reckoning{Words: map[string]string{}}}
	said, err := r.advise(goal{sign: -1, rest: "light_rest"}, []float64{40}, []step{{names: names[:1], out: 0.1, far: []float64{33}, curve: grey(0.5)}, {names: names[:2], out: 0.2, far: []float64{29}, curve: grey(0.5)}, {names: names[:3], out: 0.3, far: []float64{20}, curve: grey(0.5)}})
	if share, _ := said.Fact("share"); err != nil || share.Value != 0.2 {
		t.Errorf("%g is left out, %v", share.Value, err)
	}
}

// What a loop's property follows from, is called and is bound by.
func TestWhatALoopIsBoundBy(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		l     loop
		how   string
		key   string
		ratio bool
	}{
		{loop{flow: true, cut: true, water: 1e-3}, "how.loop.flow_wet", "move", true}, {loop{flow: true}, "how.loop.flow_dry", "move", true}, {loop{flow: true, cut: true}, "how.loop.flow_dry", "move", true}, {loop{cut: true, water: 1e-3}, "how.loop.strength_wet", "keep", false}, {loop{}, "how.loop.strength_dry", "keep", false},
	} {
		if c.l.how() != c.how || c.l.boundKey() != c.key || (c.l.kind() == quantity.Number) != c.ratio {
			t.Errorf("case %d: %s, %s, %v", i, c.l.how(), c.l.boundKey(), c.l.kind())
		}
	}
}
