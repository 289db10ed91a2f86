package exchange

import (
	"fmt"
	"io"
	"math/big"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"hopperful/internal/say"
	"hopperful/process/sieve"
)

// Format is the kind of table written.
type Format int

// The formats.
const (
	CSV Format = iota
	XLSX
)

// WriteStack writes a stack so that [ReadStack] reads back the same: from CSV to
// the last bit of every number, from a workbook to its fifteen digits.
func WriteStack(w io.Writer, s Stack, f Format) error {
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
		charge = append(charge, shifted(p.Charge, 3))
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
			cells = []string{s.Sieves[i].Designation, shifted(s.Sieves[i].Opening, 3)}
		}
		for n, p := range s.Portions {
			if i >= len(p.Rows) {
				return fmt.Errorf("portion %d of the stack has %d masses for %d sieves and the pan", n+1, len(p.Rows), len(s.Sieves))
			}
			cells = append(cells, shifted(p.Rows[i].Mass, 3))
			if gross {
				cells = append(cells, shifted(p.Rows[i].Tare, 3))
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
		lines = append(lines, []string{"screen hole (mm)", shifted(*s.Hole, 3)})
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

// WriteTemplate writes a table of sieves to fill in; gross asks for the weight
// with the sieve and of the empty sieve. How to fill it in stands above, in that
// language.
func WriteTemplate(w io.Writer, lang string, sieves []sieve.Sieve, gross bool, f Format) error {
	p := say.For(lang)
	lines := [][]string{{"# " + p.Line("exchange.sieves_how")}}
	heads := []string{p.Line("exchange.head_sieve"), p.Line("exchange.head_opening") + " (mm)"}
	if gross {
		heads = append(heads, p.Line("exchange.head_full")+" (g)", p.Line("exchange.head_empty")+" (g)")
	} else {
		lines = append(lines, []string{"# " + p.Line("exchange.sieves_how_full")})
		heads = append(heads, p.Line("exchange.head_retained")+" (g)")
	}
	lines = append(lines, []string{p.Line("exchange.head_lot"), ""}, []string{p.Line("exchange.head_hole") + " (mm)", ""}, []string{p.Line("exchange.head_charge") + " (g)", ""}, heads)
	for _, s := range sieves {
		lines = append(lines, append([]string{s.Designation, shifted(s.Opening, 3)}, make([]string, len(heads)-2)...))
	}
	return write(w, append(lines, append([]string{p.Line("exchange.head_pan"), ""}, make([]string, len(heads)-2)...)), f)
}

func write(w io.Writer, lines [][]string, f Format) error {
	return writeParted(w, "Sieves", lines, f, ',')
}

// writeParted writes lines as a sheet of that title, or as text parted at the
// separator.
func writeParted(w io.Writer, title string, lines [][]string, f Format, separator rune) error {
	if f == XLSX {
		return writeSheet(w, title, lines)
	}
	c := NewCells(w).PartedBy(separator)
	for _, l := range lines {
		if strings.HasPrefix(l[0], "#") { // a remark is no cell and needs no quotes
			c.Flush()
			if _, err := io.WriteString(w, l[0]+"\n"); err != nil {
				return err
			}
			continue
		}
		if err := c.Write(l); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

func writeSheet(w io.Writer, title string, lines [][]string) error {
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetSheetName(f.GetSheetName(0), title); err != nil {
		return err
	}
	if err := fillSheet(f, title, lines); err != nil {
		return err
	}
	return f.Write(w)
}

// fillSheet writes lines into a sheet; numbers become numbers, all else text.
func fillSheet(f *excelize.File, sheet string, lines [][]string) error {
	for i, l := range lines {
		cells := make([]any, len(l))
		for j, c := range l {
			cells[j] = c
			if v, err := strconv.ParseFloat(c, 64); err == nil {
				cells[j] = v
			}
			if c == "" {
				cells[j] = nil
			}
		}
		if err := f.SetSheetRow(sheet, "A"+strconv.Itoa(i+1), &cells); err != nil {
			return err
		}
	}
	return nil
}

// shifted prints v times ten to the places, exactly: reading the text and
// shifting back gives the same float64.
func shifted(v float64, places int) string {
	short := strconv.FormatFloat(v, 'e', -1, 64)
	_, power, _ := strings.Cut(short, "e")
	exponent, _ := strconv.Atoi(power)
	r, ok := new(big.Rat).SetString(short)
	if !ok {
		return "" // not a number; a stack holds none
	}
	r.Mul(r, new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)))
	text := r.FloatString(max(0, len(short)-exponent-places))
	if strings.Contains(text, ".") {
		text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	return text
}
