package mesh

// Where reading fails or a part swells, piece by piece.

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

// A disc that fails at the first byte of a file, or of a facet, is told as such: not as an empty file, nor as one that ends.
func TestAReaderThatFailsAtOnce(t *testing.T) {
	t.Parallel()
	broken := iotest.ErrReader(errors.New("the disc is gone"))
	head := make([]byte, headerBytes)
	head[80] = 2
	for name, c := range map[string]struct {
		in    io.Reader
		fault Fault
		at    int64
	}{
		"at once":              {broken, Unreadable, 0},
		"in the header":        {io.MultiReader(bytes.NewReader(head[:40]), broken), Unreadable, 40},
		"at a facet":           {io.MultiReader(bytes.NewReader(head), broken), Unreadable, headerBytes},
		"in a facet":           {io.MultiReader(bytes.NewReader(head), strings.NewReader(strings.Repeat("\x00", 20)), broken), Unreadable, headerBytes + 20},
		"nothing":              {strings.NewReader(""), Empty, 0},
		"half a header":        {bytes.NewReader(head[:40]), Truncated, 40},
		"half a facet":         {io.MultiReader(bytes.NewReader(head), strings.NewReader(strings.Repeat("\x00", 20))), Truncated, headerBytes + 20},
		"more than is counted": {io.MultiReader(bytes.NewReader(make([]byte, headerBytes)), strings.NewReader("rest")), Malformed, headerBytes},
	} {
		_, err := readBinary(c.in, 1, newSurface(100))
		var r *ReadError
		if !errors.As(err, &r) || r.Fault != c.fault || r.Where.N != c.at {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// endless gives zeros for ever.
type endless struct{ io.Reader }

func (endless) Read(p []byte) (int, error) { clear(p); return len(p), nil }
func (endless) Close() error               { return nil }

// A part that goes on is stopped where it is more than so many times as large as zipped, beyond a mebibyte, or where all parts
// together are too large.
func TestAPartThatSwells(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		zipped   uint64
		unzipped int64
		want     int64 // bytes that are read, in pieces of 32 KiB
	}{
		"a short part may":      {1, 1 << 40, 1 << 20},
		"forty times":           {1 << 16, 1 << 40, 40 << 16},
		"all parts":             {1 << 30, 3 << 20, 3<<20 - 5<<15},
		"no less than all do":   {1 << 30, 6 << 15, 1 << 15},
		"of a part all counted": {1, 1<<20 + 1<<19, 1 << 20},
	} {
		whole := &container{limits: Limits{Unzipped: c.unzipped, Ratio: 40}, read: 5 << 15} // other parts before it
		f := &inflated{ReadCloser: endless{}, name: "x", zipped: c.zipped, whole: whole}
		var read int64
		for p := make([]byte, 1<<15); read < 1<<26; {
			n, err := f.Read(p)
			if read += int64(n); err != nil {
				var r *ReadError
				if !errors.As(err, &r) || r.Fault != TooLarge {
					t.Errorf("%s: %v", name, err)
				}
				break
			}
		}
		if read != c.want {
			t.Errorf("%s: %d bytes are read, wanted %d", name, read, c.want)
		}
	}
}

// Names end at every kind of blank; a form feed is text; an object of one triangle is read.
func TestBlanksInTags(t *testing.T) {
	t.Parallel()
	for _, blank := range []string{" ", "\t", "\r", "\n", "\t \n"} {
		if word, rest := cutName([]byte("name" + blank + "= 'x'")); string(word) != "name" || string(rest) != blank+"= 'x'" {
			t.Errorf("%q is cut into %q and %q", blank, word, rest)
		}
		if !isText([]byte("solid x" + blank + "facet")) {
			t.Errorf("%q is no text", blank)
		}
	}
	if word, rest := cutName([]byte("a-\x12b=c")); string(word) != "a-\x12b" || string(rest) != "=c" {
		t.Errorf("cut into %q and %q", word, rest)
	}
	for c := byte(0); c < ' '; c++ {
		if want := strings.IndexByte("\t\r\n\f", c) >= 0; isText([]byte("solid x"+string(rune(c))+"facet")) != want {
			t.Errorf("byte %d is text: %t", c, !want)
		}
	}
	one := `<object id="1"><mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/></vertices>` +
		`<triangles><triangle v1="0" v2="1" v3="2"/></triangles></mesh></object>`
	b, err := build3MF(pack(t, model3MF(plain, one+cube("2", ""), `<item objectid="1"/><item objectid="2"/>`)), Options{})
	if err != nil || b.Facets != 13 || b.Closed {
		t.Errorf("%+v, %v", b, err)
	}
}
