package toolpath_test

// Both sides of the limits the reader draws, and arcs held against points along them.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hopperful/process/toolpath"
)

// warns counts the warnings of a kind.
func warns(s toolpath.Summary, kind toolpath.Kind) int64 {
	for _, w := range s.Warnings {
		if w.Kind == kind {
			return w.Count
		}
	}
	return 0
}

// Numbers just inside a limit are taken, just outside they are told.
func TestBothSidesOfLimits(t *testing.T) {
	t.Parallel()
	const ok = "M83\nG1 F600\nG1 X10 E1\n"
	for _, c := range []struct {
		kind    toolpath.Kind
		in, out string
	}{
		{toolpath.BadLimit, "M200 D0.1", "M200 D0.099"}, {toolpath.BadLimit, "M200 D20", "M200 D20.1"}, {toolpath.BadLimit, "M200 D0", "M200 D-1"},
		{toolpath.BadLimit, "M221 S1", "M221 S0.9"}, {toolpath.BadLimit, "M221 S1000", "M221 S1001"}, {toolpath.BadLimit, "M220 S1", "M220 S0.9"}, {toolpath.BadLimit, "M220 S1000", "M220 S1001"},
		{toolpath.BadLimit, "M204 S1", "M204 S0.9"}, {toolpath.BadLimit, "M204 S1000000", "M204 S1000001"}, {toolpath.BadLimit, "M201 Y1", "M201 Y0.9"}, {toolpath.BadLimit, "M204 T1", "M204 T0.9"},
		{toolpath.LimitPerMinute, "M203 X999", "M203 X1000"},
		{toolpath.BadTool, "T63", "T64"}, {toolpath.BadTool, "T0", "T-1"}, {toolpath.BadTool, "T1", "T0.5"},
		{toolpath.BadArc, "G2 X30 R9.96", "G2 X30 R9.94"},   // half the chord is 10 mm: 40 and 60 µm too short
		{toolpath.BadArc, "G2 X10.04 I1", "G2 X10.06 I1"},   // 1 mm round: 40 and 60 µm off
		{toolpath.BadArc, "G2 X10.9 I100", "G2 X11.1 I100"}, // 100 mm round: 0.9 and 1.1 mm off, a hundredth allowed
		{toolpath.BadArc, "G2 I5 P1000", "G2 I5 P1001"},
		{toolpath.BadLine, "M1M2M3M4M5M6M7M8", "M1M2M3M4M5M6M7M8M9"}, {toolpath.BadLine, "N7 G1", "N7 N8 G1"}, {toolpath.BadLine, "N7 O8 G1", "N7 O8 O9 G1"}, {toolpath.BadLine, "G1 X1 Y1", "G1 X1 Y1 x2"}, {toolpath.BadLine, "G1.5", "G1.55"},
		{toolpath.BadLine, "M99999", "M100000"}, {toolpath.BadChecksum, "G1*118", "G1*119"}, {toolpath.OpenComment, "(a)", "(a"},
		{toolpath.BadChecksum, "M117 a*59", "M117 a*58"}, // a message, with a checksum behind: the XOR of its bytes is 59
		{toolpath.BadLine, "M10 ##", "M9 ##"}, {toolpath.BadLine, "M18 ##", "M8 ##"}, {toolpath.OddFeedMode, "G94", "G93"}, {toolpath.OddFeedMode, "G94", "G95"},
	} {
		if s := read(t, ok+c.in+"\n"); warns(s, c.kind) != 0 {
			t.Errorf("%s: %v", c.in, s.Warnings)
		}
		if s := read(t, ok+c.out+"\n"); warns(s, c.kind) == 0 {
			t.Errorf("%s: %v", c.out, s.Warnings)
		}
	}
	// What was outside changes nothing.
	for _, line := range []string{"M200 D20.1", "M221 S1001", "M220 S1001", "M204 S1000001", "T64"} {
		got, want := read(t, ok+line+"\nG1 X30 E2\n"), read(t, ok+"G1 X30 E2\n")
		if got.Volume != want.Volume || got.Time != want.Time || got.TimeLimited != want.TimeLimited || len(got.Tools) != 1 {
			t.Errorf("%s: %g m³ in %g s, wanted %g in %g", line, got.Volume, got.TimeLimited, want.Volume, want.TimeLimited)
		}
	}
	// A file is refused from 21 lines on that cannot be read, when they are more than one of a hundred.
	lines := func(bad, good int) string {
		return ok + strings.Repeat("G1 X10 E0.01\n", good) + strings.Repeat("G1 X=\n", bad)
	}
	for text, in := range map[string]bool{lines(20, 25): true, lines(21, 25): false, lines(21, 2076): true, lines(21, 2075): false} { // three good lines stand before
		if _, err := toolpath.Read(strings.NewReader(text), toolpath.Options{}); (err == nil) != in {
			t.Errorf("%d lines: %v", strings.Count(text, "\n"), err)
		}
	}
	// Bytes that no text holds, wherever they stand; others of the same kind are a bad line.
	for _, text := range []string{"\x00" + ok, ok + "\x00", ok + "; \x00 x\n"} {
		if _, err := toolpath.Read(strings.NewReader(text), toolpath.Options{}); err == nil || !strings.Contains(err.Error(), "binary") {
			t.Errorf("%q: %v", text, err)
		}
	}
	if s := read(t, ok+"\x01\n"); warns(s, toolpath.BadLine) != 1 {
		t.Error("a control character in a line is read")
	}
}

// Arcs against points along them: the box holds every point and no more, the length is
// theirs, whichever quarter turns they pass.
func TestArcsAgainstPoints(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 4))
	for range 150 {
		r, start, sweep := 5+20*rng.Float64(), 2*math.Pi*rng.Float64(), (0.05+1.9*rng.Float64())*math.Pi
		word, by := "G3", sweep
		if rng.IntN(2) == 0 {
			word, by = "G2", -sweep
		}
		at := func(u float64) (x, y, z float64) {
			return 50 + r*math.Cos(start+u*by), 40 + r*math.Sin(start+u*by), 1 + 3*u
		}
		x0, y0, _ := at(0)
		x1, y1, _ := at(1)
		centre := fmt.Sprintf("I%.9f J%.9f", 50-x0, 40-y0)
		if rng.IntN(3) == 0 {
			centre = fmt.Sprintf("R%.9f", math.Copysign(r, math.Pi-sweep)) // below zero: more than half a turn
		}
		text := fmt.Sprintf("G0 X%.9f Y%.9f Z1 F600\n%s X%.9f Y%.9f Z4 %s E5\n", x0, y0, word, x1, y1, centre)
		s := read(t, text)
		lo, hi, way := [3]float64{1e9, 1e9, 1e9}, [3]float64{-1e9, -1e9, -1e9}, 0.0
		px, py, pz := at(0)
		for k := range 20001 {
			x, y, z := at(float64(k) / 20000)
			for i, v := range [3]float64{x, y, z} {
				lo[i], hi[i] = min(lo[i], v), max(hi[i], v)
			}
			way += math.Sqrt((x-px)*(x-px) + (y-py)*(y-py) + (z-pz)*(z-pz))
			px, py, pz = x, y, z
		}
		for i := range 3 {
			if math.Abs(s.Box.Min[i]*1e3-lo[i]) > 1e-5 || math.Abs(s.Box.Max[i]*1e3-hi[i]) > 1e-5 {
				t.Fatalf("%q: axis %d from %.6f to %.6f, wanted %.6f to %.6f", text, i, s.Box.Min[i]*1e3, s.Box.Max[i]*1e3, lo[i], hi[i])
			}
		}
		if math.Abs(s.PrintLength*1e3/way-1) > 1e-6 || warns(s, toolpath.BadArc) != 0 {
			t.Fatalf("%q: %.6f mm, wanted %.6f; %v", text, s.PrintLength*1e3, way, s.Warnings)
		}
	}
	// Whole turns and several: the box is the circle's, the way so many rounds.
	for _, c := range []struct {
		words string
		turns float64
	}{{"G3 I-10", 1}, {"G2 I-10", 1}, {"G3 I-10 P3", 3}, {"G2 I-10 P2", 2}, {"G2 I-10 P2.9", 2}, {"G2 I-10 P1", 1}, {"G2 I-10 P0", 1}, {"G2 X10 Y0 I-10", 1}} {
		s := read(t, "G0 X10 F600\n"+c.words+" E5\n")
		if math.Abs(s.PrintLength-c.turns*2*math.Pi*0.01) > 1e-12 || math.Abs(s.Box.Min[0]+0.01) > 1e-12 || math.Abs(s.Box.Max[1]-0.01) > 1e-12 || math.Abs(s.Box.Min[1]+0.01) > 1e-12 {
			t.Errorf("%s: %g m within %v", c.words, s.PrintLength, s.Box)
		}
	}
	// Three quarters of a turn and one more: every quarter point is passed.
	s := read(t, "G0 X10 F600\nG3 X0 Y-10 I-10 P2 E5\n")
	if math.Abs(s.PrintLength-1.75*2*math.Pi*0.01) > 1e-12 || math.Abs(s.Box.Max[1]-0.01) > 1e-12 || math.Abs(s.Box.Min[0]+0.01) > 1e-12 {
		t.Errorf("%g m within %v", s.PrintLength, s.Box)
	}
}

// What a file says of its filament decides what E counts only where one reading fits and
// the other does not. By hand: a filament 1.236 mm thick has 1.2 mm², so 100 mm of it are
// 120 mm³ as length and 100 mm³ as volume; a quarter apart still counts as one use.
func TestBelievedWhereBothFit(t *testing.T) {
	t.Parallel()
	const move = "M83\nG1 X100 E100 F600\n"
	area := math.Pi / 4 * 1.236 * 1.236 // mm²
	for used, want := range map[float64]float64{
		110: 100 * area, // both fit: length
		84:  100,        // 84 to 100 is near, 84 to 120 is not
		79:  100 * area, // neither
		149: 100 * area, // 120 to 149
		126: 100 * area, // only length
	} {
		text := fmt.Sprintf("; filament used [mm3] = %g\n; filament used [cm3] = %g\n", used, used/1e3)
		s := believed(t, text+move, toolpath.Options{Diameter: 1.236e-3})
		if math.Abs(s.Volume*1e9/want-1) > 1e-9 {
			t.Errorf("%g mm³ said: %g mm³, wanted %g", used, s.Volume*1e9, want)
		}
	}
	// Two tools: what each used adds up before it is weighed against what is said.
	two := "M83\nT0\nG1 X50 E50 F600\nT1\nG1 X100 E50\n"
	s := believed(t, "; filament used [cm3] = 0.1\n"+two, toolpath.Options{Diameter: 1.75e-3})
	if math.Abs(s.Volume*1e9-100) > 1e-6 || s.E != toolpath.EVolume {
		t.Errorf("two tools: %g mm³, %v", s.Volume*1e9, s.E)
	}
	s = believed(t, "; filament used [cm3] = 0.2405\n"+two, toolpath.Options{Diameter: 1.75e-3})
	if math.Abs(s.Volume*1e9-240.528) > 0.001 || s.E != toolpath.EFilament {
		t.Errorf("two tools: %g mm³, %v", s.Volume*1e9, s.E)
	}
	// A length said with its thickness is a volume that agrees with the moves, for one tool and for two.
	for _, text := range []string{"; filament used [mm] = 100\n; filament_diameter = 2.85\n" + move, "; filament used [mm] = 50, 50\n; filament_diameter = 2.85, 1.75\n" + two} {
		if s := believed(t, text, toolpath.Options{}); warns(s, toolpath.SaysOtherwise) != 0 || s.E != toolpath.EFilament {
			t.Errorf("%q: %v, %v", text, s.E, s.Warnings)
		}
	}
	// Warned from a quarter on: 240.5 mm³ come out of the moves.
	for said, told := range map[float64]bool{0.195: false, 0.19: true, 0.299: false, 0.303: true} {
		s := believed(t, fmt.Sprintf("; filament used [cm3] = %g\n", said)+move, toolpath.Options{E: toolpath.EFilament})
		if (warns(s, toolpath.SaysOtherwise) > 0) != told {
			t.Errorf("%g cm³ said, 0.2405 moved: %v", said, s.Warnings)
		}
	}
	for said, told := range map[float64]bool{1.78: false, 1.79: true, 1.72: false, 1.71: true} { // two hundredths
		s := believed(t, fmt.Sprintf("; filament_diameter = %g\n", said)+move, toolpath.Options{Diameter: 1.75e-3})
		if (warns(s, toolpath.SaysOtherwise) > 0) != told {
			t.Errorf("%g mm said, 1.75 given: %v", said, s.Warnings)
		}
	}
}

// Numbers in every spelling mean what they say, to the last digit: against the language's own.
func TestNumbersToTheLastDigit(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 6))
	for range 400 {
		whole, frac := rng.IntN(10), rng.IntN(20)
		var b strings.Builder
		for range rng.IntN(3) {
			b.WriteByte('0')
		}
		for range whole {
			b.WriteByte(byte('0' + rng.IntN(10)))
		}
		if b.Len() == 0 {
			b.WriteByte('0')
		}
		if frac > 0 {
			b.WriteByte('.')
			for range frac {
				b.WriteByte(byte('0' + rng.IntN(10)))
			}
		}
		var want float64
		if _, err := fmt.Sscan(b.String(), &want); err != nil {
			t.Fatal(err)
		}
		for _, line := range []string{"G1 X" + b.String() + " E1\n", "g1 x" + b.String() + " e1\n", "G1 X-" + b.String() + " E1\n", "G1  X+" + b.String() + "  E1 (careful)\n"} {
			s := read(t, "G1 F600\n"+line)
			got := max(math.Abs(s.Box.Min[0]), math.Abs(s.Box.Max[0])) / 1e-3
			if want > 1e-8 && math.Abs(got/want-1) > 1e-15 || strings.Contains(line, "-") && s.Box.Max[0] > 0 {
				t.Fatalf("%q is read as %.17g, wanted %.17g", line, got, want)
			}
		}
	}
}

// A layer table that is full merges neighbours in pairs: nothing of what was printed is lost.
func TestLayersMergeInPairs(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("M83\nG1 F600\n")
	for k := range 9 {
		fmt.Fprintf(&b, "G0 Z%g\nG1 X%d E%d\nG1 X0 E%d\n", 0.2*float64(k+1), k+1, k+1, k+1)
	}
	for most, want := range map[int][]int64{9: {1, 1, 1, 1, 1, 1, 1, 1, 1}, 8: {2, 2, 2, 2, 1}, 4: {4, 4, 1}, 3: {4, 4, 1}, 2: {8, 1}} {
		s, err := toolpath.Read(strings.NewReader(b.String()), toolpath.Options{MaxLayers: most})
		if err != nil {
			t.Fatal(err)
		}
		var merged []int64
		at := 0
		for _, l := range s.Layers {
			merged = append(merged, int64(l.Merged))
			volume := 0.0
			for k := at; k < at+int(l.Merged); k++ {
				volume += 2 * float64(k+1) * melt
			}
			if math.Abs(l.Volume/volume-1) > 1e-9 || math.Abs(l.Z-2e-4*float64(at+1)) > 1e-12 || math.Abs(l.Top-2e-4*float64(at+int(l.Merged))) > 1e-12 || int(l.Moves) != 2*int(l.Merged) {
				t.Errorf("of at most %d: row from layer %d: %+v", most, at, l)
			}
			at += int(l.Merged)
		}
		if !slices.Equal(merged, want) || (warns(s, toolpath.LayersMerged) > 0) != (most < 9) {
			t.Errorf("of at most %d: %v, wanted %v; %v", most, merged, want, s.Warnings)
		}
	}
}

// Every move of a long file counts once, whichever batch it travels in: more moves than a
// batch holds many times over, and as many that the careful reader reads.
func TestLongFilesCountOnce(t *testing.T) {
	t.Parallel()
	for _, n := range []int{511, 512, 513, 5000, 20000} {
		var fast, careful strings.Builder
		fast.WriteString("M83\nG1 F600\n")
		careful.WriteString("M83\nG1 F600\n")
		for i := range n {
			fmt.Fprintf(&fast, "G1 X%d E0.01\n", (i+1)%2*10)
			fmt.Fprintf(&careful, "g1 x%d e0.01 (slow)\n", (i+1)%2*10)
		}
		for _, text := range []string{fast.String(), careful.String()} {
			s := read(t, text)
			if math.Abs(s.Volume/(float64(n)*0.01*melt)-1) > 1e-9 || math.Abs(s.PrintLength-0.01*float64(n)) > 1e-9 || s.Count.Moves != int64(n) || math.Abs(s.Time-float64(n)) > 1e-6 || s.Layers[0].Moves != int64(n) {
				t.Errorf("%d moves: %g of their volume, %g m, %d counted in %g s", n, s.Volume/(float64(n)*0.01*melt), s.PrintLength, s.Count.Moves, s.Time)
			}
		}
	}
}

// A T at the head of a line changes the tool, one behind a heating word does not.
func TestWhichTChangesTheTool(t *testing.T) {
	t.Parallel()
	for head, want := range map[string]int{"T1 G92 E0": 1, "t1 M104 S200": 1, "T1": 1, "T1 ; two": 1, "M6 T1": 1, "M104 T1 S200": 0, "M104 S200 T1": 0, "M109 T1 R200": 0} {
		s := read(t, "M83\nG1 F600\n"+head+"\nG1 X20 E1\n")
		got := -1
		for _, tool := range s.Tools {
			if tool.Volume > 0 {
				got = tool.Number
			}
		}
		if got != want {
			t.Errorf("%s: printed with tool %d, wanted %d", head, got, want)
		}
	}
}
