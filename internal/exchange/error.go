package exchange

import "strings"

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
	File  string // name of the file
	Place string // "line 7, column 2", "cell B7"; empty: the file as a whole
	Say   string // what was wrong
	Hint  string // what to do
}

// Error renders file, place, fault and hint.
func (e *Error) Error() string { return strings.TrimSpace(e.What() + " " + e.Hint) }

// What is the error without the hint.
func (e *Error) What() string {
	where := e.File
	if e.Place != "" {
		where += ", " + e.Place
	}
	return where + ": " + e.Say
}
