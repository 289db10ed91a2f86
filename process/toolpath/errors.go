package toolpath

import (
	"errors"
	"fmt"
	"strings"
)

// ErrEmpty says that the stream holds nothing.
var ErrEmpty = errors.New("the G-code is empty")

// ErrNoExtrusion says that the file moves but never extrudes.
var ErrNoExtrusion = errors.New("the G-code extrudes nothing: no move has an E word that goes forward")

// Fault is what is wrong with a line. Edges word it by its value.
type Fault string

// What can be wrong with a line.
const (
	Expression     Fault = "parameters and expressions"
	NoLetter       Fault = "no letter"
	NoChecksum     Fault = "no checksum"
	BehindChecksum Fault = "behind the checksum"
	ManyDigits     Fault = "many digits" // more than 9 before the point
	LineNumber     Fault = "line number" // N within a line, or without a number
	LetterTwice    Fault = "letter twice"
	CommandNumber  Fault = "command number" // G and M need one with at most one digit after the point
	ManyCommands   Fault = "many commands"  // more than 8 in a line
	TwoMotions     Fault = "two motions"
	NoNumber       Fault = "no number"
	LongLine       Fault = "long line" // more than 262144 bytes
)

// SyntaxError is a line that cannot be read.
type SyntaxError struct {
	Line   int64  // from 1
	Column int    // byte in the line, from 1
	Text   string // the line, shortened
	Fault  Fault
}

// Error renders line, column, complaint and the line itself.
func (e *SyntaxError) Error() string {
	return fmt.Sprintf("line %d, column %d: %s: %q", e.Line, e.Column, e.Fault, e.Text)
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
	Looks  Looks
	Detail string // for who looks into the file
}

// Looks is what a stream looks like that is no G-code. Edges word it by its value.
type Looks string

// What a stream may look like.
const (
	Gzip         Looks = "gzip"
	Zip          Looks = "ZIP container" // such as 3MF
	PNG          Looks = "PNG picture"
	JPEG         Looks = "JPEG picture"
	PDF          Looks = "PDF document"
	UTF16        Looks = "UTF-16 text"
	XML          Looks = "web page"
	JSON         Looks = "JSON"
	STL          Looks = "STL mesh"
	Binary       Looks = "binary file"
	NoCommand    Looks = "no command" // text without a single G or M word
	Damaged      Looks = "damaged file"
	OtherVersion Looks = "other version" // of binary G-code
)

// Error renders what it looks like.
func (e *FormatError) Error() string {
	return strings.TrimSuffix(fmt.Sprintf("this is not G-code: %s: %s", e.Looks, e.Detail), ": ")
}

// LimitError says that a bound was passed before the end was reached.
type LimitError struct {
	Limit  int64 // bytes
	Packed int64 // bytes they were unpacked from; 0: they were not packed
}

// Error renders the bound.
func (e *LimitError) Error() string {
	return fmt.Sprintf("more than %d bytes, from %d packed ones", e.Limit, e.Packed)
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
