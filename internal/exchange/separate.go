package exchange

import (
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"

	"hopperful/fact"
)

// line is one row of a table with something in it.
type line struct {
	number int // in the file, from 1
	cells  []string
}

// table is a table's cells, before anybody asks what they mean.
type table struct {
	name     string // of the file
	workbook bool   // places are cells, A1
	lines    []line
	decimal  rune            // ',' or '.'
	semi     bool            // columns are parted by semicolons
	unsolved map[[2]int]bool // line and column of a workbook's formulas without a value
	book     bool            // a notebook, in which people write remarks into cells
	sheet    string          // of a workbook with several
}

// blanks parts the columns of text that has no other separator.
const blanks = ' '

// readText parts a text into cells.
func readText(name, text string) (table, error) {
	t := table{name: name}
	separator := separatorOf(text)
	t.semi = separator == ';'
	if separator == blanks {
		for i, l := range strings.Split(text, "\n") {
			if err := t.add(i+1, wordsOf(l)); err != nil {
				return t, err
			}
		}
		return t, nil
	}
	return t, t.parted(text, separator)
}

// parted parts a text at a separator.
func (t *table) parted(text string, separator rune) error {
	t.semi = separator == ';'
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = separator, -1
	r.LazyQuotes, r.TrimLeadingSpace = true, separator != '\t' // 1/4" is no quoted text
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return &Error{File: t.name, What: fact.Say("exchange.no_columns", fact.Name("why", err.Error())), Advice: fact.Say("exchange.do_save_csv")}
		}
		at, _ := r.FieldPos(0)
		if err := t.add(at, cells); err != nil {
			return err
		}
	}
}

// add keeps a line, its blank end cut off, if anything is in it.
func (t *table) add(number int, cells []string) error {
	for i := range cells {
		cells[i] = strings.TrimSpace(strings.ReplaceAll(cells[i], "\u00a0", " "))
	}
	for len(cells) > 0 && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	if len(cells) == 0 || !t.book && remark.MatchString(cells[0]) || bookRemark.MatchString(cells[0]) {
		return nil
	}
	longest := mostCell
	if t.book {
		longest = mostRemark
	}
	if len(t.lines) == mostLines {
		return t.fault(number, -1, "", fact.Say("exchange.many_lines", fact.Count("most", mostLines)), fact.Say("exchange.do_only_table"))
	}
	if len(cells) > mostColumns {
		return t.fault(number, -1, "", fact.Say("exchange.many_columns", fact.Count("n", len(cells)), fact.Count("most", mostColumns)), fact.Say("exchange.do_only_table"))
	}
	for i, c := range cells {
		if len(c) > longest {
			return t.fault(number, i, "", fact.Say("exchange.long_cell", fact.Count("most", longest)), fact.Say("exchange.do_remarks"))
		}
	}
	t.lines = append(t.lines, line{number, cells})
	return nil
}

// remark is a line that is none of the table's; "#14" is a sieve.
var remark = regexp.MustCompile(`^\s*#(\D|$)`)

// bookRemark is one of a notebook's, in which a column may be called "#".
var bookRemark = regexp.MustCompile(`^\s*#\s*\pL`)

// mostRemark bounds a cell of a notebook: what the note of a record holds.
const mostRemark = 2000

var betweenDigits = regexp.MustCompile(`\d,\d`)

// separatorOf finds what parts the columns: a tab, else a semicolon, else a
// comma that is no decimal one, else blanks.
func separatorOf(text string) rune {
	lines, tabs, semis, commas, only := 0, 0, 0, 0, true
	for l := range strings.Lines(text) {
		l = strings.TrimSpace(l)
		if l == "" || remark.MatchString(l) {
			continue
		}
		lines++
		tabs += min(strings.Count(l, "\t"), 1)
		semis += min(strings.Count(l, ";"), 1)
		commas += min(strings.Count(l, ","), 1)
		decimals := len(betweenDigits.FindAllString(l, -1))
		only = only && strings.Count(l, ",") == decimals && strings.ContainsAny(l, " \t")
	}
	switch {
	case 2*tabs > lines:
		return '\t'
	case 2*semis > lines:
		return ';'
	case commas > 0 && !only:
		return ','
	}
	return blanks
}

var (
	numberWord = regexp.MustCompile(`^[+-]?[\d.,/]+$`)
	unitWord   = regexp.MustCompile(`^(\(.*\)|\[.*\]|mm|cm|m|µm|μm|um|in|inch|mg|g|kg|oz|lb|")$`)
)

// wordsOf parts a line at its blanks, but leaves a number with its unit, a
// heading with its unit, and "No. 10" together.
func wordsOf(l string) []string {
	if remark.MatchString(l) {
		return nil
	}
	var cells []string
	for _, w := range strings.Fields(l) {
		last := len(cells) - 1
		if last >= 0 && slices.Contains([]string{"<", "<=", "≤"}, cells[last]) {
			cells[last] += w
			continue
		}
		joins := last >= 0 && (unitWord.MatchString(w) && !strings.Contains(cells[last], " ") ||
			numberWord.MatchString(w) && strings.EqualFold(strings.TrimSuffix(cells[last], "."), "no"))
		if joins {
			cells[last] += " " + w
		} else {
			cells = append(cells, w)
		}
	}
	return cells
}

// formula reports a workbook's cell that holds a formula, but no value of it.
func (t *table) formula(number, column int) bool { return t.unsolved[[2]int{number, column}] }
