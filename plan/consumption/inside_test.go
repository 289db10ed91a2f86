package consumption

// What a file is, whether a part has the size of one, and which case stands for a share of all, by hand.

import (
	"math"
	"testing"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/process/mesh"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A file is told by how it starts before how it is called; a package (ISO/IEC 21320-1) starts with PK and the bytes 3 and 4.
func TestWhatAFileIs(t *testing.T) {
	t.Parallel()
	for i, c := range []struct{ name, head, kind string }{
		{"part.3mf", "anything", "3mf"}, {"PART.3MF", "", "3mf"}, {"part.gcode", "PK\x03\x04more", "3mf"}, {"part.stl", "PK\x03\x04", "3mf"}, {"part.gcode", "PK\x03\x05", "g-code"},
		{"part.stl", "\x00\x00", "stl"}, {"PART.STL", "", "stl"}, {"part.txt", "solid cube\n", "stl"}, {"part.txt", " \t\nsolid cube", "stl"}, {"part.txt", "solidity", "g-code"},
		{"part.gcode", "; a comment", "g-code"}, {"part", "", "g-code"},
	} {
		if got := kind(c.name, []byte(c.head)); got != c.kind {
			t.Errorf("case %d: %s", i, got)
		}
	}
	for name, want := range map[string]string{"a/b/hook.gcode": "hook", "hook.gcode.gz": "hook", "Hook.GCODE": "Hook", "hook.gcode.3mf": "hook", "hook.bgcode": "hook", ".stl": ".stl", "hook.v2.stl": "hook.v2", "hook.txt": "hook.txt"} {
		if got := base(name); got != want {
			t.Errorf("%s is called %s", name, got)
		}
	}
	if code, about := takenOf(shop.Need{Taken: takenWalls + " 1.2 mm, 15 %"}); code != takenWalls || about != "1.2 mm, 15 %" {
		t.Errorf("%q %q", code, about)
	}
	if code, about := takenOf(shop.Need{Taken: "by its moves"}); code != "by its moves" || about != "" {
		t.Errorf("%q %q", code, about)
	}
}

// Up to two metres and 0.1 m³, from half a millimetre; beyond that the unit is asked for, unless somebody named it.
func TestWhichSizesAreAskedAbout(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		edge, volume float64
		assumed      bool
		unit         float64
		refused, odd bool
	}{
		{2, 0.1, true, 0, false, false}, {2.001, 0.1, true, 0, true, false}, {2, 0.1001, true, 0, true, false}, {0.5e-3, 1e-12, true, 0, false, false}, {0.49e-3, 1e-12, true, 0, true, false},
		{2.001, 0.1, false, 0, false, true}, {2.001, 0.1, true, 1e-3, false, true}, {0.49e-3, 1e-12, false, 0, false, true},
	} {
		s := mesh.Solid{Volume: c.volume, Min: [3]float64{-1, 0, 0}, Max: [3]float64{-1 + 1e-4, c.edge, 1e-4}}
		if c.assumed {
			s.Warnings = []mesh.Warning{{Caution: mesh.UnitAssumed}}
		}
		var f Found
		err := askSize("part.stl", &f, s, Reading{Mesh: mesh.Options{Unit: c.unit}})
		if (err != nil) != c.refused || f.oddSize != c.odd {
			t.Errorf("case %d: odd %t, %v", i, f.oddSize, err)
		}
	}
}

// Copies multiply the volume, one and none do not; there are ten thousand at the most.
func TestCopiesOfAMesh(t *testing.T) {
	t.Parallel()
	s := mesh.Solid{Volume: 1e-6, Area: 6e-4, Max: [3]float64{0.01, 0.01, 0.01}}
	for copies, want := range map[int]float64{0: 1e-6, 1: 1e-6, 2: 2e-6, 10_000: 1e-2} {
		f, err := meshNeed("a.stl", s, Reading{Copies: copies})
		if err != nil || math.Abs(*f.Need.Volume/want-1) > 1e-12 || *f.Need.VolumeLo != *f.Need.Volume || *f.Need.VolumeHi != *f.Need.Volume || (f.Need.Taken == takenSolid) != (copies < 2) {
			t.Errorf("%d copies: %+v, %v", copies, f.Need, err)
		}
	}
	for _, copies := range []int{-1, 10_001} {
		if _, err := meshNeed("a.stl", s, Reading{Copies: copies}); err == nil {
			t.Errorf("%d copies are taken", copies)
		}
	}
	one, err := meshNeed("a.stl", s, Reading{Wall: 1e-3, Infill: 0.2})
	three, err2 := meshNeed("a.stl", s, Reading{Wall: 1e-3, Infill: 0.2, Copies: 3})
	if err != nil || err2 != nil || math.Abs(*three.Need.Volume-3**one.Need.Volume) > 1e-15 || math.Abs(*three.Need.VolumeLo-3**one.Need.VolumeLo) > 1e-15 || math.Abs(*three.Need.VolumeHi-3**one.Need.VolumeHi) > 1e-15 {
		t.Errorf("%+v and %+v", one.Need, three.Need)
	}
}

// Of four cases the second stands for a quarter up to a half; cases beside two draws are those of a quarter and three quarters, in their order.
func TestWhichCaseStandsForAShare(t *testing.T) {
	t.Parallel()
	w := Wanting{amounts: []Amount{{Want: 1}, {Want: 2}, {Want: 3}, {Want: 4}}}
	for share, want := range map[float64]float64{-1: 1, 0: 1, 0.24: 1, 0.25: 2, 0.49: 2, 0.5: 3, 0.99: 4, 1: 4, 2: 4} {
		if got := w.At(share).Want; got != want {
			t.Errorf("case %g stands for %g", got, share)
		}
	}
	if got := w.Beside([]float64{9, 3}); got[0].Want != 4 || got[1].Want != 2 {
		t.Errorf("%+v", got)
	}
	if got := w.Beside([]float64{5, 5, 1}); got[2].Want != 1 || got[0].Want != 3 || got[1].Want != 4 {
		t.Errorf("%+v", got)
	}
}

// A weighed purge moves the books' by precisions: the logarithms' variances of the book are (ln(high/low)/(2·1.2816))² whole, a quarter
// of it or more between shops; two prints of 10 g in 110 g weigh 1/10 each.
func TestAPurgeByHand(t *testing.T) {
	t.Parallel()
	print := func(purged *float64) shop.Body {
		return &shop.Printed{From: "R1", Print: "hook", Mass: 0.11, Purged: purged, Good: shop.Yes}
	}
	book := estimate.Belief{Median: 0.04, Low: 0.04 / 4, High: 0.04 * 4}
	at := func(bodies ...shop.Body) estimate.Belief {
		return purged(shoptest.Bin(t, append([]shop.Body{&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 5}}, bodies...)...), book)
	}
	if got := at(print(nil)); got.Median != 0.04 || got.Runs != 0 {
		t.Errorf("%+v", got)
	}
	if got := at(print(shoptest.P(0.11))); got.Median != 0.04 || got.Runs != 0 { // nothing was printed of it
		t.Errorf("%+v", got)
	}
	whole := math.Log(4) / answer.Ninety
	between := whole*whole - 0.25
	precision := 1/between + 2/0.25
	mid := (math.Log(0.04)/between + 2*math.Log(0.1)/0.25) / precision
	half := answer.Ninety * math.Sqrt(0.25+1/precision)
	if got := at(print(shoptest.P(0.01)), print(shoptest.P(0.01))); math.Abs(got.Median-math.Exp(mid)) > 1e-9 || math.Abs(got.Low-math.Exp(mid-half)) > 1e-9 || math.Abs(got.High-math.Exp(mid+half)) > 1e-9 || got.Runs != 2 || len(got.Records) != 2 {
		t.Errorf("%+v, by hand %g", got, math.Exp(mid))
	}
	// Nothing purged counts as a thousandth.
	mid = (math.Log(0.04)/between + math.Log(1e-3)/0.25) / (1/between + 4)
	if got := at(print(shoptest.P(0))); math.Abs(got.Median-math.Exp(mid)) > 1e-9 {
		t.Errorf("%+v, by hand %g", got, math.Exp(mid))
	}
	// A narrow book leaves a quarter of the scatter between shops.
	book.Low, book.High = 0.04/1.01, 0.04*1.01
	mid = (math.Log(0.04)/0.0625 + math.Log(0.1)/0.25) / (16 + 4)
	if got := at(print(shoptest.P(0.01))); math.Abs(got.Median-math.Exp(mid)) > 1e-9 {
		t.Errorf("%+v, by hand %g", got, math.Exp(mid))
	}
}

// Whose word a number is: taught, entered, judged, read off a part, or a book's; sums of parts add their ends.
func TestWhoseWordANumberIs(t *testing.T) {
	t.Parallel()
	cited := estimate.Prior()[estimate.Purge].Source
	for i, c := range []struct {
		one   estimate.Belief
		basis figure.Basis
	}{{estimate.Belief{Runs: 1, FromUser: true}, figure.Learned}, {estimate.Belief{FromUser: true}, figure.Entered}, {estimate.Belief{}, figure.Measured}} {
		if f := beliefFigure(c.one); f.Basis != c.basis || len(f.Sources) != 0 {
			t.Errorf("case %d: %s", i, f.Basis)
		}
	}
	if f := beliefFigure(estimate.Belief{Key: "purge", Source: cited}); f.Name != "need.purge" || len(f.Sources) != 1 {
		t.Errorf("%+v", f)
	}
	part := figure.Figure{Kind: quantity.Mass, Value: 2, Low: 1, High: 4}
	if sum := Together([]figure.Figure{part, part, part}); sum.Value != 6 || sum.Low != 3 || sum.High != 12 {
		t.Errorf("%+v", sum)
	}
}
