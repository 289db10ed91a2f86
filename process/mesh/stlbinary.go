// The binary form of STL: 80 bytes of free text, a count, 50 bytes a facet.

package mesh

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
)

// readBinary reads every facet there is and then compares with the count in
// the header: what follows decides, the count is only checked.
func readBinary(in io.Reader, unit float64, s *surface) ([]Warning, error) {
	var head [headerBytes]byte
	if n, err := io.ReadFull(in, head[:]); err != nil {
		if n == 0 && errors.Is(err, io.EOF) {
			return nil, nothing("the input is empty")
		}
		if !ended(err) {
			return nil, readFailed(int64(n), err)
		}
		return nil, &ReadError{Fault: Truncated, Where: Place{Of: "byte", N: int64(n)},
			What: fmt.Sprintf("the input ends after %d bytes; neither text nor the %d bytes of a binary header", n, headerBytes)}
	}
	counted := int64(binary.LittleEndian.Uint32(head[80:]))
	s.expect(counted)
	var facet [facetBytes]byte
	for {
		n, err := io.ReadFull(in, facet[:])
		at := headerBytes + facetBytes*int64(s.facets)
		switch {
		case n == 0 && errors.Is(err, io.EOF):
			return wrongCount(counted, int64(s.facets)), nil
		case err != nil && !ended(err):
			return nil, readFailed(at+int64(n), err)
		case err != nil && int64(s.facets) >= counted:
			return nil, &ReadError{Fault: Malformed, Where: Place{Of: "byte", N: at},
				What: fmt.Sprintf("%d bytes too many: the header counts %d facets, and what follows them is no whole facet",
					at+int64(n)-headerBytes-facetBytes*counted, counted)}
		case err != nil:
			return nil, &ReadError{Fault: Truncated, Where: Place{Of: "byte", N: at + int64(n)},
				What: fmt.Sprintf("the input ends inside facet %d of %d", s.facets+1, counted)}
		}
		if err := s.facet(vertex(facet[12:], unit), vertex(facet[24:], unit), vertex(facet[36:], unit)); err != nil {
			return nil, err
		}
	}
}

func vertex(b []byte, unit float64) point {
	var p point
	for i := range p {
		p[i] = unit * float64(math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:])))
	}
	return p
}

func wrongCount(counted, found int64) []Warning {
	if counted == found {
		return nil
	}
	return []Warning{{WrongCount, int(found), ""}}
}

func ended(err error) bool { return errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) }
