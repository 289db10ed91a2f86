package toolpath

import (
	"errors"
	"fmt"
	"strings"
)

// ErrEmpty says that the stream holds nothing.
var ErrEmpty = errors.New("the G-code is empty: choose the file again, the copy may have failed")

// ErrNoExtrusion says that the file moves but never extrudes.
var ErrNoExtrusion = errors.New("the G-code extrudes nothing: no move has an E word that goes forward; " +
	"check that the file is for a printer and that E was not switched off when it was made")

// SyntaxError is a line that cannot be read.
type SyntaxError struct {
	Line   int64  // from 1
	Column int    // byte in the line, from 1
	Text   string // the line, shortened
	Msg    string // what is wrong and what to do
}

// Error renders line, column, complaint and the line itself.
func (e *SyntaxError) Error() string {
	return fmt.Sprintf("line %d, column %d: %s: %q", e.Line, e.Column, e.Msg, e.Text)
}

// BadLinesError says that too many lines cannot be read for the rest to be trusted.
type BadLinesError struct {
	Bad, Blocks int64
	First       []*SyntaxError // the first few
}

// Error renders the count and the first bad lines.
func (e *BadLinesError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d of %d lines with code cannot be read, too many to trust the rest; the first:", e.Bad, e.Blocks)
	for _, s := range e.First {
		b.WriteString("\n  " + s.Error())
	}
	return b.String()
}

// Unwrap gives the first bad lines to errors.As.
func (e *BadLinesError) Unwrap() []error {
	all := make([]error, len(e.First))
	for i, s := range e.First {
		all[i] = s
	}
	return all
}

// FormatError says that the stream is something else than G-code.
type FormatError struct {
	Looks string // "a PNG picture"
	Hint  string // what to do
}

// Error renders what it looks like and what to do.
func (e *FormatError) Error() string {
	return "this is not G-code, it looks like " + e.Looks + ": " + e.Hint
}

// LimitError says that a bound was passed before the end was reached.
type LimitError struct {
	What  string // "bytes of G-code"
	Limit int64
	Hint  string
}

// Error renders the bound and what to do.
func (e *LimitError) Error() string {
	return fmt.Sprintf("more than %d %s: %s", e.Limit, e.What, e.Hint)
}

// clip shortens a line for an error and keeps it valid text.
func clip(line []byte) string {
	const most = 80
	s := strings.ToValidUTF8(string(line[:min(len(line), most)]), "\uFFFD")
	if len(line) > most {
		s += "…"
	}
	return s
}
