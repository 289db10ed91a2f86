package exchange

import (
	"bytes"
	"io"
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/process/sieve"
)

// Stack is a sieve analysis as a table says it, in SI.
type Stack struct {
	sieve.Stack               // sieves from the top; what the table says of them
	Name        string        // of the file
	Lot         string        // what the table says it is of, such as "R3"; may be empty
	Hole        *float64      // of the mill's screen [m]; nil: the table does not say
	Long        *int          // grains longer than two holes; nil: nobody counted
	Notes       []fact.Saying // what was taken how, for a person to check
}

// Row is what lies on one sieve or, after the last, in the pan, all portions together:
// without the sieve, with it, and the sieve itself as the last portion had it [kg].
func (t Stack) Row(row int) (net, gross, tare float64) {
	for _, p := range t.Portions {
		net, tare = net+p.Rows[row].Mass-p.Rows[row].Tare, p.Rows[row].Tare
	}
	return net, net + tare, tare
}

// Charge is what was put on the sieves, all portions together [kg]; 0 where nobody said.
func (t Stack) Charge() float64 {
	sum := 0.0
	for _, p := range t.Portions {
		sum += p.Charge
	}
	return sum
}

// Reading says how a table is to be taken; the zero value is ready to use.
type Reading struct {
	Sheet string     // of a workbook; empty: the first
	Holes sieve.Form // of the sieves, unless the table says; empty: woven wire
}

// zipMark begins every workbook, which is a zip archive.
var zipMark = []byte("PK\x03\x04")

// ReadStack reads a sieve stack. size is the number of bytes if it is known,
// else negative; name is for messages only. What is read is bounded by
// [MostBytes]. Every error is an [*Error].
func ReadStack(name string, r io.Reader, size int64, how Reading) (Stack, error) {
	t, err := readTable(name, r, size, how.Sheet)
	if err != nil {
		return Stack{}, err
	}
	if len(t.lines) == 0 {
		return Stack{}, &Error{File: name, What: fact.Say("exchange.nothing_in_it"), Advice: fact.Say("exchange.do_template")}
	}
	b := builder{table: &t, stack: Stack{Name: name}, form: how.Holes}
	if b.form == "" {
		b.form = sieve.Woven
	}
	return b.build()
}

// readTable reads a bounded file, finds out what kind of table it is and which
// sign is the decimal one, and takes its cells.
func readTable(name string, r io.Reader, size int64, sheet string) (table, error) {
	raw, err := bounded(name, r, size)
	if err != nil {
		return table{}, err
	}
	t, err := cellsOf(name, raw, sheet)
	if err != nil {
		return table{}, err
	}
	return t, t.findDecimal()
}

// bounded reads a file of at most [MostBytes].
func bounded(name string, r io.Reader, size int64) ([]byte, error) {
	tooLong := &Error{File: name, What: fact.Say("exchange.too_long", fact.Count("mb", MostBytes>>20)), Advice: fact.Say("exchange.do_only_table")}
	if size > MostBytes {
		return nil, tooLong
	}
	raw, err := io.ReadAll(io.LimitReader(r, MostBytes+1))
	switch {
	case err != nil:
		return nil, &Error{File: name, What: fact.Say("exchange.unreadable", fact.Name("why", err.Error())), Advice: fact.Say("exchange.do_check_file")}
	case len(raw) > MostBytes:
		return nil, tooLong
	}
	return raw, nil
}

// cellsOf finds out what kind of table it is and takes its cells.
func cellsOf(name string, raw []byte, sheet string) (table, error) {
	if bytes.HasPrefix(raw, zipMark) {
		return readSheet(name, raw, sheet)
	}
	if sheet != "" {
		return table{}, &Error{File: name, What: fact.Say("exchange.no_workbook", fact.Name("sheet", sheet)), Advice: fact.Say("exchange.do_no_sheet")}
	}
	text, ok := decode(raw)
	if !ok {
		return table{}, &Error{File: name, What: fact.Say("exchange.no_text"), Advice: fact.Say("exchange.do_give_or_paste")}
	}
	return readText(name, text)
}

// row is one sieve of the table, not yet in order.
type row struct {
	line  int
	sieve sieve.Sieve
	mass  []sieve.Row // one a portion
}

// builder makes a stack out of a table's lines.
type builder struct {
	*table
	stack   Stack
	form    sieve.Form
	heads   headings
	at      int // line of the heading
	weighed []weighing
	rows    []row
	pan     *row
	panSaid string // what the pan was known by, when not by its name
	charge  []float64
}

func (b *builder) build() (Stack, error) {
	rest, err := b.begin()
	if err != nil {
		return Stack{}, err
	}
	for _, l := range rest {
		if err := b.take(l); err != nil {
			return Stack{}, err
		}
	}
	if err := b.panFits(); err != nil {
		return Stack{}, err
	}
	if err := b.order(); err != nil {
		return Stack{}, err
	}
	return b.finish()
}

// begin finds the heading. What stands above it is facts or a title. A table
// without one must give each sieve and each mass its unit.
func (b *builder) begin() ([]line, error) {
	for i, l := range b.lines {
		h, ok := headingOf(l)
		if !ok {
			continue
		}
		b.heads, b.at = h, l.number
		var err error
		if b.weighed, err = b.weighings(l.number, h); err != nil {
			return nil, err
		}
		if len(h.unused) > 0 {
			b.note(fact.Say("exchange.not_used", fact.Name("columns", strings.Join(h.unused, ", "))))
		}
		for _, above := range b.lines[:i] {
			known, err := b.fact(above)
			if err != nil {
				return nil, err
			}
			if !known {
				b.note(fact.Say("exchange.passed_over", fact.Name("line", strings.Join(above.cells, " "))))
			}
		}
		return b.lines[i+1:], nil
	}
	b.at = b.lines[0].number
	b.heads.opening = &column{at: 0, role: opening, word: string(opening)}
	b.weighed = []weighing{{net: &column{at: 1, role: retained, word: string(retained)}}}
	return b.lines, nil
}

func (b *builder) note(what fact.Saying) { b.stack.Notes = append(b.stack.Notes, what) }

// order brings the sieves from the coarsest to the finest. A table that rises
// throughout was written from the pan upwards; anything else is a mistake.
func (b *builder) order() error {
	if len(b.rows) > 1 && slices.IsSortedFunc(b.rows, func(x, y row) int { return compare(x.sieve.Opening, y.sieve.Opening) }) {
		slices.Reverse(b.rows)
		b.note(fact.Say("exchange.finest_first"))
	}
	for i := range b.rows {
		if i == 0 {
			continue
		}
		above, here := b.rows[i-1], b.rows[i]
		switch {
		case here.sieve.Opening == above.sieve.Opening:
			return b.fault(max(here.line, above.line), -1, "", fact.Say("exchange.sieve_twice", fact.Name("sieve", here.sieve.Designation)), fact.Say("exchange.do_mass_once"))
		case here.sieve.Opening > above.sieve.Opening:
			return b.fault(here.line, -1, "", fact.Say("exchange.sieve_order", fact.Name("sieve", here.sieve.Designation), fact.Name("above", above.sieve.Designation)),
				fact.Say("exchange.do_from_top"))
		}
	}
	return nil
}

func compare(x, y float64) int {
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

// finish puts the stack together.
func (b *builder) finish() (Stack, error) {
	last := b.lines[len(b.lines)-1].number
	switch {
	case len(b.rows) == 0:
		return Stack{}, b.fault(b.at, -1, "", fact.Say("exchange.no_sieves"), fact.Say("exchange.do_enter_kept"))
	case b.pan == nil:
		return Stack{}, b.fault(last, -1, "", fact.Say("exchange.no_pan"), fact.Say("exchange.do_add_pan"))
	}
	for range b.weighed {
		b.stack.Portions = append(b.stack.Portions, sieve.Portion{})
	}
	for i := range b.charge {
		b.stack.Portions[i].Charge = b.charge[i]
	}
	for _, r := range append(b.rows, *b.pan) {
		if r.line != b.pan.line {
			b.stack.Sieves = append(b.stack.Sieves, r.sieve)
		}
		for p, m := range r.mass {
			b.stack.Portions[p].Rows = append(b.stack.Portions[p].Rows, m)
		}
	}
	return b.stack, nil
}
