package toolpath

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

// blocksOf reads lines and keeps the blocks; the fast reader can be left out.
func blocksOf(text string, fastToo bool) (string, *lexer) {
	var all strings.Builder
	note := func(b *batch) {
		for i := range b.blocks[:b.n] {
			k := &b.blocks[i]
			fmt.Fprintf(&all, "%d:%d:%d %b %b", k.line, k.op, k.code, k.has, k.bare)
			for s, v := range k.v {
				if k.has&(1<<s) != 0 {
					fmt.Fprintf(&all, " %x", v)
				}
			}
			all.WriteByte('\n')
		}
		b.n = 0
	}
	x := &lexer{out: &batch{}}
	if fastToo {
		for rest := []byte(text); len(rest) > 0 && x.fatal == nil; {
			var used int
			used, x.fatal = x.lex(rest)
			rest = rest[used:]
			note(x.out)
		}
	} else {
		for _, line := range strings.SplitAfter(text, "\n") {
			if line == "" {
				continue
			}
			x.line++
			if x.fatal == nil {
				x.careful([]byte(strings.TrimSuffix(line, "\n")))
			}
			note(x.out)
		}
	}
	return all.String(), x
}

// TestFastReadsAsCareful holds the two readers against each other over lines
// pieced together at random from what either might trip over.
func TestFastReadsAsCareful(t *testing.T) {
	t.Parallel()
	pieces := []string{"G0", "G1", "G2", "G3", "G01", "G1.0", "G10", "G92", " ", " ", "  ", "\t", "X", "Y1", "Z-2.5", "E.5", "F1800",
		"X10", "E1.", "I-0", "J3", "R+4", "x5", "P2", "S1", "T1", "D7", "A1", "B2", "M82", "N5", "*7", ";c", "(c)", "(", "-", ".", "+",
		"123456789", "1234567890", "0.1234567890123456789", "#", "\x00", "é", "\n", "\n", "%", "/", "\""}
	rng := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		var b strings.Builder
		b.WriteString("G1")
		for range rng.IntN(25) {
			b.WriteString(pieces[rng.IntN(len(pieces))])
		}
		b.WriteByte('\n')
		sameReading(t, b.String())
	}
}

func sameReading(t *testing.T, text string) {
	t.Helper()
	quick, x := blocksOf(text, true)
	slow, y := blocksOf(text, false)
	if quick != slow || x.bad != y.bad || x.blocks != y.blocks || (x.fatal == nil) != (y.fatal == nil) {
		t.Fatalf("%q reads in two ways:\nfast    %s bad %d of %d, %v\ncareful %s bad %d of %d, %v",
			text, quick, x.bad, x.blocks, x.fatal, slow, y.bad, y.blocks, y.fatal)
	}
}

func TestNumber(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]float64{
		"0": 0, "1": 1, "-1": -1, "+2.5": 2.5, ".5": .5, "5.": 5, "-.25": -.25, "007": 7,
		"0.1": 0.1, "123456789.123456": 123456789.123456, "0.00000000000000000001": 1e-20,
		"3.14159265358979323846": 3.14159265358979323846, "0000000000001.5": 1.5,
	} {
		v, next, state := number([]byte(text), 0)
		if state != numberOK || v != want || next != len(text) {
			t.Errorf("%q reads as %v to %d, state %d", text, v, next, state)
		}
	}
	for _, text := range []string{"", "-", "+", ".", "-.", "x", "e5"} {
		if _, next, state := number([]byte(text), 0); state != numberNone || next != 0 {
			t.Errorf("%q reads as a number", text)
		}
	}
	if _, _, state := number([]byte("1234567890"), 0); state != numberHuge {
		t.Error("ten digits before the point pass")
	}
}

// The lines most of a print is made of are read by the fast reader: it is what makes a
// large file quick. What it leaves to the careful one is left whole.
func TestUsualLinesAreReadFast(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]bool{
		"G1 X1.5 Y-2 E.3 F1800": true, "G0 X1": true, "G2 X1 Y2 I3 J4": true, "G3 X1 Y2 R3": true, "G1  X1   Y2": true, "G1 X1 ; a comment": true, "G1": true, "G1X1Y2": true, "G1 X123456789": true,
		"G1 X1.12345678901234": true, "G4 P1": false, "G10": false, "G1 X1 X2": false, "G1 X+1": false, "G1 x1": true, "G1 X1234567890": false, "G1 X1.123456789012345": false, "G1 X": false, "G1 X1 (a)": false,
		"G1 X1*7": false, "G92 E0": false,
	} {
		var k block
		if next := fast([]byte(line+"\n"), 0, &k); next > 0 != want || want && next != len(line)+1 {
			t.Errorf("%q is read fast to %d", line, next)
		}
	}
}

// TestBatchesMeet reads a print by one, two and three goroutines, with lines of as many
// commands as one may have wherever a batch ends: nothing is lost, doubled or swapped.
func TestBatchesMeet(t *testing.T) {
	t.Parallel()
	crowded := "T1 M82 M104 S200 M109 M140 M190 M201 M203 M204 G17 G21 G40 G49 G54 G61 G80 G90 X1\n"
	var text strings.Builder
	text.WriteString("G28\nG1 F600\n")
	const moves = 3 * batchSize
	for i := range moves {
		fmt.Fprintf(&text, "G1 X%d Y%d E%d\n", i%7*10, i%5*10, i+1)
		if i%(batchSize/3) < 2*mostInLine {
			text.WriteString(crowded)
		}
	}
	o, err := Options{E: EVolume}.filled()
	if err != nil {
		t.Fatal(err)
	}
	var first Summary
	for n := 1; n <= steps; n++ {
		s := &source{chunks: newChunks(strings.NewReader(text.String()), o)}
		m, k := newMachine(o), newClock(o)
		carryOut(s, m, k, n)
		got, err := m.summary(&s.lexer, s.chunks, k)
		if err != nil {
			t.Fatal(err)
		}
		if got.Volume < moves*0.999e-9 || got.Volume > moves*1.001e-9 || got.Count.BadLines > 0 {
			t.Errorf("by %d: %g m³ in %d blocks, %d of them bad", n, got.Volume, got.Count.Blocks, got.Count.BadLines)
		}
		if n == 1 {
			first = got
		} else if !reflect.DeepEqual(got, first) {
			t.Errorf("by %d: %+v, by one: %+v", n, got, first)
		}
	}
}
