package consumption

// Reading a file at its edges, and small parts of it, by hand.

import (
	"errors"
	"io"
	"strings"
	"testing"

	"hopperful/polymer"
	"hopperful/process/mesh"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// halting is a file that ends or fails after so many bytes.
type halting struct {
	text string
	err  error
}

func (h halting) ReadAt(p []byte, off int64) (int, error) {
	n := copy(p, h.text[min(int(off), len(h.text)):])
	if n < len(p) || h.err != nil {
		return n, h.err
	}
	return n, nil
}

// A file that ends where it should is read; one that is shorter than it said, or fails, is not.
func TestFilesThatEndEarly(t *testing.T) {
	t.Parallel()
	text := "solid a\n" + strings.Repeat("facet\n", 300)
	failed := errors.New("the disk is gone")
	for i, c := range []struct {
		of     halting
		size   int
		broken bool
	}{
		{halting{text, nil}, len(text), false}, {halting{text[:500], io.EOF}, 900, true}, {halting{text[:500], io.EOF}, 500, false}, {halting{text[:500], failed}, 500, true}, {halting{text, failed}, len(text), true}, {halting{text[:500], failed}, 900, true},
	} {
		_, err := ReadNeed("a.stl", c.of, int64(c.size), Reading{})
		if err == nil {
			t.Fatalf("case %d: half a facet is read", i)
		}
		if got := strings.Contains(err.Error(), "could not be read"); got != c.broken {
			t.Errorf("case %d: %v", i, err)
		}
	}
	var refused *shop.Error
	if _, err := ReadNeed("a.stl", halting{"", io.EOF}, 0, Reading{}); !errors.As(err, &refused) || refused.What.Code != "need.empty_file" {
		t.Errorf("%v", err)
	}
}

// Walls of a millimetre and none, one copy and three: what was taken is told.
func TestWhatWasTakenOfAMesh(t *testing.T) {
	t.Parallel()
	s := mesh.Solid{Volume: 1e-6, Area: 6e-4, Max: [3]float64{0.01, 0.01, 0.01}}
	for i, c := range []struct {
		wall   float64
		copies int
		taken  string
	}{{0, 1, takenSolid}, {0, 3, takenCopies + " 3"}, {1e-3, 1, takenWalls + " 1 mm, 20 %"}, {1e-3, 3, takenWalls + " 1 mm, 20 %, 3 ×"}} {
		f, err := meshNeed("part.stl", s, Reading{Wall: c.wall, Infill: 0.2, Copies: c.copies})
		if err != nil || strings.ReplaceAll(f.Need.Taken, "\u00a0", " ") != c.taken || (*f.Need.Volume < 1e-6*float64(c.copies)*0.999) != (c.wall > 0) {
			t.Errorf("case %d: %q of %g m³, wanted %q; %v", i, f.Need.Taken, *f.Need.Volume, c.taken, err)
		}
	}
	s.Warnings = []mesh.Warning{{Caution: mesh.NotClosed}, {Caution: mesh.UnitAssumed}}
	if f, err := meshNeed("part.stl", s, Reading{}); err != nil || len(f.Warnings) != 1 {
		t.Errorf("%+v, %v", f.Warnings, err)
	}
	s.Warnings = s.Warnings[:1]
	if f, err := meshNeed("part.stl", s, Reading{}); err != nil || len(f.Warnings) != 0 {
		t.Errorf("%+v, %v", f.Warnings, err)
	}
	if got := strings.ReplaceAll(edges([3]float64{1e-3, 0.02, 0.3}), "\u00a0", " "); got != "1 mm × 2 cm × 30 cm" && got != "1 mm × 20 mm × 300 mm" {
		t.Errorf("a box of %s", got)
	}
	for unit, want := range map[string]float64{"mm": 0.001, "cm": 0.01, "m": 1, "inch": 0.0254} {
		if Units[unit] != want {
			t.Errorf("%s are %g m", unit, Units[unit])
		}
	}
}

// The melt of a turn is that of the first printer in use which says it, else nothing.
func TestWhichPrinterTellsATurn(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	set := func(name string, turn *float64, retired bool) *shop.PrinterSet {
		return &shop.PrinterSet{Printer: shop.Printer{Name: name, PerTurn: turn, Retired: retired}}
	}
	for i, c := range []struct {
		of   []shop.Body
		want float64
	}{{nil, 0}, {[]shop.Body{set("a", nil, false)}, 0}, {[]shop.Body{set("a", p(1e-7), true)}, 0}, {[]shop.Body{set("a", p(1e-7), true), set("b", nil, false), set("c", p(3e-7), false), set("d", p(4e-7), false)}, 3e-7}} {
		if got := PerTurn(shoptest.Bin(t, c.of...)); got != c.want {
			t.Errorf("case %d: %g m³", i, got)
		}
	}
}

// A density of the shop's own is its owner's word, one of the books is not.
func TestWhoseDensityItIs(t *testing.T) {
	t.Parallel()
	own := shoptest.Bin(t, &shop.MaterialSet{Polymer: "PLA", Property: string(polymer.Density), Value: 1250, Low: 1240, High: 1260})
	for i, s := range []*shop.State{shoptest.Bin(t), own} {
		table, err := s.Table()
		if err != nil {
			t.Fatal(err)
		}
		pla, err := table.Find("PLA")
		if err != nil {
			t.Fatal(err)
		}
		all, err := spending(s, pla, shop.Need{Volume: shoptest.P(1e-4)})
		if err != nil || all[wantDensity].FromUser != (i == 1) || i == 1 && all[wantDensity].Median != 1250 {
			t.Errorf("%d: %+v, %v", i, all[wantDensity], err)
		}
	}
	if got := NoAmount(shop.Need{Name: "cup"}); !errors.As(got, new(*shop.Error)) {
		t.Errorf("%v", got)
	}
}
