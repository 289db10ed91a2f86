package demo

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"hopperful/internal/demo/print"
)

// File is something to print, of our own making.
type File struct {
	Name    string  // of the file
	Need    string  // what the shop calls it
	Polymer string  // what it is to be printed of
	Colour  string  // of which colour
	Wall    float64 // for a mesh: walls it is printed with [m]
	Infill  float64 // for a mesh: how full inside
	write   func(io.Writer) error
}

// Files are the invented shop's three things to print.
func Files() []File {
	wedge := loft(ring(4, 34, 1.6, 0.9, 0), ring(4, 34, 1.5, 0.35, 26))
	foot := loft(ring(6, 42, 1, 1, 0), ring(6, 33, 1, 1, 44))
	return []File{
		{Name: "feet.3mf", Need: "four planter feet", Polymer: "PLA", Colour: "black", Wall: 2e-3, Infill: 0.5,
			write: func(w io.Writer) error { return foot.write3MF(w, -150, -50, 50, 150) }},
		{Name: "vase.gcode", Need: "vase", Polymer: "PETG", Colour: "clear", write: writeVase},
		{Name: "wedge.stl", Need: "door wedge", Polymer: "PLA", Colour: "black", Wall: 1.6e-3, Infill: 0.4,
			write: func(w io.Writer) error { return wedge.writeSTL(w, "door wedge, invented") }},
	}
}

// writeVase writes the toolpath of a vase of two walls on the invented printer.
func writeVase(w io.Writer) error {
	_, err := print.Vase(w, print.Granule(), print.Round{X: 0.1, Y: 0.1, Radius: 0.06, Height: 0.18, Walls: 2, Floor: 3})
	return err
}

// WriteFiles writes the files into a folder. One that is there already stays if
// it is the same, and is refused with a [TakenError] if it is not.
func WriteFiles(folder string) error {
	for _, f := range Files() {
		path := filepath.Join(folder, f.Name)
		var text bytes.Buffer
		if err := f.write(&text); err != nil {
			return fmt.Errorf("writing %s: %w", f.Name, err)
		}
		err := place(path, text.Bytes())
		if errors.Is(err, fs.ErrExist) {
			if old, e := os.ReadFile(path); e == nil && bytes.Equal(old, text.Bytes()) {
				continue
			}
			return &TakenError{path}
		}
		if err != nil {
			return fmt.Errorf("writing an example to print: %w", err)
		}
	}
	return nil
}

// place writes a new file, whole or not at all.
func place(path string, text []byte) error {
	if _, err := os.Lstat(path); err == nil {
		return fs.ErrExist
	}
	part := path + ".part"
	if err := os.WriteFile(part, text, 0o644); err != nil {
		return err
	}
	return os.Rename(part, path)
}

// TakenError says that a file of an example's name is something else.
type TakenError struct{ Path string }

// Error names the file.
func (e *TakenError) Error() string {
	return e.Path + " is there already and is another file"
}
