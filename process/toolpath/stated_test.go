package toolpath_test

import (
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"hopperful/process/toolpath"
)

// believed reads a text as its own comments say.
func believed(t *testing.T, text string, opt toolpath.Options) toolpath.Summary {
	t.Helper()
	s, err := toolpath.ReadBelieved(func() (io.Reader, error) { return strings.NewReader(text), nil }, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestBelieved: 100 mm or 100 mm³ of E, and what comments make of it. Own derivation:
// π/4 d² l.
func TestBelieved(t *testing.T) {
	t.Parallel()
	const move = "M83\nG1 X100 E100 F600\n"
	length := func(d float64) float64 { return math.Pi / 4 * d * d * 0.1 }
	for name, c := range map[string]struct {
		text   string
		opt    toolpath.Options
		volume float64
		from   toolpath.Origin
		warned bool
	}{
		"nothing said":            {move, toolpath.Options{}, length(1.75e-3), toolpath.FromDefault, false},
		"usual diameter":          {"; filament_diameter = 1.75\n" + move, toolpath.Options{}, length(1.75e-3), toolpath.FromDefault, false},
		"thick, at the end":       {move + "; filament_diameter = 2.85\n", toolpath.Options{}, length(2.85e-3), toolpath.FromFile, false},
		"thick, with a unit":      {";Material Diameter: 2.85 mm\n" + move, toolpath.Options{}, length(2.85e-3), toolpath.FromFile, false},
		"thick, a list":           {"; filament_diameter = 2.85,2.85,1.75\n" + move, toolpath.Options{}, length(2.85e-3), toolpath.FromFile, false},
		"by length and volume":    {"; filament used [mm] = 100\n; filament used [cm3] = 0.638\n" + move, toolpath.Options{}, math.Pi / 4 * 4 * 0.638e-6 / math.Pi, toolpath.FromFile, false},
		"by volume alone":         {";Filament used: 100mm3\n" + move, toolpath.Options{}, 100e-9, toolpath.FromFile, false},
		"by mass and density":     {"; total filament used [g] = 0.124\n; filament_density: 1.24\n" + move, toolpath.Options{}, 100e-9, toolpath.FromFile, false},
		"by a flag":               {"; use_volumetric_e = 1\n" + move, toolpath.Options{}, 100e-9, toolpath.FromFile, false},
		"by a flavour":            {";FLAVOR: with volumetric E\n" + move, toolpath.Options{}, 100e-9, toolpath.FromFile, false},
		"by a bare number":        {";MATERIAL:100\n" + move, toolpath.Options{}, 100e-9, toolpath.FromFile, false},
		"agrees with its mass":    {"; filament used [g] = 0.30\n; filament_density = 1.24\n" + move, toolpath.Options{}, length(1.75e-3), toolpath.FromDefault, false},
		"contradicts its mass":    {"; filament used [g] = 30\n; filament_density = 1.24\n" + move, toolpath.Options{}, length(1.75e-3), toolpath.FromDefault, true},
		"contradicts its length":  {";Filament used: 5m\n" + move, toolpath.Options{}, length(1.75e-3), toolpath.FromDefault, true},
		"the caller knows better": {"; filament_diameter = 2.85\n" + move, toolpath.Options{Diameter: 1.75e-3}, length(1.75e-3), toolpath.FromDefault, true},
		"the caller says length":  {"; use_volumetric_e = 1\n" + move, toolpath.Options{E: toolpath.EFilament}, length(1.75e-3), toolpath.FromOption, true},
		"M200 knows better":       {"; filament_diameter = 2.85\nM200 D2.85\n" + move, toolpath.Options{}, 100e-9, toolpath.FromFile, false},
		"a name is no number":     {";MATERIAL: PLA\n; filament_type = PLA\n; filament_diameter = thick\n" + move, toolpath.Options{}, length(1.75e-3), toolpath.FromDefault, false},
		"a price is no use":       {"; filament cost = 30\n; total filament used for purging [g] = 999\n" + move, toolpath.Options{}, length(1.75e-3), toolpath.FromDefault, false},
		"absurd":                  {"; filament_diameter = 2850\n" + move, toolpath.Options{}, length(1.75e-3), toolpath.FromDefault, false},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := believed(t, c.text, c.opt)
			if math.Abs(s.Volume/c.volume-1) > 1e-9 || s.EFrom != c.from {
				t.Errorf("%g mm³ from %v, wanted %g from %v: %s", s.Volume*1e9, s.EFrom, c.volume*1e9, c.from, s.Taken)
			}
			told := false
			for _, w := range s.Warnings {
				told = told || w.Kind == toolpath.SaysOtherwise
			}
			if told != c.warned {
				t.Errorf("told of a contradiction: %v, wanted %v; %v", told, c.warned, s.Warnings)
			}
		})
	}
}

// TestBelievedByTool gives each tool its own filament.
func TestBelievedByTool(t *testing.T) {
	t.Parallel()
	s := believed(t, "; filament_diameter = 1.75, 2.85\nM83\nT0\nG1 X10 E10 F600\nT1\nG1 X20 E10\n", toolpath.Options{})
	area := func(d float64) float64 { return math.Pi / 4 * d * d * 0.01 }
	if len(s.Tools) != 2 || math.Abs(s.Tools[0].Volume/area(1.75e-3)-1) > 1e-9 || math.Abs(s.Tools[1].Volume/area(2.85e-3)-1) > 1e-9 {
		t.Errorf("tools %v", s.Tools)
	}
	if s.Taken != toolpath.StatedLength {
		t.Errorf("taken: %s", s.Taken)
	}
}

// TestLoading: what is pulled back before a tool change and pushed after it is not printed.
func TestLoading(t *testing.T) {
	t.Parallel()
	area := math.Pi / 4 * 1.75e-3 * 1.75e-3 * 1e-3 // of 1 mm [m³]
	for name, c := range map[string]struct {
		text          string
		printed, load float64 // mm
	}{
		"a first load of the second": {"M83\nT0\nG1 X10 E5 F600\nG1 E-80\nT1\nG1 E80\nG1 X20 E5\n", 10, 80},
		"in steps, with more":        {"M83\nT0\nG1 X10 E5 F600\nG1 E-15\nG1 E-65\nT1\nG1 E70\nG1 E20\nG1 X20 E5\n", 20, 80},
		"back to the first":          {"M83\nT0\nG1 X10 E5 F600\nG1 E-80\nT1\nG1 E80\nG1 X20 E5\nG1 E-80\nT0\nG1 E80\nG1 X30 E5\n", 15, 80},
		"cooling moves between":      {"M83\nT0\nG1 X10 E5 F600\nG1 E-80\nG1 E10\nG1 E-10\nT1\nG1 E80\nG1 X20 E5\n", 10, 80},
		"a short retraction":         {"M83\nT0\nG1 X10 E5 F600\nG1 E-10\nT1\nG1 E12\nG1 X20 E5\n", 22, 0},
		"no change of tool":          {"M83\nT0\nG1 X10 E5 F600\nG1 E-80\nG1 E80\nG1 X20 E5\n", 10, 0},
		"purged while moving":        {"M83\nT0\nG1 X10 E5 F600\nG1 E-80\nT1\nG1 E80\nG1 X20 E30\nG1 E50\n", 85, 80},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := read(t, c.text)
			if math.Abs(s.Volume/area-c.printed) > 1e-6 || math.Abs(s.Loaded/area-c.load) > 1e-6 {
				t.Errorf("printed %g mm, loaded %g mm; wanted %g and %g", s.Volume/area, s.Loaded/area, c.printed, c.load)
			}
		})
	}
}

// TestHarmlessLines: lines that stand in nearly every file and push nothing out.
func TestHarmlessLines(t *testing.T) {
	t.Parallel()
	s := read(t, "M862.3 P \"MK\"\nM104.1 S200\n@pause\nT?\nTx\nSET_VELOCITY_LIMIT ACCEL=3000\nEXCLUDE_OBJECT_START NAME=a\nM117 layer 1\nM73 P0 R10\n"+
		"TIMELAPSE_TAKE_FRAME\nG1 X10 E1 F600\nEND_PRINT\n; the end")
	if len(s.Warnings) != 0 {
		t.Errorf("warned: %+v", s.Warnings)
	}
	s = read(t, "PRINT_START BED=60\nG1 X10 E1 F600\nG38.2 Z1\n")
	if len(s.Warnings) != 2 || s.Warnings[0].First != "PRINT_START BED=60" || s.Warnings[1].First != "G38.2" {
		t.Errorf("warned: %+v", s.Warnings)
	}
}

// What comments state, in SI units, and both ends of what is believed.
func TestStatedInItsUnits(t *testing.T) {
	t.Parallel()
	stated := func(comments ...string) toolpath.Stated {
		s := read(t, "G1 X1 E1 F600\n"+strings.Join(comments, "\n")+"\n")
		return s.Stated
	}
	of := func(s toolpath.Stated) []float64 {
		return slices.Concat(s.Diameter, s.Density, s.Length, s.Volume, s.Mass)
	}
	near := func(a, b []float64) bool {
		return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) <= 1e-12*math.Abs(y) })
	}
	for comment, want := range map[string][]float64{
		"; filament_diameter = 1.75": {1.75e-3}, "; filament_diameter: 1.75 mm": {1.75e-3}, "; Material Diameter (cm) = 0.285": {2.85e-3}, "; filament_diameter = 0.1": {1e-4}, "; filament_diameter = 0.09": nil,
		"; filament_diameter = 20": {0.02}, "; filament_diameter = 20.1": nil, "; filament_density = 1.24": {1240}, "; filament_density [kg/m3] = 1240": {1240}, "; filament_density = 0.3": {300},
		"; filament_density = 0.29": nil, "; filament_density = 12": {12000}, "; filament_density = 12.1": nil, "; filament used [mm] = 1500": {1.5}, "; filament used [m] = 1.5, 2": {1.5, 2},
		"; filament used = 150cm": {1.5}, "; filament used = 1.5m": {1.5}, "; filament used [mm3] = 100": {1e-7}, "; filament used [mm^3] = 100": {1e-7}, "; filament used [mm³] = 100": {1e-7},
		"; filament used [cm3] = 2": {2e-6}, "; filament used [cm^3] = 2": {2e-6}, "; filament used [cm³] = 2": {2e-6}, "; filament volume = 2 ml": {2e-6}, "; filament used [g] = 30": {0.03},
		"; filament weight = 0.03 kg": {0.03}, "; total filament used [g] = 30.5": {0.0305}, ";MATERIAL:100": {1e-7}, ";MATERIAL:100, 50": {1e-7, 5e-8}, "; filament used [m] = 1000000": {1e6}, "; filament used [m] = 1000001": nil,
		"; filament volume [ml] = 1e7": {10}, "; filament volume [ml] = 1.01e7": nil, "; filament used [kg] = 10000": {1e4}, "; filament used [kg] = 10001": nil, "; filament used [g] = 0": nil,
		"; filament used [g] = 0, 30": {0, 0.03}, "; filament used [g] = -1": nil, "; filament used [pounds] = 3": nil, "; filament used [g] = 30 (1.2 spools)": {0.03}, "; filament_diameter = NaN": nil,
		"; filament_diameter = 1.75" + strings.Repeat(",1.75", 63): slices.Repeat([]float64{1.75e-3}, 64), "; filament_diameter = 1.75" + strings.Repeat(",1.75", 64): nil,
		"; filament_diameter = 1.75" + strings.Repeat(" ", 4096-26): {1.75e-3}, "; filament_diameter = 1.75" + strings.Repeat(" ", 4096-25): nil,
	} {
		s := stated(comment)
		if !near(of(s), want) || s.Line != int64(2*min(1, len(want))) || s.InVolume {
			t.Errorf("%.60s: %+v, wanted %v", comment, s, want)
		}
	}
	// The first of a kind stands, and its line is told.
	if s := stated("; nothing", "; filament_diameter = 1.75", "; filament_diameter = 2.85", "; filament_density = 1.3"); !near(of(s), []float64{1.75e-3, 1300}) || s.Line != 3 {
		t.Errorf("%+v", s)
	}
	for comment, want := range map[string]bool{"; use_volumetric_e = 1": true, "; use_volumetric_e = true": true, "; use_volumetric_e = 0": false, "; volumetric_extrusion_rate = 1": false, ";FLAVOR:Volumetric": true, ";FLAVOR:other": false} {
		if s := stated(comment); s.InVolume != want {
			t.Errorf("%s: %+v", comment, s)
		}
	}
}
