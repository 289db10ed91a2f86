package toolpath

import (
	"errors"
	"io"
)

// ahead batches may wait between the reader and the machine.
const ahead = 4

// Read reads G-code to its end and says what the print eats. It keeps a bounded
// amount of memory, whatever the length of the stream, and reads nothing twice.
//
// Errors: process.RangeError for options out of range; [ErrEmpty];
// [ErrNoExtrusion]; [*FormatError] for something else than G-code;
// [*SyntaxError] for a number or a line no print has; [*BadLinesError] when too
// many lines cannot be read; [*LimitError] past Options.MaxBytes; and what r returns.
// Checks: Read rows of checks.csv (own derivation, second library).
func Read(r io.Reader, opt Options) (Summary, error) {
	o, err := opt.filled()
	if err != nil {
		return Summary{}, err
	}
	c := newChunks(r, o)
	first, err := c.next()
	if errors.Is(err, io.EOF) {
		return Summary{}, ErrEmpty
	}
	if bad := sniff(c.buf[:c.have]); bad != nil {
		return Summary{}, bad
	}
	m := newMachine(o)
	x := &lexer{out: &batch{}}
	err = run(c, x, m, first, err)
	if err != nil {
		return Summary{}, err
	}
	return m.summary(x, c)
}

// run reads in this goroutine while the machine works in another one, which
// has ended when run returns. A failing reader therefore fails here, where the
// caller can catch it.
func run(c *chunks, x *lexer, m *machine, piece []byte, err error) error {
	full, empty := make(chan *batch, ahead), make(chan *batch, ahead+1)
	for range ahead {
		empty <- &batch{}
	}
	done := make(chan struct{})
	go func() {
		defer close(done)
		for b := range full {
			m.do(b)
			empty <- b
		}
	}()
	defer func() {
		close(full)
		<-done
	}()
	x.send = func(b *batch) (*batch, error) {
		full <- b
		return <-empty, nil
	}
	for {
		switch {
		case errors.Is(err, io.EOF):
			full <- x.out
			return nil
		case errors.Is(err, errLongLine):
			x.line++
			return x.syntax(piece, 0, "the line is longer than 262144 bytes; no print has such a line, choose the file again")
		case err != nil:
			return err
		}
		if err = x.lex(piece); err != nil {
			return err
		}
		piece, err = c.next()
	}
}
