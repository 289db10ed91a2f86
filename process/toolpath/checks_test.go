package toolpath_test

import (
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/toolpath"
)

// TestChecks runs checks.csv. A row gives G-code, | standing for the line end, or
// a file; and which results are wanted.
func TestChecks(t *testing.T) {
	t.Parallel()
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{"Read": func(in checkrow.Inputs) ([]float64, error) {
		var r io.Reader = strings.NewReader(strings.ReplaceAll(in.Word("code"), "|", "\n"))
		if in.Has("file") {
			f, err := os.Open(in.Word("file"))
			if err != nil {
				return nil, err
			}
			defer f.Close()
			r = f
		}
		s, err := toolpath.Read(r, options(in))
		if err != nil {
			return nil, err
		}
		var got []float64
		for _, name := range strings.Fields(in.Word("of")) {
			v, err := result(s, name)
			if err != nil {
				return nil, err
			}
			got = append(got, v...)
		}
		return got, nil
	}})
}

func options(in checkrow.Inputs) toolpath.Options {
	num := func(name string) float64 {
		if in.Has(name) {
			return in.Num(name)
		}
		return 0
	}
	e := map[string]toolpath.EMeaning{
		"filament": toolpath.EFilament, "volume": toolpath.EVolume, "revolution": toolpath.ERevolution,
	}[in.Word("e")]
	return toolpath.Options{E: e, Diameter: num("diameter"), PerRevolution: num("perturn"),
		Acceleration: num("acceleration"), Jump: num("jump"), Window: num("window")}
}

// result looks a name of the of-list up in a summary.
func result(s toolpath.Summary, name string) ([]float64, error) {
	one := map[string]float64{
		"volume": s.Volume, "filament": s.Filament, "time": s.Time, "limited": s.TimeLimited,
		"meanflow": s.MeanFlow, "print": s.PrintLength, "path": s.PrintLength + s.TravelLength, "travel": s.TravelLength,
		"startvolume": s.StartVolume, "peak": s.Peak.Flow, "peakline": float64(s.Peak.Line), "bed": s.Bed,
		"arcs": float64(s.Count.Arcs), "retractions": float64(s.Count.Retractions), "warnings": warned(s),
	}
	if v, ok := one[name]; ok {
		return []float64{v}, nil
	}
	switch name {
	case "box":
		return []float64{s.Box.Min[0], s.Box.Min[1], s.Box.Max[0], s.Box.Max[1]}, nil
	case "zbox":
		return []float64{s.Box.Min[2], s.Box.Max[2]}, nil
	case "tools":
		return each(s.Tools, func(t toolpath.Tool) float64 { return t.Volume }), nil
	case "filaments":
		return each(s.Tools, func(t toolpath.Tool) float64 { return t.Filament }), nil
	case "nozzles":
		return each(s.Tools, func(t toolpath.Tool) float64 { return t.Nozzle }), nil
	case "layerz":
		return each(s.Layers, func(l toolpath.Layer) float64 { return l.Z }), nil
	case "layervolume", "layervolumes":
		return each(s.Layers, func(l toolpath.Layer) float64 { return l.Volume }), nil
	case "layerpeaks":
		return each(s.Layers, func(l toolpath.Layer) float64 { return l.Peak }), nil
	}
	return nil, fmt.Errorf("no result is called %q", name)
}

// warned counts kinds of warning, without the one about a missing last line end,
// which every row in the table has.
func warned(s toolpath.Summary) float64 {
	n := 0
	for _, w := range s.Warnings {
		if w.Kind != toolpath.CutOff {
			n++
		}
	}
	return float64(n)
}

func each[T any](all []T, f func(T) float64) []float64 {
	v := make([]float64, len(all))
	for i, x := range all {
		v[i] = f(x)
	}
	return v
}

// TestTablesAddUp holds the parts of each sample file against its totals.
func TestTablesAddUp(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"box.gcode", "vase.gcode", "tray.gcode", "planes.nc"} {
		f, err := os.Open("testdata/" + name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := toolpath.Read(f, toolpath.Options{})
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		volume, tools, filament, extruding, limited, peak := s.StartVolume, 0.0, 0.0, 0.0, s.StartTime, 0.0
		for _, l := range s.Layers {
			volume += l.Volume
			limited += l.Time
			peak = math.Max(peak, l.Peak)
		}
		for _, tool := range s.Tools {
			tools += tool.Volume
			filament += tool.Filament
			extruding += tool.Time
		}
		for what, pair := range map[string][2]float64{
			"volume by layer": {volume, s.Volume}, "volume by tool": {tools, s.Volume},
			"filament by tool": {filament, s.Filament}, "time by tool": {extruding, s.ExtrudingTime},
			"time by layer": {limited, s.TimeLimited}, "peak by layer": {peak, s.Peak.Flow},
			"mean flow": {s.MeanFlow * s.ExtrudingTime, s.Volume},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9*pair[1] {
				t.Errorf("%s: %s is %g, the total %g", name, what, pair[0], pair[1])
			}
		}
		if s.TimeLimited < s.Time || s.ExtrudingTime > s.Time {
			t.Errorf("%s: times out of order: extruding %g, by feed rate %g, with acceleration %g",
				name, s.ExtrudingTime, s.Time, s.TimeLimited)
		}
	}
}
