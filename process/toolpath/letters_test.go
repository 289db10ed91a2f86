package toolpath

// What is a letter and a digit, byte by byte; and packed files that swell, at their bounds.

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"strings"
	"testing"
)

func TestEveryByteIsALetterOrNot(t *testing.T) {
	t.Parallel()
	const letters, digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz", "0123456789"
	for i := range 256 {
		c := byte(i)
		if got := isLetter(c); got != (strings.IndexByte(letters, c) >= 0) {
			t.Errorf("byte %d is a letter: %t", i, got)
		}
		if got := isDigit(c); got != (strings.IndexByte(digits, c) >= 0) {
			t.Errorf("byte %d is a digit: %t", i, got)
		}
		want := uint8(slotNone)
		if at := strings.IndexByte("XYZEFIJKRPSTD", c&^0x20); at >= 0 && isLetter(c) {
			want = uint8(at)
		} else if isLetter(c) && strings.IndexByte("GMNgmn", c) < 0 {
			want = slotOther
		}
		if slotOf[c] != want {
			t.Errorf("byte %q has slot %d, wanted %d", c, slotOf[c], want)
		}
	}
}

// A packed file is refused where it unpacks to more than so many times its bytes, once it is large; told is what it may have.
func TestUnpackingStopsAtItsBounds(t *testing.T) {
	t.Parallel()
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	if _, err := z.Write(make([]byte, 1<<20)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct {
		before, packed int64
		fails          bool
	}{
		{0, 1, 1<<20 > bombStart}, {bombStart - 10, 1 << 40, false}, {bombStart - 10, 1, true}, {bombStart, bombStart / bombShare, true}, {bombStart, 2 * bombStart / bombShare, false},
		{mostUnpacked - 100, 1 << 40, false}, {mostUnpacked - 99, 1 << 40, true}, {mostUnpacked, 1 << 40, true},
	} {
		r, err := gzip.NewReader(bytes.NewReader(packed.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		u := &unpacker{z: r, packed: &counter{n: c.packed}, n: c.before}
		n, err := io.ReadFull(u, make([]byte, 100))
		var limit *LimitError
		if (err != nil) != c.fails && i > 0 || err != nil && (!errors.As(err, &limit) || limit.Limit != c.before+99 || limit.Packed != c.packed || n != 0) {
			t.Errorf("%d: after %d of %d packed: %d bytes, %v", i, c.before, c.packed, n, err)
		}
	}
}
