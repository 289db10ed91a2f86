package exchange

import (
	"fmt"
	"io"
	"strconv"

	"hopperful/process/sieve"
)

// What the tests of reading read: a stack as a table, in every form.

// writeStack writes a stack so that [ReadStack] reads back the same: from CSV to
// the last bit of every number, from a workbook to its fifteen digits.
func writeStack(w io.Writer, s Stack, f Format) error {
	lines := facing(s)
	gross := weighedFull(s)
	heads := []string{"sieve", "opening (mm)"}
	for p := range s.Portions {
		number := ""
		if len(s.Portions) > 1 {
			number = " " + strconv.Itoa(p+1)
		}
		if gross {
			heads = append(heads, "full"+number+" (g)", "empty"+number+" (g)")
		} else {
			heads = append(heads, "retained"+number+" (g)")
		}
	}
	lines = append(lines, heads)
	charge, known := []string{"charge", ""}, true
	for _, p := range s.Portions {
		known = known && p.Charge > 0
		charge = append(charge, milli(p.Charge))
		if gross {
			charge = append(charge, "")
		}
	}
	if known {
		lines = append(lines, charge)
	}
	for i := range len(s.Sieves) + 1 {
		cells := []string{"pan", ""}
		if i < len(s.Sieves) {
			cells = []string{s.Sieves[i].Designation, milli(s.Sieves[i].Opening)}
		}
		for n, p := range s.Portions {
			if i >= len(p.Rows) {
				return fmt.Errorf("portion %d of the stack has %d masses for %d sieves and the pan", n+1, len(p.Rows), len(s.Sieves))
			}
			cells = append(cells, milli(p.Rows[i].Mass))
			if gross {
				cells = append(cells, milli(p.Rows[i].Tare))
			}
		}
		lines = append(lines, cells)
	}
	return write(w, lines, f)
}

// weighedFull says whether any sieve was weighed with what lay on it.
func weighedFull(s Stack) bool {
	for _, p := range s.Portions {
		for _, r := range p.Rows {
			if r.Tare > 0 {
				return true
			}
		}
	}
	return false
}

// facing are the lines above the heading.
func facing(s Stack) [][]string {
	var lines [][]string
	if s.Lot != "" {
		lines = append(lines, []string{"lot", s.Lot})
	}
	if s.Hole != nil {
		lines = append(lines, []string{"screen hole (mm)", milli(*s.Hole)})
	}
	if s.Long != nil {
		lines = append(lines, []string{"long grains", strconv.Itoa(*s.Long)})
	}
	switch {
	case len(s.Sieves) == 0:
	case s.Sieves[0].Form == sieve.PlateRound:
		lines = append(lines, []string{"holes", "round"})
	case s.Sieves[0].Form == sieve.PlateSquare:
		lines = append(lines, []string{"holes", "square"})
	}
	return lines
}
