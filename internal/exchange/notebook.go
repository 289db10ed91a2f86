package exchange

import (
	"bytes"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"hopperful/fact"
	"hopperful/plan/notebook"
)

// Notebook is what a maker's notebook of past work says, a line a record.
type Notebook struct {
	Lines []notebook.Line
	Notes []fact.Saying // about the notebook as a whole
}

// BookReading says how a notebook is to be taken.
type BookReading struct {
	Now   time.Time // the shop's moment, whose time zone the notebook's is
	Dates DateOrder // where no date of the notebook leaves no choice
}

// ReadNotebook reads a notebook from CSV, pasted text or a workbook, all sheets
// of it. size is the number of bytes if it is known, else negative; name is for
// messages only. What is read is bounded by [MostBytes]. An error is an [*Error]
// about the notebook as a whole; what is wrong with a line stands at the line.
func ReadNotebook(name string, r io.Reader, size int64, how BookReading) (Notebook, error) {
	raw, err := bounded(name, r, size)
	if err != nil {
		return Notebook{}, err
	}
	tables, since, err := pagesOf(name, raw)
	if err != nil {
		return Notebook{}, err
	}
	b := &bookReader{dating: dating{now: how.Now, book: len(tables) > 0 && tables[0].workbook, since: since}}
	var dates []string
	for i := range tables {
		p := &bookPage{table: &tables[i], reader: b, defaults: map[part]string{}}
		p.kind = kindWords[lower(tables[i].sheet)]
		if err := p.part(); err != nil {
			return Notebook{}, err
		}
		dates = append(dates, p.dates()...)
		b.pages = append(b.pages, p)
	}
	b.dating.order = orderIn(dates, how.Dates)
	if !slices.ContainsFunc(tables, func(t table) bool { return len(t.lines) > 0 }) {
		return Notebook{}, &Error{File: name, What: fact.Say("exchange.nothing_in_it"), Advice: fact.Say("exchange.do_name_columns")}
	}
	found := false
	for _, p := range b.pages {
		if err := p.read(); err != nil {
			return Notebook{}, err
		}
		found = found || p.headed
	}
	if !found {
		return Notebook{}, &Error{File: name, What: fact.Say("exchange.no_headings"), Advice: fact.Say("exchange.do_name_columns")}
	}
	if len(b.unused) > 0 {
		b.notes = append(b.notes, fact.Say("notebook.unused", fact.Names("columns", b.unused)))
	}
	return Notebook{b.lines, b.notes}, nil
}

// pagesOf takes the cells of a text, or of every sheet of a workbook. since says
// that it counts days from 1904.
func pagesOf(name string, raw []byte) (tables []table, since bool, err error) {
	if bytes.HasPrefix(raw, zipMark) {
		return readBook(name, raw)
	}
	text, ok := decode(raw)
	if !ok {
		return nil, false, &Error{File: name, What: fact.Say("exchange.no_text"), Advice: fact.Say("exchange.do_give_file")}
	}
	t := table{name: name, book: true}
	err = t.parted(text, bookSeparator(text))
	return []table{t}, false, err
}

// mostLooked is in how many lines the headings of a notebook are looked for to
// find out what parts its columns.
const mostLooked = 60

// bookSeparator is what parts the columns: under which most headings are
// understood.
func bookSeparator(text string) rune {
	best, most, n := ',', 0, 0
	for l := range strings.Lines(text) {
		if n++; n > mostLooked {
			break
		}
		for _, sep := range []rune{'\t', ';', ','} {
			cells := strings.Split(l, string(sep))
			if len(cells) > mostColumns {
				continue
			}
			for i := range cells {
				cells[i] = strings.Trim(strings.TrimSpace(cells[i]), `"`)
			}
			if known, _, _ := pillarsOf(cells); len(known) > most {
				best, most = sep, len(known)
			}
		}
	}
	return best
}

// bookReader reads the pages of one notebook, one after the other.
type bookReader struct {
	dating
	pages  []*bookPage
	lines  []notebook.Line
	notes  []fact.Saying
	unused []string // headings that no record has a place for
}

// bookPage is one sheet or text.
type bookPage struct {
	*table
	reader   *bookReader
	sections []section
	headed   bool
	kind     string          // of the records below
	defaults map[part]string // said above the headings, for all lines below
	above    map[part]string // cells of the line before
	at       time.Time       // of the line before; zero at first
}

// section is some lines below one line of headings.
type section struct {
	pillars  []pillar
	strange  []pillar
	lines    []line
	headedAt int
}

// part parts the page at its headings, and finds its decimal sign.
func (p *bookPage) part() error {
	now := section{}
	for _, l := range p.lines {
		known, unknown, ok := pillarsOf(l.cells)
		if !ok {
			now.lines = append(now.lines, l)
			continue
		}
		if err := p.once(l.number, known); err != nil {
			return err
		}
		p.sections = append(p.sections, now)
		now = section{pillars: known, strange: unknown, headedAt: l.number}
	}
	p.sections = append(p.sections, now)
	numeric := map[[2]int]bool{}
	for _, s := range p.sections {
		for _, c := range s.pillars {
			if m, ok := measured[c.part]; ok && m.unit != "" {
				for _, l := range s.lines {
					numeric[[2]int{l.number, c.at}] = true
				}
			}
		}
	}
	return p.findDecimalIn(func(number, column int) bool { return numeric[[2]int{number, column}] })
}

// once refuses headings that mean the same.
func (p *bookPage) once(number int, known []pillar) error {
	seen := map[part]string{}
	for _, c := range known {
		if was, twice := seen[c.part]; twice {
			return p.fault(number, c.at, "", fact.Say("exchange.same_meaning", fact.Name("one", was), fact.Name("other", c.word)), fact.Say("exchange.do_rename"))
		}
		seen[c.part] = c.word
	}
	return nil
}

// dates are the texts of all dates of the page.
func (p *bookPage) dates() []string {
	var all []string
	for _, s := range p.sections {
		for _, l := range s.lines {
			for _, c := range s.pillars {
				if c.part == inDate {
					all = append(all, l.at(c.at))
				}
			}
		}
	}
	return all
}

// at is the text of a column in a line, "" beyond its end.
func (l line) at(column int) string {
	if column >= len(l.cells) {
		return ""
	}
	return l.cells[column]
}

// read takes the lines of all sections.
func (p *bookPage) read() error {
	for _, s := range p.sections {
		if s.pillars == nil {
			p.before(s.lines)
			continue
		}
		p.headed, p.above = true, map[part]string{}
		for _, c := range s.strange {
			if !slices.Contains(p.reader.unused, c.word) {
				p.reader.unused = append(p.reader.unused, c.word)
			}
		}
		for _, l := range s.lines {
			if err := p.line(&s, l); err != nil {
				return err
			}
		}
	}
	return nil
}

// before takes what stands above the first headings: a title, the kind of what
// follows, or what holds for all lines below.
func (p *bookPage) before(lines []line) {
	for _, l := range lines {
		filled := slices.DeleteFunc(slices.Clone(l.cells), func(c string) bool { return c == "" })
		if kind := kindWords[lower(filled[0])]; kind != "" && len(filled) == 1 {
			p.kind = kind
		}
		c, ok := pillarOf(0, filled[0])
		if !ok || len(filled) < 2 {
			continue
		}
		value := filled[1]
		if m, is := measured[c.part]; is && c.unit != "" && !strings.ContainsFunc(value, func(r rune) bool { return r > '9' }) && m.unit != "" {
			value += " " + c.unit
		}
		p.defaults[c.part] = value
	}
}

// line takes one line below the headings.
func (p *bookPage) line(s *section, l line) error {
	var filled []string
	for _, c := range l.cells {
		if c != "" {
			filled = append(filled, c)
		}
	}
	if _, sum := sums[lower(filled[0])]; sum {
		return nil
	}
	if len(filled) == 1 {
		if kind := kindWords[lower(filled[0])]; kind != "" {
			p.kind = kind
			return nil
		}
		if at, clock, undecided, ok := p.reader.dating.read(filled[0]); ok && !undecided && clock == "" {
			p.at = at
			return nil
		}
	}
	for i := range l.cells {
		if p.formula(l.number, i) {
			return p.unworked(l.number, i, "")
		}
	}
	e := entry{page: p, section: s, line: l, out: notebook.Line{Place: p.place(l.number, -1, fact.Saying{}), Raw: clipped(strings.Join(filled, " · ")), Lots: map[string]string{}, Heads: map[string]string{}}}
	e.read()
	p.reader.lines = append(p.reader.lines, e.out)
	return nil
}

// mostRaw is how much of a line that could not be read is shown.
const mostRaw = 80

func clipped(text string) string {
	if utf8.RuneCountInString(text) <= mostRaw {
		return text
	}
	return string([]rune(text)[:mostRaw]) + "…"
}
