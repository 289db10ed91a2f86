package exchange

import (
	"bytes"
	"testing"

	"github.com/xuri/excelize/v2"
)

// TestACellIsNoFormula: the signs OWASP names under CSV Injection, and numbers,
// which keep theirs.
func TestACellIsNoFormula(t *testing.T) {
	t.Parallel()
	for cell, want := range map[string]string{
		`=HYPERLINK("http://x","y")`: `'=HYPERLINK("http://x","y")`, "+1+1": "'+1+1", "-2+3": "'-2+3", "@SUM(A1)": "'@SUM(A1)", "\tx": "'\tx", "\r=1": "'\r=1", "＝1": "'＝1",
		"-3.5": "-3.5", "-3,5": "-3,5", "+2": "+2", "-1e-9": "-1e-9", "R1": "R1", "": "", "a=b": "a=b", "é": "é",
	} {
		if got := harmless(cell); got != want {
			t.Errorf("%q becomes %q, want %q", cell, got, want)
		}
	}
}

// TestASheetHoldsTextsNotFormulas: what begins like a formula is a text in a workbook.
func TestASheetHoldsTextsNotFormulas(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	if err := write(&out, [][]string{{"=1+1", "@SUM(A1)", "-2"}}, XLSX); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, cell := range []string{"A1", "B1"} {
		formula, err := f.GetCellFormula("Sieves", cell)
		kind, kindErr := f.GetCellType("Sieves", cell)
		if err != nil || kindErr != nil || formula != "" || kind != excelize.CellTypeSharedString && kind != excelize.CellTypeInlineString {
			t.Errorf("%s holds the formula %q, of kind %v (%v, %v)", cell, formula, kind, err, kindErr)
		}
	}
}
