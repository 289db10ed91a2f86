package exchange

import (
	"regexp"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

var (
	withComma = regexp.MustCompile(`^[+-]?(\d*),(\d+)\b`)
	withPoint = regexp.MustCompile(`^[+-]?\d*\.\d+\b`)
)

// findDecimal finds out which sign is the decimal one, once for the whole
// table: the same file never means both. A workbook keeps numbers with a
// point, so in one a comma can only come from a cell of text.
func (t *table) findDecimal() error {
	return t.findDecimalIn(func(int, int) bool { return true })
}

// sign is a number that shows which sign is the decimal one, and where it stands.
type sign struct {
	at   fact.Saying
	text string
}

// findDecimalIn looks only at the cells that hold numbers.
func (t *table) findDecimalIn(holds func(number, column int) bool) error {
	t.decimal = '.'
	var comma, point sign
	doubtful := false
	for _, l := range t.lines {
		for i, c := range l.cells {
			if !holds(l.number, i) {
				continue
			}
			if withPoint.MatchString(c) && point.text == "" {
				point = sign{t.place(l.number, i, fact.Saying{}), c}
			}
			m := withComma.FindStringSubmatch(c)
			switch {
			case m == nil:
			case len(m[2]) == 3 && m[1] != "" && !strings.HasPrefix(m[1], "0"):
				doubtful = true // 1,234 may be a thousand
			case comma.text == "":
				comma = sign{t.place(l.number, i, fact.Saying{}), c}
			}
		}
	}
	if comma.text != "" && point.text != "" && !t.workbook {
		return &Error{File: t.name, What: fact.Say("exchange.two_signs", fact.Parts("comma_at", comma.at), fact.Name("comma", comma.text), fact.Parts("point_at", point.at), fact.Name("point", point.text)),
			Advice: fact.Say("exchange.do_one_sign")}
	}
	if comma.text != "" || doubtful && t.semi && point.text == "" {
		t.decimal = ','
	}
	return nil
}

// plain writes a number with a decimal point.
func (t *table) plain(text string) string {
	if t.decimal == ',' && strings.Count(text, ",") == 1 && withComma.MatchString(text) {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}

// number reads a quantity from a cell; unit is that of its column, "" if none.
func (t *table) number(kind quantity.Kind, at, column int, word, text, unit string) (float64, error) {
	v, err := kind.ParseOr(t.plain(text), unit)
	if err == nil {
		return v, nil
	}
	why, ok := shop.WhyNot(err).Fact("why")
	if !ok {
		why = fact.Parts("why", shop.WhyNot(err))
	}
	heading := word
	if unit != "" { // it stands there already
		heading = ""
	}
	advice := fact.Say("exchange.do_like_mass", fact.Name("heading", heading))
	if kind == quantity.Length {
		advice = fact.Say("exchange.do_like_length", fact.Name("heading", heading))
	}
	return 0, t.fault(at, column, word, fact.Say("refused.quantity", fact.Name("text", text), why), advice)
}

// place names a line and a column, or a cell of a workbook; column −1 is the
// line as a whole. word is what is read there; it may be empty.
func (t *table) place(number, column int, word fact.Saying) fact.Saying {
	sheet, called := fact.Name("sheet", t.sheet), fact.Parts("word", word)
	switch {
	case t.workbook && column >= 0:
		return fact.Say("exchange.at_cell", sheet, fact.Name("cell", letters(column)+strconv.Itoa(number)), called)
	case t.workbook:
		return fact.Say("exchange.at_row", sheet, fact.Count("row", number), called)
	case column >= 0:
		return fact.Say("exchange.at_column", fact.Count("line", number), fact.Count("column", column+1), called)
	}
	return fact.Say("exchange.at_line", fact.Count("line", number), called)
}

// letters is the name of a workbook's column.
func letters(column int) string {
	name := ""
	for column++; column > 0; column = (column - 1) / 26 {
		name = string(rune('A'+(column-1)%26)) + name
	}
	return name
}

// fault is an error at a place; word is the heading or the fact that is read there.
func (t *table) fault(number, column int, word string, what, advice fact.Saying) error {
	return t.faultOf(number, column, fact.Verbatim(word), what, advice)
}

// faultOf is the same where no word of the table names what is read.
func (t *table) faultOf(number, column int, word, what, advice fact.Saying) error {
	return &Error{File: t.name, At: t.place(number, column, word), What: what, Advice: advice}
}

// unworked is the fault of a formula without a value.
func (t *table) unworked(number, column int, word string) error {
	return t.fault(number, column, word, fact.Say("exchange.formula_unworked"), fact.Say("exchange.do_open_workbook"))
}
