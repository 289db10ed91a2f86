package toolpath

import (
	"bufio"
	"compress/gzip"
	"io"
)

// A gzip stream is refused as a bomb when it has unfolded to more than
// bombStart bytes and bombShare times its packed size. Deflate cannot pass
// 1032:1 and G-code packs 3:1 to 10:1 (judgement from our own samples), so 100:1 tells them apart.
const (
	bombStart = 16 << 20
	bombShare = 100
)

// mostUnpacked bytes are read from a packed stream; no print is longer.
const mostUnpacked = 16 << 30

// Open looks at the first bytes of a stream and unpacks it if it is gzip or binary
// G-code; else it gives the stream back, buffered. Nothing is read ahead beyond a
// buffer or a block.
//
// Errors: what r returns, and *FormatError for a head that is damaged. Reading from the
// result fails with [*LimitError] when the packed stream unfolds beyond reason.
func Open(r io.Reader) (io.Reader, error) {
	packed := &counter{r: r}
	b := bufio.NewReader(packed)
	magic, err := b.Peek(len(binaryMagic))
	if err != nil && err != io.EOF {
		return nil, err
	}
	if string(magic) == binaryMagic {
		return newBinary(b, packed)
	}
	if len(magic) < 2 || magic[0] != 0x1f || magic[1] != 0x8b {
		return b, nil
	}
	z, err := gzip.NewReader(b)
	if err != nil {
		return nil, &FormatError{Damaged, err.Error()}
	}
	return &unpacker{z: z, packed: packed}, nil
}

// counter counts what is read through it.
type counter struct {
	r io.Reader
	n int64
}

// Read reads and counts.
func (c *counter) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	return n, err
}

// unpacker reads from a gzip stream within bounds.
type unpacker struct {
	z      *gzip.Reader
	packed *counter
	n      int64
}

// Read unpacks and refuses a bomb.
func (u *unpacker) Read(p []byte) (int, error) {
	n, err := u.z.Read(p)
	u.n += int64(n)
	if u.n > mostUnpacked || u.n > bombStart && u.n > bombShare*u.packed.n {
		return 0, &LimitError{Limit: u.n - 1, Packed: u.packed.n}
	}
	return n, err
}
