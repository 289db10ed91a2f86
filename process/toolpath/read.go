package toolpath

import (
	"errors"
	"io"
	"runtime"
	"sync"
)

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
	s := &source{chunks: newChunks(r, o)}
	s.next()
	if errors.Is(s.err, io.EOF) {
		return Summary{}, ErrEmpty
	}
	if bad := sniff(s.chunks.buf[:s.chunks.have]); bad != nil {
		return Summary{}, bad
	}
	m, k := newMachine(o), newClock(o)
	carryOut(s, m, k, min(steps, runtime.GOMAXPROCS(0)))
	if s.panicked != nil {
		panic(s.panicked)
	}
	if !errors.Is(s.err, io.EOF) {
		return Summary{}, s.err
	}
	return m.summary(&s.lexer, s.chunks, k)
}

// source is the stream, read into blocks.
type source struct {
	chunks   *chunks
	lexer    lexer
	piece    []byte // what is left of the piece read last
	err      error  // why there is no more: [io.EOF] when all is read
	panicked any    // what the reader or its caller's progress panicked with
}

// fill reads the next blocks, none when the source has ended. What panics while
// it reads is kept for the caller of [Read], whose reader it is.
func (s *source) fill(b *batch) {
	defer func() {
		if p := recover(); p != nil {
			s.panicked, s.err = p, errPanicked
		}
	}()
	b.n = 0
	s.lexer.out = b
	for s.err == nil && b.room() {
		used, err := s.lexer.lex(s.piece)
		s.piece = s.piece[used:]
		switch {
		case err != nil:
			s.err = err
		case len(s.piece) == 0:
			s.next()
		}
	}
}

// next reads the next piece.
func (s *source) next() {
	s.piece, s.err = s.chunks.next()
	if errors.Is(s.err, errLongLine) {
		s.lexer.line++
		s.err = s.lexer.syntax(s.piece, 0, LongLine)
	}
}

var errPanicked = errors.New("the reader of the G-code panicked")

// steps a batch goes through: read, carried out, timed.
const steps = 3

// patience is how often a goroutine looks whether its turn has come before it sleeps: some
// ten microseconds, a fifth of a step. To be woken takes about as long as a step, so that two
// that slept at each wait were no quicker than one. Measured.
const patience = 30_000

// await takes a turn as soon as it comes.
func await(turn <-chan struct{}) {
	for i := 0; i < patience && len(turn) == 0; i++ {
	}
	<-turn
}

// carryOut takes the source through its steps by n goroutines, each batch by one, so
// that what it holds stays in the cache of one processor. Each step takes the
// batches in their order, one at a time: the next goroutine gets its turn at a step from
// the one before. So the result is the same however many there are.
func carryOut(s *source, m *machine, k *clock, n int) {
	turns := make([][steps]chan struct{}, n)
	for i := range turns {
		for j := range turns[i] {
			turns[i][j] = make(chan struct{}, 1)
		}
	}
	work := func(i int) {
		mine, next := turns[i], turns[(i+1)%n]
		step := func(j int, do func()) {
			await(mine[j])
			do()
			next[j] <- struct{}{}
		}
		var blocks *batch
		var legs *legBatch
		for ended := false; !ended; {
			step(0, func() {
				if ended = s.err != nil; !ended {
					if blocks == nil {
						blocks, legs = &batch{}, &legBatch{}
					}
					s.fill(blocks)
				}
			})
			if !ended {
				step(1, func() { m.do(blocks, legs) })
				step(2, func() { k.do(legs) })
			}
		}
	}
	for _, first := range turns[0] {
		first <- struct{}{}
	}
	var others sync.WaitGroup
	for i := 1; i < n; i++ {
		others.Go(func() { work(i) })
	}
	work(0)
	others.Wait()
	k.stop()
}
