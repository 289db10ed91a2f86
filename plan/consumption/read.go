package consumption

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/process/mesh"
	"hopperful/process/toolpath"
	"hopperful/quantity"
	"hopperful/shop"
)

// Reading says how a file of a print is to be read.
type Reading struct {
	Toolpath toolpath.Options // for G-code
	Mesh     mesh.Options     // for STL and 3MF
	Wall     float64          // wall thickness a mesh is printed with [m]; 0: taken as solid
	Infill   float64          // share of the inside of a mesh that is plastic, 0 to 1
	Copies   int              // of a mesh; 0: one
	Plate    string           // of several sliced plates in a package, by name or number
}

// Found is what a file of a print turned out to be.
type Found struct {
	Need     shop.Need
	Path     *toolpath.Summary // of G-code
	Solid    *mesh.Solid       // of a mesh
	Warnings []fact.Saying     // what to bear in mind
	Kept     bool              // the shop has it under its name
	oddSize  bool              // no workshop prints a part of this size
}

// peek is how much of a file's start is looked at to tell what it is.
const peek = 1024

// ReadNeed reads what a print eats from its file: G-code (plain or gzip), STL
// or 3MF, told apart by content first and name second. It reads from r alone,
// streaming; size is the number of bytes r holds.
func ReadNeed(name string, r io.ReaderAt, size int64, how Reading) (Found, error) {
	head := make([]byte, min(size, peek))
	if n, err := r.ReadAt(head, 0); err != nil && (!errors.Is(err, io.EOF) || n < len(head)) {
		return Found{}, fmt.Errorf("%s could not be read: %w", name, err)
	}
	if size == 0 {
		return Found{}, shop.Refuse(shop.Invalid, "file", fact.Say("need.empty_file", fact.Name("name", name)), fact.Say("need.save_again"))
	}
	stream := func() io.Reader { return io.NewSectionReader(r, 0, size) }
	switch kind(name, head) {
	case "3mf":
		if f, found, err := plateNeed(name, r, size, how); found || err != nil {
			return f, err
		}
		build, err := mesh.Read3MF(r, size, how.Mesh)
		if err != nil {
			return Found{}, unread(name, "3mf", err)
		}
		return meshNeed(name, build.Solid, how)
	case "stl":
		solid, err := mesh.ReadSTL(stream(), how.Mesh)
		if err != nil {
			return Found{}, unread(name, "stl", err)
		}
		return meshNeed(name, solid, how)
	}
	path, err := toolpath.ReadBelieved(func() (io.Reader, error) { return toolpath.Open(stream()) }, how.Toolpath)
	if err != nil {
		return Found{}, unread(name, "g-code", err)
	}
	return pathNeed(name, path, how), nil
}

// kind tells the format of a file by how it starts, and by its name where the
// start could be either.
func kind(name string, head []byte) string {
	ext := strings.ToLower(filepath.Ext(name))
	switch {
	case bytes.HasPrefix(head, []byte("PK\x03\x04")) || ext == ".3mf":
		return "3mf"
	case ext == ".stl" || bytes.HasPrefix(bytes.TrimSpace(head), []byte("solid ")):
		return "stl"
	}
	return "g-code"
}

// pathNeed is the need of a G-code file.
func pathNeed(name string, p toolpath.Summary, how Reading) Found {
	f := Found{Path: &p, Need: shop.Need{
		Name: base(name), From: "g-code", File: filepath.Base(name), Taken: takenPath(p, how.Toolpath.PerRevolution),
		Volume: &p.Volume, Time: &p.TimeLimited, MeanFlow: &p.MeanFlow, PeakFlow: &p.Peak.Flow,
	}}
	for _, w := range p.Warnings {
		f.Warnings = append(f.Warnings, lineWarning(w))
	}
	return f
}

// How a file was taken, as the need keeps it: the code of its wording and, behind
// a space, the measures it is filled with. Older records hold a sentence.
const (
	takenSolid  = "need.taken_solid"
	takenWalls  = "need.taken_walls"
	takenCopies = "need.taken_copies"
)

// takenPath is how E was read, with how thick each filament was or what a turn gives.
func takenPath(p toolpath.Summary, turn float64) string {
	code := fact.TermCode("e_taken", string(p.Taken))
	var all []string
	switch p.Taken {
	case toolpath.GivenTurns:
		all = []string{quantity.Volume.Plain(turn)}
	case toolpath.GivenLength, toolpath.StatedLength, toolpath.UsualLength:
		for _, t := range p.Tools {
			if d := quantity.Length.Plain(t.Diameter); !slices.Contains(all, d) {
				all = append(all, d)
			}
		}
	}
	return strings.TrimSpace(code + " " + strings.Join(all, ", "))
}

// takenOf is the code of how a need's file was taken, and what fills it.
func takenOf(n shop.Need) (how, about string) {
	code, about, _ := strings.Cut(n.Taken, " ")
	if strings.HasPrefix(code, "need.taken_") || strings.HasPrefix(code, "e_taken.") {
		return code, about
	}
	return n.Taken, ""
}

// takenAs is the same as a saying.
func takenAs(n shop.Need) fact.Saying {
	code, about := takenOf(n)
	if code == n.Taken && strings.Contains(code, " ") {
		return fact.Verbatim(code)
	}
	measures := fact.Parts("about")
	for _, one := range strings.Split(about, ", ") {
		part := fact.Verbatim(one)
		for _, kind := range []quantity.Kind{quantity.Length, quantity.Volume, quantity.Share} {
			if v, err := kind.Parse(one); err == nil {
				part = fact.Say("need.measure", fact.Set("of", kind, v))
				break
			}
		}
		measures.Parts = append(measures.Parts, part)
	}
	return fact.Saying{Code: code, Facts: []fact.Fact{measures}}
}

// meshNeed is the need of a solid printed with walls and infill.
func meshNeed(name string, s mesh.Solid, how Reading) (Found, error) {
	if how.Copies < 0 || how.Copies > mostCopies {
		return Found{}, shop.Refuse(shop.Invalid, "copies", fact.Say("need.copies_range", fact.Count("n", how.Copies), fact.Count("most", mostCopies)), fact.Say("need.type_copies"))
	}
	f := Found{Solid: &s, Need: shop.Need{Name: base(name), From: "mesh", File: filepath.Base(name)}}
	for _, w := range s.Warnings {
		if w.Caution != mesh.NotClosed { // told with its remedy
			f.Warnings = append(f.Warnings, meshWarning(w))
		}
	}
	if err := askSize(name, &f, s, how); err != nil {
		return f, err
	}
	volume, low, high := s.Volume, s.Volume, s.Volume
	f.Need.Taken = takenSolid
	if how.Wall > 0 {
		const water = 1000.0 // kg/m³: any density, it is divided out again
		m, err := mesh.Plastic(mesh.Part{Volume: s.Volume, Area: s.Area, Wall: how.Wall, Infill: how.Infill, Density: water})
		if err != nil {
			return f, unread(name, "mesh", err)
		}
		volume, low, high = m.Value/water, m.Low/water, m.High/water
		f.Need.Taken = takenWalls + " " + quantity.Length.Plain(how.Wall) + ", " + quantity.Share.Plain(how.Infill)
	}
	if n := float64(how.Copies); n > 1 {
		volume, low, high = volume*n, low*n, high*n
		if how.Wall > 0 {
			f.Need.Taken += fmt.Sprintf(", %d ×", how.Copies)
		} else {
			f.Need.Taken = fmt.Sprintf("%s %d", takenCopies, how.Copies)
		}
	}
	f.Need.Volume, f.Need.VolumeLo, f.Need.VolumeHi = &volume, &low, &high
	return f, nil
}

// base is a file's name without folder and ending, for the name of the need.
func base(name string) string {
	b := filepath.Base(name)
	for _, ext := range []string{".gz", ".gcode.3mf", ".bgcode", ".gcode", ".gco", ".g", ".stl", ".3mf"} {
		if len(b) > len(ext) && strings.EqualFold(b[len(b)-len(ext):], ext) {
			b = b[:len(b)-len(ext)]
		}
	}
	return b
}

// PerTurn is the melt a screw turn gives [m³] by the record of the first printer
// in use that says it; 0 when none does.
func PerTurn(s *shop.State) float64 {
	for _, p := range s.Printers {
		if !p.Retired && p.PerTurn != nil {
			return *p.PerTurn
		}
	}
	return 0
}
