package exchange

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"hopperful/quantity"
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

// findDecimalIn looks only at the cells that hold numbers.
func (t *table) findDecimalIn(holds func(number, column int) bool) error {
	t.decimal = '.'
	var comma, point, doubtful string
	for _, l := range t.lines {
		for i, c := range l.cells {
			if !holds(l.number, i) {
				continue
			}
			if withPoint.MatchString(c) && point == "" {
				point = t.place(l.number, i) + " says " + c
			}
			m := withComma.FindStringSubmatch(c)
			switch {
			case m == nil:
			case len(m[2]) == 3 && m[1] != "" && !strings.HasPrefix(m[1], "0"):
				doubtful = c // 1,234 may be a thousand
			case comma == "":
				comma = t.place(l.number, i) + " says " + c
			}
		}
	}
	if comma != "" && point != "" && !t.workbook {
		return &Error{File: t.name, Say: fmt.Sprintf("%s, but %s: is the decimal sign a comma or a point?", comma, point), Hint: "Use one of them throughout."}
	}
	if comma != "" || doubtful != "" && t.semi && point == "" {
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
	why := err.Error()
	if e := (*quantity.Error)(nil); errors.As(err, &e) {
		why = e.Why()
	}
	hint := fmt.Sprintf("Write it like 5.2 g, or the unit into the heading: %s (g).", word)
	if kind == quantity.Length {
		hint = fmt.Sprintf("Write it like 2 mm, or the unit into the heading: %s (mm).", word)
	}
	return 0, t.fault(at, column, word, fmt.Sprintf("%q cannot be read: %s.", text, strings.TrimSuffix(why, ".")), hint)
}

// place names a line and a column, or a cell of a workbook; column −1 is the
// line as a whole.
func (t *table) place(number, column int) string {
	if t.sheet != "" {
		one := *t
		one.sheet = ""
		return t.sheet + ", " + one.place(number, column)
	}
	switch {
	case t.workbook && column >= 0:
		return fmt.Sprintf("cell %s%d", letters(column), number)
	case t.workbook:
		return fmt.Sprintf("row %d", number)
	case column >= 0:
		return fmt.Sprintf("line %d, column %d", number, column+1)
	}
	return fmt.Sprintf("line %d", number)
}

// letters is the name of a workbook's column.
func letters(column int) string {
	name := ""
	for column++; column > 0; column = (column - 1) / 26 {
		name = string(rune('A'+(column-1)%26)) + name
	}
	return name
}

// fault is an error at a place; word names what is read there.
func (t *table) fault(number, column int, word, say, hint string) error {
	place := t.place(number, column)
	if word != "" {
		place += " (" + word + ")"
	}
	return &Error{File: t.name, Place: place, Say: say, Hint: hint}
}
