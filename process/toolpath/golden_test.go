package toolpath_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/toolpath"
)

// everyWord is a file with every command that moves, pushes or waits: arcs by centre and by
// radius in all three planes, helices, full turns and several, inches and millimetres,
// places and ways, retractions, two tools, flow factors, volumes, dwelling, accelerations.
const everyWord = `; made by hand for a test
G21
G90
M82
M104 S210 ; nozzle
M204 S1500
G28 X Y
G92 E0
G1 Z0.3 F1200
G1 X10 Y10 F6000
G1 X60 Y10 E5 F1800
G2 X60 Y40 I0 J15 E8 ; half a turn
G3 X30 Y40 R20 E10
G3 X30 Y10 R-20 E16
G2 X30 Y10 I5 J0 P2 E20 ; twice round
G1 E18 F2400 ; back
G1 X80 Y80 F9000
G1 E20 F2400 ; and forth
G1 X80 Y20 E26 F1500
G4 P750
G18
G2 X90 Z2 I5 K0 E28 F900
G19
G3 Y30 Z4 J5 K1 E30
G17
M83
G91
G1 X5 Y5 E1.25 F1800
G1 X-5 Y-5 E1.25
G2 X0 Y0 Z0.4 I4 J3 E2 ; a helix
G90
T1
M221 S90 T1
G92 E0
G1 X20 Y20 Z0.6 F7200
G1 X70 Y20 E4 F1200
M200 D2.85
G1 X70 Y70 E20
M200 D0
G20
G1 X1 Y1 E0.05 F60
G21
M82
T0
G92 E100
G1 X0 Y0 E103 F3000
G4 S2
M106 S255
M30
`

// What a file is read as is as approved, whole: go test ./process/toolpath -run AsApproved
// -update keeps it. That volumes and times are right is held by the published cases, the
// second library and the properties beside this.
func TestFilesReadAsApproved(t *testing.T) {
	t.Parallel()
	texts := map[string]string{"every-word": everyWord}
	for _, name := range []string{"box.gcode", "planes.nc", "tray.gcode", "vase.gcode"} {
		text, err := os.ReadFile(filepath.Join("testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		texts[strings.TrimSuffix(name, filepath.Ext(name))] = string(text)
	}
	for name, text := range texts {
		read := map[string]toolpath.Summary{}
		for how, opt := range map[string]toolpath.Options{
			"plain":   {MaxLayers: 3},
			"slow":    {Acceleration: 0.3, Jump: 0.003, Window: 3, Feed: 0.01, Diameter: 2.85e-3, MaxLayers: 2},
			"turning": {E: toolpath.ERevolution, PerRevolution: 3e-8, MaxLayers: 2},
			"volumes": {E: toolpath.EVolume, Diameters: []float64{1.75e-3, 3e-3}, MaxLayers: 4},
		} {
			s, err := toolpath.Read(strings.NewReader(text), opt)
			if err != nil {
				t.Fatal(name, how, err)
			}
			read[how] = s
		}
		checkrow.Approved(t, name+"-read", read)
	}
}
