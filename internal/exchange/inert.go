package exchange

import (
	"strconv"
	"strings"
)

// inert is a cell of a table that no spreadsheet takes for a formula: one that
// begins like one gets an apostrophe before it, which spreadsheets show as text.
// Numbers stay numbers.
func inert(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	return "'" + cell
}
