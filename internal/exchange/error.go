package exchange

import "hopperful/fact"

// The bounds of a table. A stack takes a few kilobytes; the bounds are far above
// that and far below what could make a small computer swap.
const (
	MostBytes    = 4 << 20
	mostUnpacked = 16 << 20 // of a workbook, unpacked
	mostLines    = 5000
	mostColumns  = 64
	mostCell     = 200 // bytes
)

// Error says what in a table could not be read, where, and what to do.
type Error struct {
	File   string      // name of the file; empty: a table that has none
	At     fact.Saying // the place: a line and column, a cell; empty: the file as a whole
	What   fact.Saying // what was wrong
	Advice fact.Saying // what to do
}

// Error is the codes of what is wrong and where, as a log shows them; the edges
// word it.
func (e *Error) Error() string {
	text := e.File
	for _, s := range []fact.Saying{e.At, e.What} {
		if !s.Empty() {
			text += " " + s.Code
		}
	}
	return text
}

// Says is what was wrong, with the file and the place.
func (e *Error) Says() fact.Saying {
	return fact.Say("exchange.refused", fact.Name("file", e.File), fact.Parts("at", e.At), fact.Parts("what", e.What))
}
