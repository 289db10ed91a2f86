package consumption_test

import (
	"bytes"
	"compress/gzip"
	"errors"
	"math"
	"strings"
	"testing"

	"hopperful/plan/consumption"
	"hopperful/shop"
)

// line extrudes 100 mm of 1.75 mm filament: π/4 · 1.75² · 100 = 240.528 mm³.
const line = "M83\nG1 X0 Y0 Z0.2 F3000\nG1 X50 E100 F600\n"

// tetrahedron has legs of 10, 20 and 30 mm: its volume is 10·20·30/6 = 1000 mm³.
const tetrahedron = `solid corner
facet normal 0 0 0
outer loop
vertex 0 0 0
vertex 0 20 0
vertex 10 0 0
endloop
endfacet
facet normal 0 0 0
outer loop
vertex 0 0 0
vertex 10 0 0
vertex 0 0 30
endloop
endfacet
facet normal 0 0 0
outer loop
vertex 0 0 0
vertex 0 0 30
vertex 0 20 0
endloop
endfacet
facet normal 0 0 0
outer loop
vertex 10 0 0
vertex 0 20 0
vertex 0 0 30
endloop
endfacet
endsolid corner
`

func read(t *testing.T, name, text string, how consumption.Reading) (consumption.Found, error) {
	t.Helper()
	return consumption.ReadNeed(name, bytes.NewReader([]byte(text)), int64(len(text)), how)
}

func packed(t *testing.T, text string) string {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write([]byte(text)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestNeedsAreReadByContent(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text, from, need string
		volume                 float64 // m³
	}{
		{"part.gcode", line, "g-code", "part", math.Pi / 4 * 1.75 * 1.75 * 100 * 1e-9},
		{"PART.GCO", line, "g-code", "PART", math.Pi / 4 * 1.75 * 1.75 * 100 * 1e-9},
		{"part.gcode.gz", packed(t, line), "g-code", "part", math.Pi / 4 * 1.75 * 1.75 * 100 * 1e-9},
		{"corner.stl", tetrahedron, "mesh", "corner", 1000e-9},
	} {
		found, err := read(t, c.name, c.text, consumption.Reading{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		n := found.Need
		if n.From != c.from || n.Name != c.need || n.Taken == "" {
			t.Errorf("%s: got %+v", c.name, n)
		}
		if math.Abs(*n.Volume-c.volume) > 1e-9*c.volume {
			t.Errorf("%s: %g m³, want %g", c.name, *n.Volume, c.volume)
		}
	}
}

func TestAMeshWithWallsEatsLess(t *testing.T) {
	t.Parallel()
	solid, err := read(t, "corner.stl", tetrahedron, consumption.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	hollow, err := read(t, "corner.stl", tetrahedron, consumption.Reading{Wall: 0.0008, Infill: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	n := hollow.Need
	if !(*n.VolumeLo <= *n.Volume && *n.Volume <= *n.VolumeHi && *n.Volume < *solid.Need.Volume) {
		t.Errorf("%g to %g to %g m³ of %g m³", *n.VolumeLo, *n.Volume, *n.VolumeHi, *solid.Need.Volume)
	}
}

func TestFilesThatAreNoPrintAreRefusedWithTheirName(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{
		"empty.gcode":  "",
		"cut.stl":      tetrahedron[:200],
		"not.3mf":      "PK\x03\x04 and then nothing",
		"moves.gcode":  "G1 X10\nG1 Y10\n",
		"binary.gcode": "\x00\x01\x02\x00\x00\xff\xfe" + strings.Repeat("\x00", 500),
	} {
		_, err := read(t, name, text, consumption.Reading{})
		var refused *shop.Error
		if errors.As(err, &refused) && refused.What.Text("name") == name {
			continue
		}
		if err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: got %v", name, err)
		}
	}
	var refusal *shop.Error
	if _, err := read(t, "empty.gcode", "", consumption.Reading{}); !errors.As(err, &refusal) || refusal.Field != "file" {
		t.Error("an empty file is a refusal of the field file")
	}
}
