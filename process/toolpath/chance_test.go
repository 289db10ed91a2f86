package toolpath_test

// Programs of chance, whole.

import (
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/toolpath"
)

// program writes lines of every kind by chance: moves, arcs, waits, tools, limits, units, comments, slips.
func program(luck *rand.Rand) string {
	var out strings.Builder
	v := func(most float64) float64 { return float64(int(100*most*luck.Float64())) / 100 }
	z := 0.2
	for range 30 + luck.IntN(60) {
		switch luck.IntN(26) {
		case 0:
			z += 0.2
			fmt.Fprintf(&out, "G1 Z%.2f F%g\n", z, 300+v(900))
		case 1:
			fmt.Fprintf(&out, "G2 X%g Y%g I%g J%g E%g\n", v(90), v(90), v(30), v(30), v(6))
		case 2:
			fmt.Fprintf(&out, "G3 X%g Y%g R%g E%g\n", v(60), v(60), 60+v(40), v(6))
		case 3:
			fmt.Fprintf(&out, "G4 %s%g\n", []string{"P", "S"}[luck.IntN(2)], v(30))
		case 4:
			fmt.Fprintf(&out, "%s\n", []string{"M82", "M83", "G90", "G91", "G92 E0", "G92 X5 Y5", "G28 X", "G20", "G21", "G17", "G18", "G19", "G90.1", "G91.1", "G80"}[luck.IntN(15)])
		case 5:
			fmt.Fprintf(&out, "T%d\n", luck.IntN(3))
		case 6:
			fmt.Fprintf(&out, "%s\n", []string{"M221 S90", "M220 S150", "M220 S100", "M204 S800", "M204 P500 T900", "M201 X700 Y300", "M203 X90 Y120", "M203 Z9000", "M200 D1.75", "M200 D0", "M104 S205", "M109 T1 R215", "M140 S60"}[luck.IntN(13)])
		case 7:
			fmt.Fprintf(&out, "; %s = %g\n", []string{"filament used [mm]", "filament used [g]", "filament_density", "filament_diameter", "filament used [cm3]"}[luck.IntN(5)], 1+v(9))
		case 8:
			fmt.Fprintf(&out, "%s\n", []string{"G1 X=3", "M117 a word", "(x) G1 X9", "G1 X1 X2", "N7 G1 X8*3", "START_PRINT A=1", "/G1 X1", "G38 X3", "G5 X4 Y4", "G93", "M73 P5", "@pause", "x1 y2 e1", "G1 A3"}[luck.IntN(14)])
		case 9:
			fmt.Fprintf(&out, "G1 E-%g F1800\n", v(4))
		case 10:
			fmt.Fprintf(&out, "G1 E%g F1800\n", v(5))
		case 11, 12:
			fmt.Fprintf(&out, "G0 X%g Y%g F%g\n", v(90), v(90), 3000+v(5000))
		default:
			fmt.Fprintf(&out, "G1 X%g Y%g E%g%s\n", v(90), v(90), v(7), []string{"", fmt.Sprintf(" F%g", 600+v(3000))}[luck.IntN(2)])
		}
	}
	return out.String()
}

// What programs of chance are read as is a line each as approved, in three ways of reading: go test ./process/toolpath -run AsApproved -update.
func TestProgramsOfChanceAreAsApproved(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(17, 4))
	var out strings.Builder
	for i := range 60 {
		text := program(luck)
		for k, o := range []toolpath.Options{{}, {Acceleration: 0.4, Jump: 0.004, Window: 0.3, MaxLayers: 3, Diameter: 2.85e-3}, {E: toolpath.ERevolution, PerRevolution: 2e-8, Feed: 0.01}} {
			s, err := toolpath.ReadBelieved(func() (io.Reader, error) { return strings.NewReader(text), nil }, o)
			if err != nil {
				fmt.Fprintf(&out, "%d %d %s\n", i, k, strings.ReplaceAll(strings.SplitN(err.Error(), "\n", 2)[0], " ", "_"))
				continue
			}
			fmt.Fprintf(&out, "%d %d %s\n", i, k, checkrow.Whole(t, s))
		}
	}
	checkrow.ApprovedText(t, "chance", out.String())
}
