package exchange

import (
	"bytes"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"hopperful/fact"
)

// mostSheets bounds the sheets of a notebook.
const mostSheets = 40

// readBook takes the cells of every sheet of a workbook. since says that it counts
// days from 1904.
func readBook(name string, raw []byte) (tables []table, since bool, err error) {
	broken := brokenBook(name)
	defer func() { // see readSheet
		if why := recover(); why != nil {
			err = broken(why)
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(raw), excelize.Options{RawCellValue: true, UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked})
	if err != nil {
		return nil, false, broken(err)
	}
	defer f.Close()
	if props, err := f.GetWorkbookProps(); err == nil && props.Date1904 != nil {
		since = *props.Date1904
	}
	sheets := f.GetSheetList()
	if len(sheets) > mostSheets {
		return nil, false, &Error{File: name, What: fact.Say("exchange.many_sheets", fact.Count("most", mostSheets)), Advice: fact.Say("exchange.do_keep_past_work")}
	}
	for _, s := range sheets {
		t := table{name: name, workbook: true, book: true, sheet: s}
		if err := t.take(f, s); err != nil {
			return nil, false, err
		}
		if err := t.clocks(f, s); err != nil {
			return nil, false, broken(err)
		}
		tables = append(tables, t)
	}
	return tables, since, nil
}

// clocks puts times as the sheet shows them in place of the fractions of a day in
// which a workbook keeps them: 1:20 typed for a run is kept as 0.0556.
func (t *table) clocks(f *excelize.File, sheet string) error {
	for _, l := range t.lines {
		for i, c := range l.cells {
			v, err := strconv.ParseFloat(c, 64)
			if err != nil || v < 0 || v >= 1 || !strings.Contains(c, ".") {
				continue
			}
			shown, err := f.GetCellValue(sheet, letters(i)+strconv.Itoa(l.number), excelize.Options{RawCellValue: false})
			if err != nil {
				return err
			}
			if strings.Contains(shown, ":") {
				l.cells[i] = strings.TrimSpace(shown)
			}
		}
	}
	return nil
}
