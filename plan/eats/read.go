package eats

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
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
}

// Found is what a file of a print turned out to be.
type Found struct {
	Need     shop.Need
	Path     *toolpath.Summary // of G-code
	Solid    *mesh.Solid       // of a mesh
	Warnings []string          // what to bear in mind, as the readers of files say it
	Kept     bool              // the shop has it under its name
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
		build, err := mesh.Read3MF(r, size, how.Mesh)
		if err != nil {
			return Found{}, unread(name, "3MF model", err)
		}
		return meshNeed(name, build.Solid, how)
	case "stl":
		solid, err := mesh.ReadSTL(stream(), how.Mesh)
		if err != nil {
			return Found{}, unread(name, "STL mesh", err)
		}
		return meshNeed(name, solid, how)
	}
	plain, err := toolpath.Open(stream())
	if err != nil {
		return Found{}, unread(name, "G-code", err)
	}
	path, err := toolpath.Read(plain, how.Toolpath)
	if err != nil {
		return Found{}, unread(name, "G-code", err)
	}
	return pathNeed(name, path), nil
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

// unread says that a file is not what its name promises.
func unread(name, what string, err error) error {
	return fmt.Errorf("%s could not be read as %s: %w", name, what, err)
}

// pathNeed is the need of a G-code file.
func pathNeed(name string, p toolpath.Summary) Found {
	f := Found{Path: &p, Need: shop.Need{
		Name: base(name), From: "g-code", File: filepath.Base(name), Taken: p.Taken,
		Volume: &p.Volume, Time: &p.TimeLimited, MeanFlow: &p.MeanFlow, PeakFlow: &p.Peak.Flow,
	}}
	for _, w := range p.Warnings {
		f.Warnings = append(f.Warnings, fmt.Sprintf("Line %d: %s", w.Line, w.Text))
	}
	return f
}

// How a mesh was taken, as the need keeps it: the code of its wording and, behind
// a space, the measures it is filled with. How G-code was taken is a sentence of
// its reader, and stands as it is.
const (
	takenSolid = "need.taken_solid"
	takenWalls = "need.taken_walls"
)

func takenOf(n shop.Need) (how, about string) {
	if code, rest, ok := strings.Cut(n.Taken, " "); ok && code == takenWalls {
		return code, rest
	}
	return n.Taken, ""
}

// meshNeed is the need of a solid printed with walls and infill.
func meshNeed(name string, s mesh.Solid, how Reading) (Found, error) {
	f := Found{Solid: &s, Need: shop.Need{Name: base(name), From: "mesh", File: filepath.Base(name)}}
	for _, w := range s.Warnings {
		f.Warnings = append(f.Warnings, w.Text)
	}
	volume, low, high := s.Volume, s.Volume, s.Volume
	f.Need.Taken = takenSolid
	if how.Wall > 0 {
		const water = 1000.0 // kg/m³: any density, it is divided out again
		m, err := mesh.Plastic(mesh.Part{Volume: s.Volume, Area: s.Area, Wall: how.Wall, Infill: how.Infill, Density: water})
		if err != nil {
			return f, unread(name, "a printable solid", err)
		}
		volume, low, high = m.Value/water, m.Low/water, m.High/water
		f.Need.Taken = takenWalls + " " + quantity.Length.Plain(how.Wall) + ", " + quantity.Share.Plain(how.Infill)
	}
	f.Need.Volume, f.Need.VolumeLo, f.Need.VolumeHi = &volume, &low, &high
	return f, nil
}

// base is a file's name without folder and ending, for the name of the need.
func base(name string) string {
	b := filepath.Base(name)
	for _, ext := range []string{".gz", ".gcode", ".gco", ".g", ".stl", ".3mf"} {
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
