// The text form of STL: words, so many a facet, line breaks anywhere.

package mesh

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// maxWord bounds one word of a text STL in bytes; a number needs 25 (judgement).
const maxWord = 64

// words reads a text word by word and knows the line.
type words struct {
	in   *bufio.Reader
	line int
	at   int64
}

func (w *words) byte() (byte, error) {
	c, err := w.in.ReadByte()
	if err != nil {
		return 0, err
	}
	w.at++
	if c == '\n' {
		w.line++
	}
	return c, nil
}

// next returns the next word in lower case, or io.EOF.
func (w *words) next() (string, error) {
	var word []byte
	for {
		c, err := w.byte()
		switch {
		case errors.Is(err, io.EOF) && len(word) > 0:
			return strings.ToLower(string(word)), nil
		case errors.Is(err, io.EOF):
			return "", io.EOF
		case err != nil:
			return "", readFailed(w.at, err)
		case c <= ' ' && len(word) > 0:
			// The break belongs to the next word: a name ends with its line.
			if err := w.in.UnreadByte(); err != nil {
				return "", readFailed(w.at, err)
			}
			w.at--
			if c == '\n' {
				w.line--
			}
			return strings.ToLower(string(word)), nil
		case c > ' ':
			word = append(word, c)
		}
		if len(word) > maxWord {
			return "", w.fail(Malformed, "a word of more than %d letters", maxWord)
		}
	}
}

// skipLine passes over a name, which may be anything up to the line's end.
func (w *words) skipLine() error {
	for {
		c, err := w.byte()
		if errors.Is(err, io.EOF) || c == '\n' {
			return nil
		}
		if err != nil {
			return readFailed(w.at, err)
		}
	}
}

func (w *words) fail(f Fault, format string, args ...any) error {
	return &ReadError{Fault: f, Where: Place{Of: "line", N: int64(w.line)}, What: fmt.Sprintf(format, args...)}
}

// expect reads the given words.
func (w *words) expect(facet int, wanted ...string) error {
	for _, want := range wanted {
		got, err := w.next()
		if errors.Is(err, io.EOF) {
			return w.fail(Truncated, "the text ends inside facet %d, before %q", facet, want)
		}
		if err != nil {
			return err
		}
		if got != want {
			return w.fail(Malformed, "facet %d: %q where %q belongs", facet, got, want)
		}
	}
	return nil
}

// point reads three numbers.
func (w *words) point(facet int) (point, error) {
	var p point
	for i := range p {
		word, err := w.next()
		if errors.Is(err, io.EOF) {
			return p, w.fail(Truncated, "the text ends inside facet %d, before a number", facet)
		}
		if err != nil {
			return p, err
		}
		v, err := strconv.ParseFloat(word, 64)
		if err != nil && errors.Is(err, strconv.ErrSyntax) {
			if strings.Contains(word, ",") {
				return p, w.fail(Malformed, "facet %d: %q is no number, STL has a decimal point and no comma", facet, word)
			}
			return p, w.fail(Malformed, "facet %d: %q is no number", facet, word)
		}
		p[i] = v // beyond the range of a double it is infinite, which facet refuses
	}
	return p, nil
}

// readText reads all solids of the text; a mesh in several pieces is one part.
func readText(in *bufio.Reader, unit float64, s *surface) error {
	w := &words{in: in, line: 1}
	if head, err := in.Peek(3); err == nil && string(head) == "\xef\xbb\xbf" {
		_, _ = in.Discard(3) // a byte order mark, already peeked
	}
	inside := false
	for {
		word, err := w.next()
		switch {
		case errors.Is(err, io.EOF) && inside:
			return w.fail(Truncated, "the text ends after facet %d without endsolid", s.facets)
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		case word == "solid" && !inside, word == "endsolid" && inside:
			inside = !inside
			err = w.skipLine()
		case word == "facet" && inside:
			err = w.facet(unit, s)
		default:
			err = w.fail(Malformed, "%q after facet %d, where facet, endsolid or solid belongs", word, s.facets)
		}
		if err != nil {
			return err
		}
	}
}

// facet reads the rest of one facet; its normal is passed over.
func (w *words) facet(unit float64, s *surface) error {
	n := s.facets + 1
	if err := w.expect(n, "normal"); err != nil {
		return err
	}
	for range 3 {
		if err := w.expectAny(n); err != nil {
			return err
		}
	}
	if err := w.expect(n, "outer", "loop"); err != nil {
		return err
	}
	var corner [3]point
	for i := range corner {
		if err := w.expect(n, "vertex"); err != nil {
			return err
		}
		p, err := w.point(n)
		if err != nil {
			return err
		}
		corner[i] = point{p[0] * unit, p[1] * unit, p[2] * unit}
	}
	if err := w.expect(n, "endloop", "endfacet"); err != nil {
		return err
	}
	return s.facet(corner[0], corner[1], corner[2])
}

// expectAny passes over one number of a normal. Some programs write NaN there
// for a facet without area; it is not used, so it is not judged.
func (w *words) expectAny(facet int) error {
	word, err := w.next()
	if errors.Is(err, io.EOF) {
		return w.fail(Truncated, "the text ends inside facet %d, in its normal", facet)
	}
	if err != nil {
		return err
	}
	if _, err := strconv.ParseFloat(word, 64); err != nil && errors.Is(err, strconv.ErrSyntax) && !strings.Contains(word, "nan") {
		return w.fail(Malformed, "facet %d: %q in its normal is no number", facet, word)
	}
	return nil
}
