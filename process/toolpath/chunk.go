package toolpath

import (
	"bytes"
	"errors"
	"io"
)

// bufferSize is how much is read at once, and the longest line there may be.
const bufferSize = 256 << 10

// mostEmptyReads bounds a reader that keeps answering "nothing, no error".
const mostEmptyReads = 100

// chunks cuts a stream into pieces that end at a line end.
type chunks struct {
	r        io.Reader
	buf      []byte // room for one byte more than bufferSize: a missing last line end
	have     int    // bytes waiting at the front of buf
	used     int    // bytes of the piece handed out last
	total    int64
	limit    int64
	progress func(int64)
	ended    bool
	cutOff   bool // the stream ended inside a line
}

func newChunks(r io.Reader, o Options) *chunks {
	return &chunks{r: r, buf: make([]byte, bufferSize+1), limit: o.MaxBytes, progress: o.Progress}
}

// errLongLine is turned into a SyntaxError by the caller, who counts lines.
var errLongLine = errors.New("line too long")

// next returns the next piece: whole lines, each ended by one \n. It is valid
// until the next call. At the end it returns io.EOF.
func (c *chunks) next() ([]byte, error) {
	c.have = copy(c.buf, c.buf[c.used:c.have])
	c.used = 0
	for !c.ended && c.have < bufferSize {
		if err := c.fill(); err != nil {
			return nil, err
		}
		if c.have >= bufferSize/2 {
			break
		}
	}
	if c.have == 0 {
		return nil, io.EOF
	}
	if c.ended {
		if last := c.buf[c.have-1]; last != '\n' && last != '\r' {
			c.cutOff = endsInMove(c.buf[:c.have])
			c.buf[c.have] = '\n'
			c.have++
		}
		c.used = c.have
	} else {
		c.used = lastLineEnd(c.buf[:c.have])
	}
	if c.used == 0 {
		if c.have < bufferSize {
			// Half a buffer without a line end: read on until it is full.
			return nil, nil
		}
		return c.buf[:c.have], errLongLine
	}
	piece := c.buf[:c.used]
	plainLineEnds(piece)
	return piece, nil
}

// fill reads once.
func (c *chunks) fill() error {
	for range mostEmptyReads {
		n, err := c.r.Read(c.buf[c.have:bufferSize])
		if n < 0 || n > bufferSize-c.have {
			return errors.New("the reader of the G-code reports more bytes than it was asked for")
		}
		c.have += n
		c.total += int64(n)
		if c.limit > 0 && c.total > c.limit {
			return &LimitError{Limit: c.limit}
		}
		if n > 0 && c.progress != nil {
			c.progress(c.total)
		}
		if errors.Is(err, io.EOF) {
			c.ended = true
			return nil
		}
		if err != nil {
			return err
		}
		if n > 0 {
			return nil
		}
	}
	return io.ErrNoProgress
}

// lastLineEnd returns the length of the whole lines at the front of b. A lone
// \r counts as line end only when the byte after it is there to be seen.
func lastLineEnd(b []byte) int {
	if i := bytes.LastIndexByte(b, '\n'); i >= 0 {
		return i + 1
	}
	if len(b) < 2 {
		return 0
	}
	return bytes.LastIndexByte(b[:len(b)-1], '\r') + 1
}

// plainLineEnds turns \r\n into a blank and \n, and a lone \r into \n, in place.
func plainLineEnds(b []byte) {
	for i := 0; ; {
		n := bytes.IndexByte(b[i:], '\r')
		if n < 0 {
			return
		}
		i += n
		if i+1 < len(b) && b[i+1] == '\n' {
			b[i] = ' '
		} else {
			b[i] = '\n'
		}
		i++
	}
}

// endsInMove reports whether the last line is a move: other lines may well close a
// file without a line end.
func endsInMove(b []byte) bool {
	last := b[lastLineEnd(b):]
	return len(last) >= 2 && (last[0] == 'G' || last[0] == 'g') && last[1] >= '0' && last[1] <= '3' && (len(last) == 2 || !isDigit(last[2]))
}
