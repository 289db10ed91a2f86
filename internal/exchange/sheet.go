package exchange

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"hopperful/fact"
)

// readSheet takes the cells of one sheet of a workbook: the named one, else the
// first.
func readSheet(name string, raw []byte, sheet string) (t table, err error) {
	t = table{name: name, workbook: true}
	broken := brokenBook(name)
	// The library is not ours and has met hostile files with a panic before; a
	// damaged workbook must not end the program.
	defer func() {
		if why := recover(); why != nil {
			err = broken(why)
		}
	}()
	// Both limits alike: nothing is unpacked to the disk.
	f, err := excelize.OpenReader(bytes.NewReader(raw), excelize.Options{RawCellValue: true, UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked})
	if err != nil {
		return t, broken(err)
	}
	defer f.Close()
	sheets := f.GetSheetList()
	if sheet == "" && len(sheets) > 0 {
		sheet = sheets[0]
	}
	return t, t.take(f, sheet)
}

// brokenBook says why a workbook cannot be read.
func brokenBook(name string) func(why any) error {
	return func(why any) error {
		return &Error{File: name, What: fact.Say("exchange.broken_workbook", fact.Name("why", fmt.Sprint(why))), Advice: fact.Say("exchange.do_save_workbook")}
	}
}

// take takes the cells of a sheet.
func (t *table) take(f *excelize.File, sheet string) error {
	broken := brokenBook(t.name)
	rows, err := f.Rows(sheet)
	if err != nil {
		return &Error{File: t.name, What: fact.Say("exchange.no_sheet", fact.Name("sheet", sheet)), Advice: fact.Say("exchange.do_sheets", fact.Name("sheets", strings.Join(f.GetSheetList(), ", ")))}
	}
	defer rows.Close()
	var bare []int // rows of the sheet in which nothing stands
	for number := 1; rows.Next(); number++ {
		cells, err := rows.Columns()
		if err != nil {
			return broken(err)
		}
		if number > 10*mostLines {
			return t.fault(number, -1, "", fact.Say("exchange.sheet_goes_on"), fact.Say("exchange.do_only_table_sheet"))
		}
		before := len(t.lines)
		if err := t.add(number, cells); err != nil {
			return err
		}
		if len(t.lines) == before {
			bare = append(bare, number)
		}
	}
	if err := rows.Error(); err != nil {
		return broken(err)
	}
	return t.findUnsolved(f, sheet, bare)
}

// mostAsked bounds how many cells are asked for a formula: more than a stack has.
const mostAsked = 4000

// findUnsolved notes the cells that hold a formula whose value was never worked
// out: a program wrote the workbook and no spreadsheet has opened it since. They
// read as empty and must not be taken for it; a row of nothing else is refused.
func (t *table) findUnsolved(f *excelize.File, sheet string, bare []int) error {
	wide := 0
	for _, l := range t.lines {
		wide = max(wide, len(l.cells)+1)
	}
	t.unsolved = map[[2]int]bool{}
	asked := 0
	ask := func(number, column int) bool {
		if asked++; asked > mostAsked {
			return false
		}
		what, err := f.GetCellFormula(sheet, fmt.Sprintf("%s%d", letters(column), number))
		t.unsolved[[2]int{number, column}] = err == nil && what != ""
		return t.formula(number, column)
	}
	for _, l := range t.lines {
		for i := range wide {
			if i >= len(l.cells) || l.cells[i] == "" {
				ask(l.number, i)
			}
		}
	}
	for _, number := range bare {
		for i := range wide {
			if ask(number, i) {
				return t.unworked(number, i, "")
			}
		}
	}
	return nil
}
