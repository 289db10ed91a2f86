package toolpath_test

// Both sides of what a file may say and how it may come, in numbers.

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"hopperful/process/toolpath"
)

const plainMove = "M83\nG1 F600\nG1 X10 E1\n"

// refusal reads a text and gives what was wrong with it.
func refusal(r io.Reader, o toolpath.Options) string {
	if _, err := toolpath.Read(r, o); err != nil {
		return err.Error()
	}
	return ""
}

// Every option at both ends of its range, and just beyond.
func TestOptionsAtTheEdge(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		set          func(o *toolpath.Options, v float64)
		ends, refuse [2]float64
	}{
		"diameter":      {func(o *toolpath.Options, v float64) { o.Diameter = v }, [2]float64{1e-4, 0.02}, [2]float64{0.99e-4, 0.0201}},
		"diameters":     {func(o *toolpath.Options, v float64) { o.Diameters = []float64{0, v} }, [2]float64{1e-4, 0.02}, [2]float64{0.99e-4, 0.0201}},
		"acceleration":  {func(o *toolpath.Options, v float64) { o.Acceleration = v }, [2]float64{1e-3, 1000}, [2]float64{0.99e-3, 1001}},
		"jump":          {func(o *toolpath.Options, v float64) { o.Jump = v }, [2]float64{1e-9, 1}, [2]float64{0.9e-9, 1.01}},
		"window":        {func(o *toolpath.Options, v float64) { o.Window = v }, [2]float64{0.01, 3600}, [2]float64{0.0099, 3601}},
		"feed":          {func(o *toolpath.Options, v float64) { o.Feed = v }, [2]float64{1e-5, 10}, [2]float64{0.9e-5, 10.1}},
		"layers":        {func(o *toolpath.Options, v float64) { o.MaxLayers = int(v) }, [2]float64{2, 1e6}, [2]float64{1, 1e6 + 1}},
		"per turn":      {func(o *toolpath.Options, v float64) { o.E, o.PerRevolution = toolpath.ERevolution, v }, [2]float64{1e-12, 1}, [2]float64{0.9e-12, 1.01}},
		"meaning":       {func(o *toolpath.Options, v float64) { o.E, o.PerRevolution = toolpath.EMeaning(v), 1e-9 }, [2]float64{0, 3}, [2]float64{-1, 4}},
		"bytes at most": {func(o *toolpath.Options, v float64) { o.MaxBytes = int64(v) }, [2]float64{float64(len(plainMove)), 1e9}, [2]float64{float64(len(plainMove)) - 1, 1}},
	} {
		for i := range 2 {
			var in, out toolpath.Options
			c.set(&in, c.ends[i])
			c.set(&out, c.refuse[i])
			if said := refusal(strings.NewReader(plainMove), in); said != "" {
				t.Errorf("%s of %g: %s", name, c.ends[i], said)
			}
			if refusal(strings.NewReader(plainMove), out) == "" {
				t.Errorf("%s of %g is taken", name, c.refuse[i])
			}
		}
	}
	// What nobody said is the usual: 1.75 mm, 1 m/s², 10 mm/s, 1 s, 25 mm/s.
	usual := toolpath.Options{Diameter: 1.75e-3, Acceleration: 1, Jump: 0.01, Window: 1, Feed: 0.025, MaxLayers: 5000}
	const text = "M83\nG1 X10 E1\nG1 Y30 E5\nG1 X0\n"
	a, err := toolpath.Read(strings.NewReader(text), usual)
	if b := read(t, text); err != nil || b.Volume != a.Volume || b.TimeLimited != a.TimeLimited || b.Peak != a.Peak || b.Time != a.Time {
		t.Errorf("unsaid %+v, said %+v, %v", b, a, err)
	}
}

// slow gives nothing so many times before each piece.
type slow struct {
	r           io.Reader
	times, left int
}

func (s *slow) Read(p []byte) (int, error) {
	if s.left > 0 {
		s.left--
		return 0, nil
	}
	s.left = s.times
	return s.r.Read(p)
}

// A reader may give nothing 99 times in a row, not a hundred times; a line may have 262,144 bytes
// with its end, and no more.
func TestHowAStreamMayCome(t *testing.T) {
	t.Parallel()
	for times, fine := range map[int]bool{0: true, 99: true, 100: false, 150: false} {
		said := refusal(&slow{strings.NewReader(plainMove), times, times}, toolpath.Options{})
		if (said == "") != fine {
			t.Errorf("nothing %d times: %s", times, said)
		}
	}
	for length, fine := range map[int]bool{1000: true, 200_000: true, 262_143: true, 262_144: false, 300_000: false} {
		text := plainMove + ";" + strings.Repeat("x", length-1) + "\n" + "G1 X20 E1\n"
		_, err := toolpath.Read(strings.NewReader(text), toolpath.Options{})
		var bad *toolpath.SyntaxError
		if (err == nil) != fine || err != nil && (!errors.As(err, &bad) || bad.Line != 4 || bad.Column != 1) {
			t.Errorf("a line of %d bytes: %v", length, err)
		}
	}
	// Bytes are counted as they come; what was read of them is told.
	var seen []int64
	s, err := toolpath.Read(&slow{strings.NewReader(plainMove), 3, 3}, toolpath.Options{Progress: func(n int64) { seen = append(seen, n) }})
	if err != nil || s.Count.Bytes != int64(len(plainMove)) || len(seen) != 1 || seen[0] != s.Count.Bytes || s.Count.Lines != 3 || s.Count.Blocks != 3 {
		t.Errorf("%v bytes told of %+v, %v", seen, s.Count, err)
	}
}

// A file that begins otherwise is looked at as far as 64 KiB; behind that a byte no text holds is a bad line like others.
func TestHowFarAFileIsLookedAt(t *testing.T) {
	t.Parallel()
	comment := strings.Repeat(";"+strings.Repeat("-", 62)+"\n", 1024) // 65,536 bytes
	if said := refusal(strings.NewReader(comment[:65535]+"\x00\n"+plainMove), toolpath.Options{}); !strings.Contains(said, "binary") {
		t.Errorf("the last byte of 64 KiB: %s", said)
	}
	if s := read(t, comment+"\x00\n"+plainMove); warns(s, toolpath.BadLine) != 1 {
		t.Errorf("the byte behind 64 KiB: %v", s.Warnings)
	}
	for text, looks := range map[string]string{"solid\nfacet": "STL", "solid\n" + plainMove: "", "; facet\n" + plainMove: "", "\xef\xbb\xbf" + plainMove: ""} {
		if said := refusal(strings.NewReader(text), toolpath.Options{}); looks != "" && !strings.Contains(said, looks) || looks == "" && strings.Contains(said, "STL") {
			t.Errorf("%q: %s", text, said)
		}
	}
	// Of what cannot be read the first five are shown, each with at most eighty bytes of its line.
	long := "G1 X=" + strings.Repeat("y", 75)
	_, err := toolpath.Read(strings.NewReader(plainMove+strings.Repeat(long+"\n"+long+"z\n", 15)), toolpath.Options{})
	var bad *toolpath.BadLinesError
	if !errors.As(err, &bad) || len(bad.First) != 5 || bad.Bad != 21 || bad.Blocks != 24 || bad.First[0].Text != long || bad.First[1].Text != long+"…" || bad.First[0].Line != 4 || bad.First[4].Line != 8 || bad.First[0].Column != 5 {
		t.Errorf("%+v", bad)
	}
}

// Layers: heights up to a micrometre apart are one; a height without printing is none.
func TestWhatIsALayer(t *testing.T) {
	t.Parallel()
	for z, want := range map[string]int{"0.2009": 1, "0.1991": 1, "0.2011": 2, "0.1989": 2, "0.4": 2} {
		s := read(t, "M83\nG1 F600\nG1 Z0.2\nG1 X10 E1\nG1 Z"+z+"\nG1 X0 E1\nG1 Z9\nG1 X5\n")
		if len(s.Layers) != want || math.Abs(s.Layers[0].Z-2e-4) > 1e-12 || s.Layers[0].Line != 4 || s.Layers[want-1].Line != int64(2+2*want) || s.Layers[0].Merged != 1 {
			t.Errorf("Z%s: %+v", z, s.Layers)
		}
	}
}

// Sixty cubic millimetres pulled back before a change of tool are a change of filament: at 1.75 mm that are 24.945 mm.
func TestHowMuchPullIsAChange(t *testing.T) {
	t.Parallel()
	for pull, loads := range map[string]bool{"24.94": false, "24.95": true, "60": true} {
		s := read(t, "M83\nT0\nG1 X10 E5 F600\nG1 E-"+pull+"\nT1\nG1 E"+pull+"\nG1 X20 E5\n")
		if (warns(s, toolpath.Loading) > 0) != loads || (s.Loaded > 0) != loads {
			t.Errorf("%s mm: %g m³ loaded, %v", pull, s.Loaded, s.Warnings)
		}
	}
}

// Temperatures above 0 °C and below 1000 °C count, the highest of them, for the tool that is named.
func TestWhichTemperaturesCount(t *testing.T) {
	t.Parallel()
	for words, want := range map[string][3]float64{ // tool 0, tool 1, bed, in °C
		"M104 S0": {}, "M104 S-5": {}, "M104 S0.5": {0.5, 0, 0}, "M104 S999": {999, 0, 0}, "M104 S1000": {}, "M104 S200\nM104 S180": {200, 0, 0}, "M109 R210": {210, 0, 0}, "M109 S190 R210": {190, 0, 0},
		"M104 T1 S200\nM104 S150": {150, 200, 0}, "M140 S60\nM190 R55": {0, 0, 60}, "M190 S0\nM140 S70": {0, 0, 70}, "M140 S1000": {},
	} {
		s := read(t, words+"\n"+plainMove)
		var got [3]float64
		for _, tool := range s.Tools {
			if tool.Nozzle > 0 {
				got[tool.Number] = tool.Nozzle - 273.15
			}
		}
		if s.Bed > 0 {
			got[2] = s.Bed - 273.15
		}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-9 {
				t.Errorf("%q: %v, wanted %v", words, got, want)
			}
		}
	}
	if s := read(t, "M104 T64 S200\n"+plainMove); warns(s, toolpath.BadTool) != 1 {
		t.Error("a nozzle of tool 64 is heated")
	}
}

// Waits: P in milliseconds, S in seconds and before P, none below nothing; a push on the spot takes
// its way at the speed in force. 1 mm at 600 mm a minute takes a tenth of a second.
func TestWaitsByHand(t *testing.T) {
	t.Parallel()
	for words, want := range map[string]float64{"G4 P500": 0.5, "G4 S2": 2, "G4 P500 S2": 2, "G4": 0, "G4 S-3": 0, "G1 E3": 0.3, "G1 E-3": 0.3, "G4 P1\nG4 P2": 0.003, "M220 S200\nG1 E3": 0.15} {
		s := read(t, plainMove+words+"\n")
		if math.Abs(s.Time-1-want) > 1e-9 {
			t.Errorf("%q takes %g s, wanted %g", words, s.Time-1, want)
		}
	}
}

// Limits of a single axis hold a slanted move by its share: 3 and 4 of 5 along x and y.
func TestLimitsOfOneAxis(t *testing.T) {
	t.Parallel()
	const way, fast = 0.1, 0.1 // m, m/s
	// 100 mm along at 100 mm/s, from rest to rest: at speed v and acceleration a they take 0.1/v + v/a.
	for words, want := range map[string]float64{
		"M203 X300":                         way/fast + 0.1/4,
		"M203 X30":                          0.1/0.05 + 0.05/4,
		"M203 Y40":                          0.1/0.05 + 0.05/4,
		"M203 X60 Y80":                      way/fast + 0.1/4,
		"M203 X999":                         way/fast + 0.1/4,
		"M203 X1200":                        0.1*30 + 1/30.0/4, // a minute: 20 mm/s
		"M203 X0.9":                         way/fast + 0.1/4,  // slower than anything moves
		"M203 Z1":                           way/fast + 0.1/4,
		"M201 X300":                         way/fast + 0.1/0.5,
		"M201 Y400":                         way/fast + 0.1/0.5,
		"M201 X1200":                        way/fast + 0.1/2,
		"M201 Z1":                           way/fast + 0.1/4,
		"M204 P500":                         way/fast + 0.1/0.5,
		"M204 T500":                         way/fast + 0.1/4,
		"M204 S500":                         way/fast + 0.1/0.5,
		"M204 S9 P2000":                     way/fast + 0.1/2,
		"M204 P2000\nM204 S9000000":         way/fast + 0.1/2,
		"M201 X300 Y400\nM203 X30\nM204 P2": 2 * math.Sqrt(0.1/0.002), // never fast: half the way up, half down
	} {
		s, err := toolpath.Read(strings.NewReader("M83\n"+words+"\nG1 X60 Y80 E1 F6000\n"), toolpath.Options{Acceleration: 4})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.TimeLimited/want-1) > 1e-9 {
			t.Errorf("%q: %g s, wanted %g", words, s.TimeLimited, want)
		}
	}
}

// Every unit a file may name, in all its spellings, is as large as it is; what is said stands in the order of its tools.
func TestUnitsOfWhatIsSaid(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]float64{
		"filament used [mm] = 2000": 2, "filament used [m] = 2": 2, "filament used [cm] = 200": 2, "filament used: 2m": 2, "filament used: 2000 mm": 2, "total filament used: 2 m": 2, "Filament-length: 2m": 2,
	} {
		if s := read(t, "; "+text+"\n"+plainMove); len(s.Stated.Length) != 1 || math.Abs(s.Stated.Length[0]-want) > 1e-12 || s.Stated.Line != 1 || s.Stated.Volume != nil || s.Stated.Mass != nil {
			t.Errorf("%s: %+v", text, s.Stated)
		}
	}
	for _, text := range []string{"filament used [mm3] = 3000", "filament used [mm^3] = 3000", "filament used (mm³) = 3000", "filament used [cm3] = 3", "filament used: 3 cm^3", "filament used: 3cm³", "filament volume = 3 ml", "material = 3000"} {
		if s := read(t, ";"+text+"\n"+plainMove); len(s.Stated.Volume) != 1 || math.Abs(s.Stated.Volume[0]-3e-6) > 1e-15 {
			t.Errorf("%s: %+v", text, s.Stated)
		}
	}
	for _, text := range []string{"filament used [g] = 5, 7", "filament used [kg] = 0.005; 0.007", "material weight: 5g 7g", "filament_mass = 5 g, 7 g (all)"} {
		if s := read(t, ";"+text+"\n"+plainMove); len(s.Stated.Mass) != 2 || math.Abs(s.Stated.Mass[0]-0.005) > 1e-15 || math.Abs(s.Stated.Mass[1]-0.007) > 1e-15 {
			t.Errorf("%s: %+v", text, s.Stated)
		}
	}
	for _, text := range []string{"filament_density = 1.24", "filament_density [g/cm3] = 1.24", "material density: 1.24 g/cm3", "filament density (g/cm³): 1.24", "filament density = 1240 ", "filament density [kg/m3] = 1240"} {
		s := read(t, ";"+text+"\n"+plainMove)
		if strings.HasSuffix(text, " ") {
			if s.Stated.Density != nil { // 1240 g/cm³
				t.Errorf("%s: %+v", text, s.Stated)
			}
		} else if len(s.Stated.Density) != 1 || math.Abs(s.Stated.Density[0]-1240) > 1e-9 {
			t.Errorf("%s: %+v", text, s.Stated)
		}
	}
}

// What is said is taken within its range: a diameter from a tenth to twenty millimetres, a density from 0.3 to 12 g/cm³,
// up to 1000 km, 10 m³ and 10 t, of 64 tools, in a comment of at most 4096 bytes.
func TestBothSidesOfWhatIsSaid(t *testing.T) {
	t.Parallel()
	taken := func(line string) bool { return read(t, line+"\n"+plainMove).Stated.Line == 1 }
	for in, out := range map[string]string{
		"; filament_diameter = 0.1": "; filament_diameter = 0.099", "; filament_diameter = 20": "; filament_diameter = 20.1",
		"; filament_density = 0.3": "; filament_density = 0.299", "; filament_density = 12": "; filament_density = 12.1",
		"; filament used [m] = 1000000": "; filament used [m] = 1000001", "; filament used [ml] = 10000000": "; filament used [ml] = 10000001", "; filament used [kg] = 10000": "; filament used [kg] = 10001",
		"; filament used [g] = 0, 3": "; filament used [g] = 0, 0", "; filament used [g] = 3": "; filament used [g] = -3", "; filament_diameter = 1.75, 0": "; filament_diameter = 1.75, 30",
		"; filament used [g] = " + strings.Repeat("1,", 63) + "1": "; filament used [g] = " + strings.Repeat("1,", 64) + "1",
		"; filament used [g] = 3" + strings.Repeat(" ", 4096-23):  "; filament used [g] = 3" + strings.Repeat(" ", 4097-23),
		"; use_volumetric_e = 1":                                  "; use_volumetric_e = 0", "; use_volumetric_e: true": "; volumetric e extrusion = no", "; filament used [g]: 1": "; filament used [g] 1",
	} {
		if !taken(in) {
			t.Errorf("%.60s is not taken", in)
		}
		if taken(out) {
			t.Errorf("%.60s is taken", out)
		}
	}
	// A thickness that follows from length and volume is one from 1 to 5 mm.
	for volume, thick := range map[float64]bool{math.Pi / 4 * 0.99 * 0.99: false, math.Pi / 4 * 1.01 * 1.01: true, math.Pi / 4 * 4.99 * 4.99: true, math.Pi / 4 * 5.01 * 5.01: false} {
		s := believed(t, fmt.Sprintf("; filament used [mm] = 1000\n; filament used [mm3] = %.9g\nM83\nG1 X100 E1000 F600\n", 1000*volume), toolpath.Options{})
		if got := s.Tools[0].Diameter != 1.75e-3; got != thick {
			t.Errorf("%g mm³ a millimetre: %g m thick", volume, s.Tools[0].Diameter)
		}
	}
}

// Arcs by a radius of a metre and over a chord of a metre are arcs like others: half a turn of a metre's radius is π m, and
// of 0.5 m over a chord of one π/2 m. Without chord or radius there is none.
func TestArcsOfAMetre(t *testing.T) {
	t.Parallel()
	for words, want := range map[string]float64{"G2 X2000 R1000": math.Pi, "G3 X1000 R500": math.Pi / 2, "G3 Y1000 R500": math.Pi / 2} {
		s := read(t, "M83\nG1 F6000\n"+words+" E10\n")
		if math.Abs(s.PrintLength-want) > 1e-9 || warns(s, toolpath.BadArc) != 0 {
			t.Errorf("%s: %g m, wanted %g; %v", words, s.PrintLength, want, s.Warnings)
		}
	}
	for _, words := range []string{"G2 X0 Y0 R5", "G2 X10 R0", "G2 X10"} {
		if s := read(t, plainMove+"G0 X0\n"+words+" E1\n"); warns(s, toolpath.BadArc) != 1 {
			t.Errorf("%s: %v", words, s.Warnings)
		}
	}
}

// M300 ends a program where nothing but a comment or a checksum follows, and plays a tone where words do.
func TestWhatEndsAProgram(t *testing.T) {
	t.Parallel()
	for line, ends := range map[string]bool{"M30": true, "M2": true, "M30 ; done": true, "M30 (done)": true, "M30*118": true, "M30 \t": true, "M30 a file": false, "M30 S440": false, "M20": false, "M300 S440": false} {
		s := read(t, plainMove+line+"\nG1 X30 E1\n")
		if after := warns(s, toolpath.AfterEnd) > 0; after != ends {
			t.Errorf("%s ends the program: %t; %v", line, after, s.Warnings)
		}
	}
}

// claims says it read so many bytes.
type claims int

func (c claims) Read([]byte) (int, error) { return int(c), nil }

// A reader that claims more than it was asked for, or less than nothing, is told as what it is.
func TestReadersThatLie(t *testing.T) {
	t.Parallel()
	for _, c := range []claims{-1, 1 << 30} {
		if said := refusal(c, toolpath.Options{}); !strings.Contains(said, "more bytes than it was asked for") {
			t.Errorf("a claim of %d: %s", c, said)
		}
	}
}

// A length and a thickness that are said make a volume, however short: three times what is moved is told.
func TestALengthAndAThicknessAreHeldTogether(t *testing.T) {
	t.Parallel()
	for said, told := range map[string]bool{"100": false, "300": true, "30": true} {
		s := believed(t, "; filament used [mm] = "+said+"\n; filament_diameter = 2.85\nM83\nG1 X100 E100 F600\n", toolpath.Options{})
		if (warns(s, toolpath.SaysOtherwise) > 0) != told {
			t.Errorf("%s mm said, 100 moved: %v", said, s.Warnings)
		}
	}
}

// Loading counts as it comes out, with the flow factor in force: 80 mm pulled and pushed by half are 40 mm.
func TestLoadingGoesByTheFlow(t *testing.T) {
	t.Parallel()
	for flow, share := range map[string]float64{"50": 0.5, "100": 1, "200": 2} {
		s := read(t, "M83\nT0\nG1 X10 E5 F600\nG1 E-80\nT1\nM221 S"+flow+"\nG1 E80\nM221 S100\nG1 X20 E5\n")
		if math.Abs(s.Loaded/(80*melt*share)-1) > 1e-9 || math.Abs(s.Volume/(10*melt)-1) > 1e-9 {
			t.Errorf("at %s %%: %g of 80 mm loaded, %g mm printed", flow, s.Loaded/melt, s.Volume/melt)
		}
	}
}

// An arc upright on the bed is a layer's when it ends elsewhere, and none when it ends above where it began.
func TestUprightArcs(t *testing.T) {
	t.Parallel()
	for words, layers := range map[string]int{
		"G18\nG2 X10 Z5 I5 E2": 0, "G19\nG2 Y20 Z5 J5 E2": 0, "G18\nG2 X20 Z5 I5 E2": 1, "G19\nG2 Y30 Z5 J5 E2": 1, "G17\nG2 X10 Y20 I5 E2": 1, "G18\nG3 X10 Z5 I5 P2 E2": 0, "G18\nG2 X10 Y21 Z5 I5 E2": 1,
	} {
		s := read(t, "M83\nG1 F600\nG0 X10 Y20 Z5\n"+words+"\n")
		if len(s.Layers) != layers || (s.StartVolume > 0) != (layers == 0) || math.Abs(s.Volume/(2*melt)-1) > 1e-9 || warns(s, toolpath.BadArc) != 0 {
			t.Errorf("%q: %d layers, %g m³ before them; %v", words, len(s.Layers), s.StartVolume, s.Warnings)
		}
	}
}

// Behind a checksum a comment of either kind may stand, and nothing else; names are parted by blanks, tabs and strokes alike;
// what a mass comes to by volume and density is told in grams.
func TestWhatMayFollow(t *testing.T) {
	t.Parallel()
	for line, bad := range map[string]int64{"G1*118 ; x": 0, "G1*118 (x)": 0, "G1*118 \t": 0, "G1*118;x": 0, "G1*118 x": 1, "G1*118 7": 1} {
		if s := read(t, plainMove+line+"\n"); warns(s, toolpath.BadLine) != bad || s.Count.Checksums != 1 {
			t.Errorf("%q: %v", line, s.Warnings)
		}
	}
	for _, name := range []string{"filament used", "filament\tused", "filament_used", "filament-used", "filament \t_used"} {
		if s := read(t, "; "+name+" [g] = 3\n"+plainMove); len(s.Stated.Mass) != 1 {
			t.Errorf("%q is not taken", name)
		}
	}
	s := believed(t, "; filament used [g] = 9\n; filament used [cm3] = 0.25\n; filament_density = 1.2\nM83\nG1 X100 E100 F600\n", toolpath.Options{})
	if !slices.ContainsFunc(s.Warnings, func(w toolpath.Warning) bool {
		return w.Of == toolpath.UsedMass && math.Abs(w.Said-9e-3) < 1e-12 && math.Abs(w.Found-0.3e-3) < 1e-12
	}) {
		t.Errorf("told %v", s.Warnings)
	}
}
