package toolpath_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hopperful/process/toolpath"
)

// melt of one millimetre of 1.75 mm filament [m³].
const melt = math.Pi / 4 * 1.75e-3 * 1.75e-3 * 1e-3

func read(t *testing.T, text string) toolpath.Summary {
	t.Helper()
	s, err := toolpath.Read(strings.NewReader(text), toolpath.Options{})
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return s
}

// TestSpellings reads one print, 3 mm of filament over 30 mm, in many spellings.
func TestSpellings(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{
		"plain":              "G1 F600\nG1 X10 E1\nG1 X30 E3\n",
		"CRLF":               "G1 F600\r\nG1 X10 E1\r\nG1 X30 E3\r\n",
		"lone CR":            "G1 F600\rG1 X10 E1\rG1 X30 E3\r",
		"byte order mark":    "\xef\xbb\xbfG1 F600\nG1 X10 E1\nG1 X30 E3\n",
		"lower case":         "g1 f600\ng1 x10 e1\ng1 x30 e3\n",
		"no blanks":          "G1F600\nG1X10E1\nG1X30E3\n",
		"many blanks":        "  G1   F600 \n\tG1\tX 10  E 1\n G1 X30 E3   \n",
		"leading zeros":      "G01 F0600\nG01 X010.00 E01\nG01 X30. E3.\n",
		"other order":        "F600 G1\nE1 X10 G1\nE3 G1 X30\n",
		"modal motion":       "G1 F600\nX10 E1\nX30 E3\n",
		"comments":           "; a ;; b (c)\n(whole line)\nG1 (in line) F600 ; after\nG1 X10(x99)E1;E99\nG1 X30 E3 (end)\n",
		"line numbers":       "N1 G1 F600\nN2G1 X10 E1\nN3 G1 X30 E3\n",
		"several commands":   "G21 G90 M82 G1 F600\nG1 X10 E1\nG1 X30 E3\n",
		"percent":            "%\nO_name\nG1 F600\nG1 X10 E1\nG1 X30 E3\n%\n",
		"quoted text":        "M587 S\"net; G1 X99 E99\" P\"x\"\nG1 F600\nG1 X10 E1\nG1 X30 E3\n",
		"messages":           "M117 layer 3 of 9: 50% [##] X99 E99\nM118 hello *there*\nG1 F600\nM23 a_1.gco\nG1 X10 E1\nM30 a_1.gco\nG1 X30 E3\n",
		"flags":              "G28 X Y\nG1 F600\nM84 X Y\nG1 X10 E1\nG1 X30 E3\nM18 E\n",
		"milling words":      "G40 G49 G54 G64 P0.1\nM3 S12000\nG1 F600 S100\nM8\nG1 X10 E1 S200\nG1 X30 E3\nM9\nM5\n",
		"end of program":     "G1 F600\nG1 X10 E1\nG1 X30 E3\nM2\n",
		"M30":                "G1 F600\nG1 X10 E1\nG1 X30 E3\nM30\n",
		"no last line end":   "G1 F600\nG1 X10 E1\nG1 X30 E3",
		"blank lines":        "\n\n\nG1 F600\n\n   \nG1 X10 E1\nG1 X30 E3\n\n",
		"levelling, no move": "G29 X5 Y5\nG1 F600\nG1 X10 E1\nG1 X30 E3\n",
		"many digits":        "G1 F600\nG1 X10.00000000000000000 E1.0000000000000000000\nG1 X30 E3\n",
	} {
		s := read(t, text)
		if math.Abs(s.Volume-3*melt) > 1e-12*melt || math.Abs(s.PrintLength-.03) > 1e-15 || s.Count.BadLines != 0 {
			t.Errorf("%s: %g m³ over %g m, %d bad lines", name, s.Volume, s.PrintLength, s.Count.BadLines)
		}
	}
}

// TestWarnings gives every kind of warning its case, with its line and count.
func TestWarnings(t *testing.T) {
	t.Parallel()
	const ok = "G1 F600\nG1 X10 E1\n"
	for _, c := range []struct {
		kind  toolpath.Kind
		line  int64
		count int64
		text  string
	}{
		{toolpath.BadLine, 3, 2, ok + "G1 X= E5\nG1 X1 X2\n"},
		{toolpath.BadLine, 3, 1, ok + "G1 X E2\n"},
		{toolpath.BadLine, 3, 1, ok + "G1 G92 X1\n"},
		{toolpath.BadLine, 3, 1, ok + "G1 N5 X1\n"},
		{toolpath.BadLine, 3, 1, ok + "G1.55 X1\n"},
		{toolpath.BadLine, 3, 1, ok + "M104.55 S1\n"},
		{toolpath.BadLine, 3, 1, ok + "G1 X1 *5 X2\n"},
		{toolpath.BadLine, 3, 1, ok + "G1 X1 *\n"},
		{toolpath.BadLine, 3, 1, ok + "G1 X1\x01\n"},
		{toolpath.BadLine, 3, 1, ok + "M1M2M3M4M5M6M7M8M9\n"},
		{toolpath.BadChecksum, 4, 1, ok + "N3 G28*16\nN4 G28*99\n"},
		{toolpath.NamedCommand, 3, 1, ok + "PURGE_NOZZLE A=1\n"},
		{toolpath.BlockDelete, 3, 1, ok + "/G1 X99 E99\n"},
		{toolpath.OpenComment, 3, 1, ok + "G28 (home\n"},
		{toolpath.CutOff, 3, 1, ok + "G1 X2"},
		{toolpath.NoFeed, 1, 2, "G1 X10 E1\nG1 E2\n"},
		{toolpath.NoMotion, 1, 1, "X10\n" + ok},
		{toolpath.NoMotion, 4, 1, ok + "G80\nX10\n"},
		{toolpath.BadFeed, 3, 2, ok + "F0\nG1 F-5\n"},
		{toolpath.BadArc, 3, 3, ok + "G2 X20\nG2 X30 I0 J0\nG2 X40 R0\n"},
		{toolpath.BadArc, 3, 1, ok + "G2 X20 Y1 I5\n"},
		{toolpath.BadArc, 3, 1, ok + "G2 I5 P5000\n"},
		{toolpath.ArcTurns, 3, 1, ok + "G2 I5 P2\n"},
		{toolpath.OtherAxes, 3, 1, ok + "G1 X20 A5 B6\n"},
		{toolpath.UnknownG, 3, 2, ok + "G38.2 Z1\nG81 X1 Y2\n"},
		{toolpath.SplineAsLine, 3, 1, ok + "G5 X20 I1 J1 P1 Q1 E2\n"},
		{toolpath.OddFeedMode, 3, 1, ok + "G93\n"},
		{toolpath.FlowFactor, 3, 1, ok + "M221 S95\nM221 S100\n"},
		{toolpath.FeedFactor, 3, 1, ok + "M220 S95\nM220 S100\n"},
		{toolpath.ToolWithoutReset, 4, 1, ok + "T1\nG1 X20 E2\nG1 X30 E3\n"},
		{toolpath.BadTool, 3, 5, ok + "T64\nT1.5\nM104 T99 S200\nT-1\nM200 T64 D2\n"},
		{toolpath.LimitPerMinute, 3, 1, ok + "M203 X6000\n"},
		{toolpath.BadLimit, 3, 5, ok + "M204 S0\nM201 X-1\nM221 S0\nM200 D99\nM203 Y0\n"},
		{toolpath.Loading, 6, 1, ok + "M83\nG1 E-80\nT1\nG1 E80\n"},
		{toolpath.AfterEnd, 4, 1, ok + "M2\nG1 X99 E99\n"},
	} {
		s := read(t, c.text)
		found := false
		for _, w := range s.Warnings {
			if w.Kind == c.kind {
				found = true
				if w.Line != c.line || w.Count != c.count || w.Kind.String() == "" {
					t.Errorf("%q: warning %q at line %d, %d times", c.text, w.Kind, w.Line, w.Count)
				}
			}
		}
		if !found {
			t.Errorf("%q: no warning %d, only %v", c.text, c.kind, s.Warnings)
		}
	}
	if s := read(t, ok); len(s.Warnings) != 0 {
		t.Errorf("a clean file is warned about: %v", s.Warnings)
	}
}

// TestCleanToolChange resets the counter before or after the T word.
func TestCleanToolChange(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"G1 X10 E1 F600\nT1\nG92 E0\nG1 X20 E1\n", "G1 X10 E1 F600\nG92 E0\nT1\nG1 X20 E1\n",
		"M83\nG1 X10 E1 F600\nT1\nG1 X20 E1\n", "G1 X10 E1 F600\nM6 T1\nG92 E0\nG1 X20 E1\n",
	} {
		s := read(t, text)
		if len(s.Warnings) != 0 || len(s.Tools) != 2 || math.Abs(s.Tools[1].Volume-melt) > 1e-12*melt {
			t.Errorf("%q: tools %v, warnings %v", text, s.Tools, s.Warnings)
		}
	}
}

// TestTaken checks that every reading of E is said.
func TestTaken(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		opt  toolpath.Options
		e    toolpath.EMeaning
		from toolpath.Origin
		how  toolpath.Taken
	}{
		{"G1 X1 E1 F600\n", toolpath.Options{}, toolpath.EFilament, toolpath.FromDefault, toolpath.UsualLength},
		{"M200 D1.75\nG1 X1 E1 F600\n", toolpath.Options{}, toolpath.EVolume, toolpath.FromFile, toolpath.CommandedVolume},
		{"M200 D2.85 S0\nG1 X1 E1 F600\n", toolpath.Options{}, toolpath.EFilament, toolpath.FromFile, toolpath.CommandedLength},
		{"G1 X1 E1 F600\nM200 D3\nG1 X2 E9\n", toolpath.Options{}, toolpath.EMixed, toolpath.FromFile, toolpath.PartlyVolume},
		{"G1 X1 E1 F600\n", toolpath.Options{E: toolpath.EFilament, Diameter: 2.85e-3}, toolpath.EFilament, toolpath.FromOption, toolpath.GivenLength},
		{"G1 X1 E1 F600\n", toolpath.Options{E: toolpath.EVolume}, toolpath.EVolume, toolpath.FromOption, toolpath.GivenVolume},
		{"G1 X1 E1 F600\n", toolpath.Options{E: toolpath.ERevolution, PerRevolution: 32e-9}, toolpath.ERevolution, toolpath.FromOption, toolpath.GivenTurns},
	} {
		s, err := toolpath.Read(strings.NewReader(c.text), c.opt)
		if err != nil {
			t.Fatal(err)
		}
		if s.E != c.e || s.EFrom != c.from || s.Taken != c.how {
			t.Errorf("%q: taken %v from %v: %s", c.text, s.E, s.EFrom, s.Taken)
		}
	}
}

func TestSyntaxErrorNamesPlace(t *testing.T) {
	t.Parallel()
	_, err := toolpath.Read(strings.NewReader("G1 X1 E1 F600\n  G1 Y12345678901\n"), toolpath.Options{})
	var bad *toolpath.SyntaxError
	if !errors.As(err, &bad) || bad.Line != 2 || bad.Column != 6 || bad.Text != "  G1 Y12345678901" {
		t.Errorf("got %v", err)
	}
}
