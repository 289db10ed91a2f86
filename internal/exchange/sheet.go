package exchange

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"
)

// readSheet takes the cells of one sheet of a workbook: the named one, else the
// first.
func readSheet(name string, raw []byte, sheet string) (t table, err error) {
	t = table{name: name, workbook: true}
	broken := func(why any) error {
		return &Error{File: name, Say: fmt.Sprintf("it cannot be read as a workbook (%v).", why), Hint: "Save it again as XLSX, or as CSV."}
	}
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
	rows, err := f.Rows(sheet)
	if err != nil {
		return t, &Error{File: name, Say: fmt.Sprintf("there is no sheet %q.", sheet), Hint: "It has: " + strings.Join(sheets, ", ") + "."}
	}
	defer rows.Close()
	for number := 1; rows.Next(); number++ {
		cells, err := rows.Columns()
		if err != nil {
			return t, broken(err)
		}
		if number > 10*mostLines {
			return t, t.fault(number, -1, "", "the sheet goes on.", "Keep only the table in the sheet.")
		}
		if err := t.add(number, cells); err != nil {
			return t, err
		}
	}
	if err := rows.Error(); err != nil {
		return t, broken(err)
	}
	return t, nil
}
