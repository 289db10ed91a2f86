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
	blocks, legs := newBelt[batch](), newBelt[legBatch]()
	x.send, m.sendLegs = blocks.swap, legs.swap
	done := make(chan struct{})
	go func() {
		for b := range blocks.full {
			m.do(b)
			blocks.empty <- b
		}
		legs.full <- m.legs
		close(legs.full)
	}()
	go func() {
		defer close(done)
		for b := range legs.full {
			k.do(b)
			legs.empty <- b
		}
		k.stop()
	}()
	defer func() {
		close(blocks.full)
		<-done
	}()
	for {
		switch {
		case errors.Is(err, io.EOF):
			blocks.full <- x.out
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

// belt carries full batches to the goroutine that works on them and empty ones
// back. Either direction has room for every batch there is.
type belt[B any] struct {
	full, empty chan *B
	made        int
}

func newBelt[B any]() *belt[B] {
	return &belt[B]{full: make(chan *B, ahead+1), empty: make(chan *B, ahead+1)}
}

// swap gives a full batch for an empty one, a new one while there are few: a
// short file needs no more than two.
func (l *belt[B]) swap(b *B) *B {
	l.full <- b
	select {
	case e := <-l.empty:
		return e
	default:
	}
	if l.made < ahead {
		l.made++
		return new(B)
	}
	return <-l.empty
}
