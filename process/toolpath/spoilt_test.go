package toolpath_test

// Programs spoilt by chance, a byte or two each: what is read of them, warned of and refused.

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/toolpath"
)

// odds is a program of what seldom stands in one: arcs that push nothing, heights moved, words behind a checksum, names of materials.
const odds = `; filament used [mm] = 12.5
; filament_type = PLA
; material = 5400
N1 G21*40
G90
M83
G1 X5 Y5 Z0.4 E1.5 F1200
G2 X15 Y5 I5 J0 E2
G3 X5 Y5 I-5 J0
G2 X15 Y15 R9
G92 Z2
G1 Z2.5
G1 X20 Y25 E1
G92 X0 Y0
G1 X1 Y1 E0.5
(a comment) G1 X2 (another) Y2 E0.25
g1x3y3e.5
M117 text for the panel *12
G18
G3 X8 Z3 I2 K1
G17
G91.1
G90.1
G2 X9 Y4 I6 J2 E1
M109 R215 T1
M220 S120
G4 P20 S1
T1
G10
G11
G0 X50 Y50 Z1
X60 Y40 E2
START_PRINT LAYER=1
M73 P10
G1 E-2
G1 E2
M2
G1 X1
`

// Numbers and words say nothing by themselves; what moved is looked at and kept by -run AsApproved -update.
func TestSpoiltProgramsAreAsApproved(t *testing.T) {
	t.Parallel()
	const signs = "#[](){};*%/@\t =GMTNXYZEFIJKRPSDUxyzeg.-+0123456789_~\r\n\x00\xff\x93"
	luck := rand.New(rand.NewPCG(91, 4))
	spoilt := func(text []byte) []byte {
		text = bytes.Clone(text)
		for range 1 + luck.IntN(2) {
			at, sign := luck.IntN(len(text)), signs[luck.IntN(len(signs))]
			switch luck.IntN(3) {
			case 0:
				text[at] = sign
			case 1:
				text = append(text[:at], text[at+1:]...)
			default:
				text = append(text[:at], append([]byte{sign}, text[at:]...)...)
			}
		}
		return text
	}
	var out strings.Builder
	told := func(name string, text []byte, o toolpath.Options) {
		s, err := toolpath.ReadBelieved(func() (io.Reader, error) { return bytes.NewReader(text), nil }, o)
		if err != nil {
			fmt.Fprintf(&out, "%s %T %q\n", name, err, err.Error())
			return
		}
		fmt.Fprintf(&out, "%s %s\n", name, checkrow.Whole(t, s))
	}
	options := []toolpath.Options{{}, {MaxLayers: 2, Window: 0.5, Acceleration: 0.8}, {E: toolpath.EVolume}}
	for k, o := range options {
		told(fmt.Sprint("odds whole ", k), []byte(odds), o)
		told(fmt.Sprint("odds without ends of lines ", k), []byte(strings.ReplaceAll(odds, "\n", "\r\n")), o)
	}
	for k := range 240 {
		told(fmt.Sprint("odds spoilt ", k), spoilt([]byte(odds)), options[k%3])
	}
	for k := range 120 {
		told(fmt.Sprint("every word spoilt ", k), spoilt([]byte(everyWord)), options[k%3])
	}
	lines := strings.SplitAfter(odds+everyWord, "\n")
	for k := range 60 {
		luck.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		told(fmt.Sprint("shuffled ", k), []byte(strings.Join(lines[:40], "")), options[k%3])
	}
	checkrow.ApprovedText(t, "spoilt", out.String())
}
