package exchange

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// Cells writes a table as CSV for a spreadsheet. A text that a spreadsheet would
// take for a formula gets an apostrophe before it, so that a name somebody chose
// never reckons or calls anything where the table is opened.
type Cells struct{ out *csv.Writer }

// NewCells writes to w; see [Cells.Flush].
func NewCells(w io.Writer) *Cells { return &Cells{csv.NewWriter(w)} }

// PartedBy sets what parts the cells of a line; otherwise a comma does.
func (c *Cells) PartedBy(separator rune) *Cells {
	c.out.Comma = separator
	return c
}

// Write writes one line.
func (c *Cells) Write(line []string) error {
	safe := make([]string, len(line))
	for i, cell := range line {
		safe[i] = harmless(cell)
	}
	return c.out.Write(safe)
}

// Flush writes what is held back.
func (c *Cells) Flush() { c.out.Flush() }

// Error is the first error there was.
func (c *Cells) Error() error { return c.out.Error() }

// harmless is a cell that is no formula: OWASP, CSV Injection, names the signs a
// formula begins with. A number may begin with a sign, with a decimal comma too.
func harmless(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(cell)[0]) {
		return cell
	}
	if _, err := strconv.ParseFloat(strings.Replace(cell, ",", ".", 1), 64); err == nil {
		return cell
	}
	return "'" + cell
}
