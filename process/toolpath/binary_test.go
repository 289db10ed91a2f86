package toolpath

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"math"
	"strings"
	"testing"
)

// TestUnshrink against bytes another encoder made (the test vectors of heatshrink-ts,
// BinaryGcode2023: window 8 and 4 bits, count 4 and 3 bits).
func TestUnshrink(t *testing.T) {
	t.Parallel()
	const text = "This is a test string encoded with window 8, lookahead 4"
	for _, c := range []struct {
		packed        string
		window, count int
	}{
		{"qlotNzkACKwyC6WW53SQAIblabdZ5BZbdY7fZLLZJBd7TdLQBCt1kt93kE4lkgtlvt9rsNosthDAzQA=", 8, 4},
		{"qlotNzkAlYZBdLLc7pIBG5Wm3WeQWW3WO32Sy2SQXe03S0EVuslvu8gnEskFst9vtdhtFlsNkkE0", 4, 3},
	} {
		data, err := base64.StdEncoding.DecodeString(c.packed)
		if err != nil {
			t.Fatal(err)
		}
		if got := unshrink(data, c.window, c.count, len(text)); string(got) != text {
			t.Errorf("got %q", got)
		}
	}
}

// TestUnpackPairs against the example published with the meatpack crate (Mudge2020).
func TestUnpackPairs(t *testing.T) {
	t.Parallel()
	packed := []byte{255, 255, 251, 255, 255, 247, 255, 255, 250, 59, 32, 10, 255, 255, 251, 127, 77, 243, 32,
		15, 80, 255, 32, 82, 195, 127, 77, 243, 32, 15, 81, 255, 32, 83, 195, 47, 77, 16, 239, 32,
		4, 0, 255, 32, 89, 4, 0, 255, 32, 90, 2, 240, 32, 43, 5, 192, 47, 77, 48, 239, 32, 3, 240,
		32, 63, 89, 0, 255, 32, 90, 4, 191, 32, 1, 192, 47, 77, 64, 255, 32, 80, 4, 0, 255, 32, 82,
		33, 0, 255, 32, 84, 4, 0}
	const want = "; \nM73 P0 R3\nM73 Q0 S3\nM201 X4000 Y4000 Z200 E2500\nM203 X300 Y300 Z40 E100\nM204 P4000 R1200 T4000"
	if got := unpackPairs(nil, packed); string(got) != want {
		t.Errorf("got %q", got)
	}
	// A line that ends in the lower half leaves the upper one unused.
	if got := unpackPairs(nil, []byte{255, 255, 251, 0x1d, 0x0c, 0x1d}); string(got) != "G1\nG1" {
		t.Errorf("got %q", got)
	}
}

// binaryFile writes blocks as BinaryGcode2023 lays them out.
func binaryFile(checked bool, blocks ...[]byte) []byte {
	var b bytes.Buffer
	b.WriteString("GCDE")
	_ = binary.Write(&b, binary.LittleEndian, uint32(1))
	kind := uint16(0)
	if checked {
		kind = 1
	}
	_ = binary.Write(&b, binary.LittleEndian, kind)
	for _, one := range blocks {
		b.Write(one)
		if checked {
			_ = binary.Write(&b, binary.LittleEndian, crc32.ChecksumIEEE(one))
		}
	}
	return b.Bytes()
}

func packedBlock(kind, packing uint16, whole int, parameters []uint16, data []byte) []byte {
	var b bytes.Buffer
	_ = binary.Write(&b, binary.LittleEndian, []uint16{kind, packing})
	_ = binary.Write(&b, binary.LittleEndian, uint32(whole))
	if packing != 0 {
		_ = binary.Write(&b, binary.LittleEndian, uint32(len(data)))
	}
	_ = binary.Write(&b, binary.LittleEndian, parameters)
	b.Write(data)
	return b.Bytes()
}

func deflated(text string) []byte {
	var b bytes.Buffer
	w := zlib.NewWriter(&b)
	_, _ = io.WriteString(w, text)
	_ = w.Close()
	return b.Bytes()
}

func TestReadBinary(t *testing.T) {
	t.Parallel()
	words := "filament_diameter=2.85\nfilament used [g]=0.79"
	pairs := []byte{255, 255, 251, 0x1d, 0xff, ' ', 'X', 0x01, 0x0c} // "G1 X10\n"
	code := "M83\nG1 F600\nG1 X0 E"
	file := binaryFile(true,
		packedBlock(4, 0, len(words), []uint16{0}, []byte(words)),
		packedBlock(5, 0, 3, []uint16{0, 1, 1}, []byte{1, 2, 3}),
		packedBlock(1, 1, len(code), []uint16{0}, deflated(code)),
		packedBlock(1, 0, len("0\n"), []uint16{0}, []byte("0\n")), // a line may go on in the next block
		packedBlock(1, 0, len(pairs), []uint16{2}, pairs),
		packedBlock(1, 0, 9, []uint16{0}, []byte("G1 E100\n\n")))
	s, err := ReadBelieved(func() (io.Reader, error) { return Open(bytes.NewReader(file)) }, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if want := math.Pi / 4 * 2.85e-3 * 2.85e-3 * 0.1; math.Abs(s.Volume/want-1) > 1e-9 || s.TravelLength != 0.01 {
		t.Errorf("volume %g, wanted %g; travel %g", s.Volume, want, s.TravelLength)
	}
}

func TestReadBinaryRefuses(t *testing.T) {
	t.Parallel()
	good := binaryFile(true, packedBlock(1, 0, 8, []uint16{0}, []byte("G1 E1 F9")))
	flipped := bytes.Clone(good)
	flipped[len(flipped)-5] ^= 1
	bomb := strings.Repeat("\n", 1<<20)
	for name, file := range map[string][]byte{
		"cut off":           good[:len(good)-6],
		"no head":           []byte("GCDE"),
		"another version":   []byte("GCDE\x02\x00\x00\x00\x01\x00"),
		"a flipped bit":     flipped,
		"a kind of its own": binaryFile(false, packedBlock(9, 0, 0, []uint16{0}, nil)),
		"another packing":   binaryFile(false, packedBlock(1, 7, 4, []uint16{0}, []byte("G1 X"))),
		"another encoding":  binaryFile(false, packedBlock(1, 0, 4, []uint16{9}, []byte("G1 X"))),
		"too large":         binaryFile(false, packedBlock(1, 0, mostBlock+1, []uint16{0}, nil)),
		"not that size":     binaryFile(false, packedBlock(1, 1, 999, []uint16{0}, deflated("G1"))),
		"swells":            binaryFile(false, slicesOf(packedBlock(1, 1, len(bomb), []uint16{0}, deflated(bomb)), 40)...),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r, err := Open(bytes.NewReader(file))
			if err == nil {
				_, err = Read(r, Options{})
			}
			var format *FormatError
			var limit *LimitError
			if !errors.As(err, &format) && !errors.As(err, &limit) {
				t.Errorf("got %v", err)
			}
		})
	}
}

func slicesOf(one []byte, n int) [][]byte {
	all := make([][]byte, n)
	for i := range all {
		all[i] = one
	}
	return all
}

func FuzzBinary(f *testing.F) {
	f.Add(binaryFile(false, packedBlock(1, 2, 20, []uint16{2}, []byte("abcdefgh"))))
	f.Add(binaryFile(true, packedBlock(1, 0, 8, []uint16{1}, []byte("\xff\xff\xfbG1 E1"))))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Open(bytes.NewReader(data))
		if err != nil {
			return
		}
		if n, err := io.Copy(io.Discard, io.LimitReader(r, 1<<24)); n < 0 {
			t.Error(n, err)
		}
	})
}

// Each command of the packing of two characters in a byte does what its name says: on, off,
// without blanks, with them, and all as at the beginning.
func TestPairCommands(t *testing.T) {
	t.Parallel()
	const x = 0xff
	for want, in := range map[string][]byte{
		"G1":             {x, x, pairsOn, 0x1d},
		"G1\x1d":         {x, x, pairsOn, 0x1d, x, x, pairsOff, 0x1d},
		"G1\x1dG1":       {x, x, pairsOn, 0x1d, x, x, pairsReset, 0x1d, x, x, pairsOn, 0x1d},
		"1 2\n":          {x, x, pairsOn, 0xb1, 0xc2},
		"1E":             {x, x, pairsOn, x, x, noBlanksOn, 0xb1},
		"1E1 ":           {x, x, pairsOn, x, x, noBlanksOn, 0xb1, x, x, noBlanksOff, 0xb1},
		"1E1 1 ":         {x, x, pairsOn, x, x, noBlanksOn, 0xb1, x, x, pairsReset, x, x, pairsOn, 0xb1, 0xb1},
		"0123456789. GX": {x, x, pairsOn, 0x10, 0x32, 0x54, 0x76, 0x98, 0xba, 0xed},
		"1Y":             {x, x, pairsOn, 0xf1, 'Y'},
		"AB":             {x, x, pairsOn, 0xff, 'A', 'B'},
		"1":              {x, x, pairsOn, 0xf1},
		"\xff\xff":       {x, x},
	} {
		if got := string(unpackPairs(nil, in)); got != want {
			t.Errorf("%x unpacks to %q, wanted %q", in, got, want)
		}
	}
}

// Blocks packed by a sliding window, of either size: text of plain bytes alone, each a bit 1
// and its eight.
func TestWindowsOfEitherSize(t *testing.T) {
	t.Parallel()
	text := "M83\nG1 X10 E1 F600\n"
	var bits []byte
	for _, c := range []byte(text) {
		bits = append(bits, 1)
		for k := 7; k >= 0; k-- {
			bits = append(bits, c>>k&1)
		}
	}
	data := make([]byte, (len(bits)+7)/8)
	for i, b := range bits {
		data[i/8] |= b << (7 - i%8)
	}
	for packing, read := range map[uint16]bool{2: true, 3: true, 4: false} {
		r, err := Open(bytes.NewReader(binaryFile(true, packedBlock(1, packing, len(text), []uint16{0}, data))))
		if err != nil {
			t.Fatal(err)
		}
		s, err := Read(r, Options{})
		if (err == nil) != read || read && math.Abs(s.PrintLength-0.01) > 1e-12 {
			t.Errorf("packing %d: %g m, %v", packing, s.PrintLength, err)
		}
	}
	for kind, in := range map[uint16]bool{1: true, 2: false} { // checksums: none, one, unknown
		file := binaryFile(true, packedBlock(1, 0, len(text), []uint16{0}, []byte(text)))
		file[8] = byte(kind)
		if _, err := Open(bytes.NewReader(file)); (err == nil) != in {
			t.Errorf("checksum kind %d: %v", kind, err)
		}
	}
}
