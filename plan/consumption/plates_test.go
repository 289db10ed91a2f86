package consumption_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/plan/consumption"
	"hopperful/process/mesh"
	"hopperful/shop"
)

// job packs plates of G-code as parts of a package.
func job(t *testing.T, parts ...string) string {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.Create(parts[i])
		if err == nil {
			_, err = io.WriteString(w, parts[i+1])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// refusedAt is the field of a refusal.
func refusedAt(err error) string {
	var own *shop.Error
	if errors.As(err, &own) {
		return own.Field
	}
	return ""
}

func TestPlatesOfAPackage(t *testing.T) {
	t.Parallel()
	twice := strings.Replace(line, "E100", "E200", 1)
	one := job(t, "Metadata/plate_1.gcode", line)
	two := job(t, "Metadata/plate_2.gcode", twice, "Metadata/plate_10.gcode", line, "3D/x.png", "")
	volume := math.Pi / 4 * 1.75 * 1.75 * 100 * 1e-9
	for _, c := range []struct {
		file, plate, need, refused string
		volume                     float64
	}{
		{one, "", "job", "", volume},
		{two, "", "", "plate", 0},
		{two, "1", "job plate_2", "", 2 * volume},
		{two, "Plate_10", "job plate_10", "", volume},
		{two, "7", "", "plate", 0},
	} {
		found, err := read(t, "job.gcode.3mf", c.file, consumption.Reading{Plate: c.plate})
		if refusedAt(err) != c.refused || (err == nil) != (c.refused == "") {
			t.Errorf("plate %q: %v", c.plate, err)
			continue
		}
		if err == nil && (found.Need.Name != c.need || math.Abs(*found.Need.Volume/c.volume-1) > 1e-9 || found.Need.From != "g-code") {
			t.Errorf("plate %q: %+v", c.plate, found.Need)
		}
	}
}

func TestUnitAndCopiesOfAMesh(t *testing.T) {
	t.Parallel()
	huge := strings.NewReplacer("10 0 0", "10000 0 0", "0 20 0", "0 20 0", "0 0 30", "0 0 30").Replace(tetrahedron)
	for _, c := range []struct {
		text    string
		how     consumption.Reading
		volume  float64
		refused string
	}{
		{tetrahedron, consumption.Reading{Copies: 3}, 3000e-9, ""},
		{tetrahedron, consumption.Reading{Mesh: mesh.Options{Unit: consumption.Units["inch"]}}, 1000e-9 * 25.4 * 25.4 * 25.4, ""},
		{tetrahedron, consumption.Reading{Copies: 20_000}, 0, "copies"},
		{huge, consumption.Reading{}, 0, "unit"},
		{huge, consumption.Reading{Mesh: mesh.Options{Unit: consumption.Units["mm"]}}, 1000e-6, ""},
	} {
		found, err := read(t, "corner.stl", c.text, c.how)
		if refusedAt(err) != c.refused || (err == nil) != (c.refused == "") {
			t.Errorf("%+v: %v", c.how, err)
			continue
		}
		if err == nil && math.Abs(*found.Need.Volume/c.volume-1) > 1e-6 {
			t.Errorf("%+v: %g m³, wanted %g", c.how, *found.Need.Volume, c.volume)
		}
	}
}

func TestWarningsHaveACountAndTheLine(t *testing.T) {
	t.Parallel()
	found, err := read(t, "part.gcode", line+"PURGE_LINE A=1\nPURGE_LINE A=2\n; filament_diameter = 2.85\n; total filament used [g] = 99\n; filament_density = 1.24\n", consumption.Reading{})
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(say.For("en").All(found.Warnings), "\n")
	for _, want := range []string{"Line 4 and 1 more: ", `("PURGE_LINE A=1")`, "79.8 ml"} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in %s", want, all)
		}
	}
	if v := math.Pi / 4 * 2.85 * 2.85 * 100 * 1e-9; math.Abs(*found.Need.Volume/v-1) > 1e-9 || !strings.Contains(found.Need.Taken, "2.85 mm") {
		t.Errorf("%g m³: %s", *found.Need.Volume, found.Need.Taken)
	}
}
