package toolpath

import (
	"bytes"
)

// mostShown bad lines are kept to be shown.
const mostShown = 5

// A file is refused when more than fewBad lines cannot be read and these are
// more than one in badShare of the lines with words: judgement. A line or two
// of an unknown dialect must not stop a print of a million moves; a file whose
// every hundredth line is damaged cannot be trusted.
const (
	fewBad   = 20
	badShare = 100
)

// lexer turns lines into blocks.
type lexer struct {
	out   *batch
	warn  warnings
	shown []*SyntaxError
	fatal error

	line      int64 // number of the line being read
	blocks    int64
	commands  int64 // lines with a G or M word: none means this is no G-code
	bad       int64
	checksums int64
	words     words
	stated    Stated
}

// lex reads the whole lines of a piece while the batch has room, and returns how
// many bytes they have.
func (x *lexer) lex(b []byte) (int, error) {
	p := 0
	for p < len(b) && x.out.room() {
		x.line++
		switch b[p] {
		case '\n':
			p++
			continue
		case ';':
			n := bytes.IndexByte(b[p:], '\n')
			x.remark(b[p : p+n])
			p += n + 1
			continue
		case 'G':
			k := &x.out.blocks[x.out.n]
			if next := fast(b, p, k); next > 0 {
				k.line = x.line
				x.out.n++
				x.blocks++
				x.commands++
				p = next
				continue
			}
		}
		n := bytes.IndexByte(b[p:], '\n')
		x.careful(b[p : p+n])
		if x.fatal != nil {
			return p, x.fatal
		}
		p += n + 1
	}
	return p, nil
}

// emit appends a block.
func (x *lexer) emit(o op, code int32, from *block) {
	k := &x.out.blocks[x.out.n]
	*k = *from
	k.op, k.code, k.line = o, code, x.line
	x.out.n++
}

// fail notes a line that cannot be read and stops when there are too many.
func (x *lexer) fail(line []byte, at int, why Fault) {
	x.bad++
	x.blocks++
	x.warn.show(BadLine, x.line, line)
	if len(x.shown) < mostShown {
		x.shown = append(x.shown, x.syntax(line, at, why))
	}
	if x.bad > fewBad && x.bad*badShare > x.blocks {
		x.fatal = x.tooManyBad()
	}
}

func (x *lexer) syntax(line []byte, at int, why Fault) *SyntaxError {
	return &SyntaxError{Line: x.line, Column: at + 1, Text: clip(line), Fault: why}
}

func (x *lexer) tooManyBad() error {
	return &BadLinesError{Bad: x.bad, Blocks: x.blocks, First: x.shown}
}
