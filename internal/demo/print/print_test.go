package print_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"testing"

	"hopperful/internal/demo/print"
	"hopperful/process/toolpath"
)

func crate() print.Solid {
	return print.Solid{X: 0.05, Y: 0.04, Width: 0.06, Depth: 0.04, Height: 0.02, Walls: 2, Infill: 0.3}
}

// TestReaderAgrees holds what each generator counted against what the reader of
// toolpaths finds in the file: two accounts of one print.
func TestReaderAgrees(t *testing.T) {
	t.Parallel()
	inlay := print.Solid{X: 0.12, Y: 0.04, Width: 0.02, Depth: 0.02, Height: 0.01, Walls: 1, Infill: 0.5}
	round := print.Round{X: 0.1, Y: 0.1, Radius: 0.03, Height: 0.03, Walls: 2, Floor: 3}
	for name, write := range map[string]func(io.Writer, print.Machine) (print.Made, error){
		"box":  func(w io.Writer, m print.Machine) (print.Made, error) { return print.Box(w, m, crate()) },
		"vase": func(w io.Writer, m print.Machine) (print.Made, error) { return print.Vase(w, m, round) },
		"tray": func(w io.Writer, m print.Machine) (print.Made, error) { return print.Tray(w, m, crate(), inlay) },
	} {
		for _, volumetric := range []bool{true, false} {
			t.Run(fmt.Sprintf("%s volumetric=%t", name, volumetric), func(t *testing.T) {
				t.Parallel()
				m := print.Granule()
				m.Volumetric = volumetric
				var file bytes.Buffer
				made, err := write(&file, m)
				if err != nil {
					t.Fatal(err)
				}
				s, err := toolpath.Read(&file, toolpath.Options{})
				if err != nil {
					t.Fatal(err)
				}
				near(t, "volume", s.Volume, made.Volume)
				near(t, "printed path", s.PrintLength, made.Length)
				for _, tool := range s.Tools {
					near(t, fmt.Sprintf("volume of tool %d", tool.Number), tool.Volume, made.Tool[tool.Number])
				}
				if len(s.Layers) != made.Layers {
					t.Errorf("the reader finds %d layers, %d were written", len(s.Layers), made.Layers)
				}
				for _, w := range s.Warnings {
					t.Errorf("the reader warns at line %d: %v (%s)", w.Line, w.Kind, w.First)
				}
			})
		}
	}
}

// near allows for coordinates written with three digits and E with five.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-4*want {
		t.Errorf("%s: the reader finds %g, the generator counted %g", what, got, want)
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	flat := crate()
	flat.Height = 0
	thick := crate()
	thick.Walls = 99
	odd := crate()
	odd.Infill = math.NaN()
	slow := print.Granule()
	slow.Speed = 0
	for name, err := range map[string]error{
		"no height":    second(print.Box(io.Discard, print.Granule(), flat)),
		"walls":        second(print.Box(io.Discard, print.Granule(), thick)),
		"infill":       second(print.Tray(io.Discard, print.Granule(), crate(), odd)),
		"no speed":     second(print.Box(io.Discard, slow, crate())),
		"no radius":    second(print.Vase(io.Discard, print.Granule(), print.Round{Height: 1, Walls: 1})),
		"many rings":   second(print.Vase(io.Discard, print.Granule(), print.Round{Radius: 0.01, Height: 0.1, Walls: 99})),
		"broken paper": second(print.Box(broken{}, print.Granule(), crate())),
	} {
		if err == nil {
			t.Errorf("%s: no complaint", name)
		}
	}
}

func second(_ print.Made, err error) error { return err }

// broken refuses every write.
type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }
