package toolpath

import (
	"errors"
	"io"
)

// ahead batches may wait between the reader and the machine.
const ahead = 16

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
	m, k := newMachine(o), newClock(o)
	x := &lexer{out: &batch{}}
	if err := run(c, x, m, k, first, err); err != nil {
		return Summary{}, err
	}
	return m.summary(x, c, k)
}

// run reads in this goroutine while machine and clock work in two others, which
// have ended when run returns. A failing reader therefore fails here, where the
// caller can catch it.
func run(c *chunks, x *lexer, m *machine, k *clock, piece []byte, err error) error {
	blocks, doneBlocks := newBelt(func() *batch { return &batch{} })
	legs, doneLegs := newBelt(func() *legBatch { return &legBatch{} })
	x.send = func(b *batch) *batch { blocks <- b; return <-doneBlocks }
	m.sendLegs = func(b *legBatch) *legBatch { legs <- b; return <-doneLegs }
	done := make(chan struct{})
	go func() {
		for b := range blocks {
			m.do(b)
			doneBlocks <- b
		}
		legs <- m.legs
		close(legs)
	}()
	go func() {
		defer close(done)
		for b := range legs {
			k.do(b)
			doneLegs <- b
		}
		k.stop()
	}()
	defer func() {
		close(blocks)
		<-done
	}()
	for {
		switch {
		case errors.Is(err, io.EOF):
			blocks <- x.out
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

// newBelt makes the two directions of a conveyor between goroutines: full
// batches there, empty ones back, and room for every batch on either.
func newBelt[B any](fresh func() B) (there, back chan B) {
	there, back = make(chan B, ahead+1), make(chan B, ahead+1)
	for range ahead {
		back <- fresh()
	}
	return there, back
}
