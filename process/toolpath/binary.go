package toolpath

// Reads binary G-code: a file head and blocks, each with its own packing. Layout:
// BinaryGcode2023; it becomes the same text a plain file would hold, what the file
// says of itself as comments.

import (
	"bufio"
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
)

// binaryMagic starts a binary file.
const binaryMagic = "GCDE"

// mostBlock bounds one block, packed or not; writers use 64 KiB. Judgement.
const mostBlock = 16 << 20

// The kinds of block that are read; a thumbnail is skipped.
const (
	blockCode      = 1
	blockThumbnail = 5
)

// binaryReader gives the text of a binary file.
type binaryReader struct {
	r       *bufio.Reader
	packed  *counter
	checked bool // each block ends with a checksum
	out     []byte
	n       int64
	err     error
}

func newBinary(r *bufio.Reader, packed *counter) (io.Reader, error) {
	var head struct {
		Magic    [4]byte
		Version  uint32
		Checksum uint16
	}
	if err := binary.Read(r, binary.LittleEndian, &head); err != nil {
		return nil, damaged("the head of a binary G-code file is cut off")
	}
	if head.Version != 1 || head.Checksum > 1 {
		return nil, &FormatError{OtherVersion, fmt.Sprintf("version %d with checksum kind %d", head.Version, head.Checksum)}
	}
	return &binaryReader{r: r, packed: packed, checked: head.Checksum == 1}, nil
}

func damaged(what string) error {
	return &FormatError{Damaged, what}
}

// Read gives text, block after block.
func (b *binaryReader) Read(p []byte) (int, error) {
	for len(b.out) == 0 {
		if b.err == nil {
			b.err = b.next()
		}
		if b.err != nil {
			return 0, b.err
		}
	}
	n := copy(p, b.out)
	b.out = b.out[n:]
	return n, nil
}

// next reads a block.
func (b *binaryReader) next() error {
	sum := crc32.NewIEEE()
	in := io.TeeReader(b.r, sum)
	var kind [2]uint16 // type, packing
	if err := binary.Read(in, binary.LittleEndian, &kind); err != nil {
		if errors.Is(err, io.EOF) {
			return io.EOF
		}
		return damaged("a block's head is cut off")
	}
	sizes := make([]uint32, 2)
	if kind[1] == 0 {
		sizes = sizes[:1]
	}
	parameters := make([]uint16, 1)
	if kind[0] == blockThumbnail {
		parameters = make([]uint16, 3)
	}
	if err := errors.Join(binary.Read(in, binary.LittleEndian, sizes), binary.Read(in, binary.LittleEndian, parameters)); err != nil {
		return damaged("a block's head is cut off")
	}
	whole, size := sizes[0], sizes[len(sizes)-1]
	if whole > mostBlock || size > mostBlock || kind[0] > blockThumbnail {
		return damaged(fmt.Sprintf("a block of kind %d with %d bytes", kind[0], whole))
	}
	data := make([]byte, 0, min(int(size), 64<<10))
	packed := bytes.NewBuffer(data)
	if _, err := io.CopyN(packed, in, int64(size)); err != nil {
		return damaged("a block is cut off")
	}
	want := sum.Sum32()
	if b.checked {
		var said uint32
		if err := binary.Read(b.r, binary.LittleEndian, &said); err != nil || said != want {
			return damaged("a block does not match its checksum")
		}
	}
	return b.unpack(kind, parameters[0], packed.Bytes(), int(whole))
}

// unpack turns a block into text.
func (b *binaryReader) unpack(kind [2]uint16, encoding uint16, data []byte, whole int) error {
	if kind[0] == blockThumbnail {
		return nil
	}
	text, err := expand(kind[1], data, whole)
	if err != nil {
		return err
	}
	if kind[0] != blockCode {
		if encoding != 0 {
			return damaged(fmt.Sprintf("words of the unknown encoding %d", encoding))
		}
		for line := range bytes.Lines(text) {
			b.out = append(append(append(b.out, "; "...), bytes.TrimRight(line, "\r\n")...), '\n')
		}
	} else {
		switch encoding {
		case 0:
			b.out = append(b.out, text...)
		case 1, 2:
			b.out = unpackPairs(b.out, text)
		default:
			return damaged(fmt.Sprintf("G-code of the unknown encoding %d", encoding))
		}
	}
	b.n += int64(len(b.out))
	if b.n > mostUnpacked || b.n > bombStart && b.n > bombShare*b.packed.n {
		return &LimitError{Limit: b.n - 1, Packed: b.packed.n}
	}
	return nil
}

// expand undoes the packing of a block's bytes.
func expand(packing uint16, data []byte, whole int) ([]byte, error) {
	var text []byte
	switch packing {
	case 0:
		return data, nil
	case 1:
		// Written with a two-byte head and a check sum behind (RFC 1950) or bare.
		text = inflate(data, whole)
		if len(text) != whole && len(data) > 2 {
			text = inflate(data[2:], whole)
		}
	case 2, 3:
		text = unshrink(data, 9+int(packing), 4, whole)
	default:
		return nil, damaged(fmt.Sprintf("a block of the unknown packing %d", packing))
	}
	if len(text) != whole {
		return nil, damaged("a block does not unpack to the size it names")
	}
	return text, nil
}

// inflate unpacks as many bytes as wanted, or what there is.
func inflate(data []byte, whole int) []byte {
	text, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(data)), int64(whole)))
	if err != nil {
		return nil
	}
	return text
}

// unshrink undoes a sliding-window packing: a bit tells a plain byte, 1, from a
// copy, 0, of how far back less one and how many less one, highest bits first.
// Source: BinaryGcode2023 names it; the bits from memory, held against a second encoder's bytes.
func unshrink(data []byte, window, count, whole int) []byte {
	at := 0
	bits := func(n int) (int, bool) {
		if at+n > len(data)*8 {
			return 0, false
		}
		v := 0
		for range n {
			v = v<<1 | int(data[at>>3]>>(7-at&7))&1
			at++
		}
		return v, true
	}
	out := make([]byte, 0, min(whole, 64<<10))
	for len(out) < whole {
		plain, ok := bits(1)
		if !ok {
			return out
		}
		if plain == 1 {
			v, ok := bits(8)
			if !ok {
				return out
			}
			out = append(out, byte(v))
			continue
		}
		back, ok1 := bits(window)
		many, ok2 := bits(count)
		if !ok1 || !ok2 {
			return out
		}
		for range many + 1 {
			if from := len(out) - back - 1; from >= 0 {
				out = append(out, out[from])
			} else {
				out = append(out, 0)
			}
		}
	}
	return out[:whole]
}

// pairAlphabet are the characters four bits stand for; 15 says that a whole byte follows.
const pairAlphabet = "0123456789. \nGX"

// The words that follow two bytes of 0xff.
const (
	pairsOn, pairsOff, pairsReset = 251, 250, 249
	noBlanksOn, noBlanksOff       = 247, 246
)

// unpackPairs undoes the packing of two characters in a byte, the lower four bits
// first. Without blanks in the text, the place of the blank stands for E.
// Source: Mudge2020, as described with BinaryGcode2023; a published example is a test.
func unpackPairs(out, in []byte) []byte {
	packed, noBlanks := false, false
	char := func(n byte) byte {
		if n == 11 && noBlanks {
			return 'E'
		}
		return pairAlphabet[n]
	}
	for i := 0; i < len(in); i++ {
		c := in[i]
		if c == 0xff && i+2 < len(in) && in[i+1] == 0xff {
			switch in[i+2] {
			case pairsOn:
				packed = true
			case pairsOff:
				packed = false
			case pairsReset:
				packed, noBlanks = false, false
			case noBlanksOn, noBlanksOff:
				noBlanks = in[i+2] == noBlanksOn
			}
			i += 2
			continue
		}
		if !packed {
			out = append(out, c)
			continue
		}
		halves := []byte{c & 15, c >> 4}
		if halves[0] == 12 {
			halves = halves[:1] // the line ends here, the other half only fills the byte
		}
		for _, half := range halves {
			if half != 15 {
				out = append(out, char(half))
				continue
			}
			if i++; i >= len(in) {
				return out
			}
			out = append(out, in[i])
		}
	}
	return out
}
