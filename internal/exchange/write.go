package exchange

import (
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
		lines = append(lines, append([]string{s.Designation, milli(s.Opening)}, make([]string, len(heads)-2)...))
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

// milli prints v times a thousand, exactly: reading the text and shifting back
// gives the same float64.
func milli(v float64) string {
	short := strconv.FormatFloat(v, 'e', -1, 64)
	_, power, _ := strings.Cut(short, "e")
	exponent, _ := strconv.Atoi(power)
	r, ok := new(big.Rat).SetString(short)
	if !ok {
		return "" // not a number; a stack holds none
	}
	r.Mul(r, big.NewRat(1000, 1))
	text := r.FloatString(max(0, len(short)-exponent-3))
	if strings.Contains(text, ".") {
		text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	return text
}
