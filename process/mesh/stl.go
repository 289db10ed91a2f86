// Tells the two forms of STL apart and reads either.

package mesh

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
)

const (
	headerBytes = 84 // 80 of free text, then the number of facets
	facetBytes  = 50 // normal, three vertices (12 floats of 4 bytes), 2 bytes of attribute
	peekBytes   = 4096
)

// ReadSTL reads a solid from STL, binary or text, whatever its first word
// says. Facet normals are not read: the order of a facet's vertices decides
// which side is out. STL has no unit; see [Options].
//
// Source: the form of both variants from memory.
// Errors: *ReadError with the facet, byte or line, for input that is cut off,
// malformed, not finite, empty or beyond a limit; RangeError for the unit.
// Checks: ReadSTL rows of checks.csv (second library, own derivation).
func ReadSTL(r io.Reader, o Options) (Solid, error) {
	unit, err := o.unit()
	if err != nil {
		return Solid{}, err
	}
	limits := o.Limits.withDefaults()
	in := bufio.NewReaderSize(&capped{r: r, left: limits.Bytes, limit: limits.Bytes}, 1<<16)
	head, err := in.Peek(peekBytes)
	if err != nil && !errors.Is(err, io.EOF) {
		return Solid{}, readFailed(0, err)
	}
	s := newSurface(limits.Facets)
	var warnings []Warning
	if isText(head) {
		err = readText(in, unit, s)
	} else {
		warnings, err = readBinary(in, unit, s)
	}
	if err != nil {
		return Solid{}, err
	}
	if s.facets == 0 {
		return Solid{}, nothing("the STL holds no facet")
	}
	out := newSolid(&s.geometry, s.topology.count())
	out.Warnings = warnings
	if o.Unit == 0 {
		out.warn(UnitAssumed, 0, "")
	}
	out.conclude()
	return out, nil
}

// isText tells text from binary by the start of the input. A binary STL may
// well begin with the word "solid". But it is 84 + 50 n bytes long, and as long
// as n stays below 2²⁴ (the facet limit is below) the last byte of n is zero;
// and so are bytes of its first facet when n is nonsense. Text has no such byte.
func isText(head []byte) bool {
	head = bytes.TrimPrefix(head, []byte("\xef\xbb\xbf"))
	trimmed := bytes.ToLower(bytes.TrimLeft(head, " \t\r\n"))
	if !bytes.HasPrefix(trimmed, []byte("solid")) {
		return false
	}
	for _, c := range head {
		if c < ' ' && c != '\t' && c != '\r' && c != '\n' && c != '\f' {
			return false
		}
	}
	return len(head) < headerBytes || bytes.Contains(trimmed, []byte("facet")) || bytes.Contains(trimmed, []byte("endsolid"))
}

// capped fails, rather than ends, when the input is longer than the limit.
type capped struct {
	r     io.Reader
	left  int64
	limit int64
}

// Read reads on until the limit.
func (c *capped) Read(p []byte) (int, error) {
	if c.left <= 0 {
		if n, err := c.r.Read(make([]byte, 1)); n == 0 {
			return 0, err
		}
		return 0, &ReadError{Fault: TooLarge, Where: Place{Of: "byte", N: c.limit},
			What: fmt.Sprintf("the input goes on beyond %d bytes", c.limit)}
	}
	if int64(len(p)) > c.left {
		p = p[:c.left]
	}
	n, err := c.r.Read(p)
	c.left -= int64(n)
	return n, err
}

// readFailed passes a refusal of our own through and wraps everything else.
func readFailed(at int64, err error) error {
	if own := (*ReadError)(nil); errors.As(err, &own) {
		return own
	}
	return &ReadError{Fault: Unreadable, Where: Place{Of: "byte", N: at}, What: "the input could not be read", Err: err}
}
