package exchange

import (
	"regexp"
	"strconv"
	"strings"

	"hopperful/fact"
)

// role is what a column holds.
type role string

// The roles.
const (
	opening  role = "opening"
	stamp    role = "sieve" // what is stamped on the sieve
	retained role = "retained"
	full     role = "full"
	empty    role = "empty"
)

// words are what a heading may say. Plain words of the trade in the languages the program
// speaks, our own choice.
var words = map[string]role{
	"opening": opening, "openings": opening, "aperture": opening, "size": opening, "sieve opening": opening, "sieve size": opening,
	"sieve": stamp, "designation": stamp, "sieve number": stamp,
	"retained": retained, "net": retained, "mass": retained, "weight": retained, "mass retained": retained, "retained mass": retained, "kept": retained, "on sieve": retained,
	"full": full, "gross": full, "with sieve": full, "full sieve": full,
	"empty": empty, "tare": empty, "empty sieve": empty, "sieve empty": empty,
	"maschenweite": opening, "lochweite": opening, "öffnung": opening, "siebweite": opening, "korngröße": opening,
	"sieb": stamp, "siebnummer": stamp, "bezeichnung": stamp,
	"rückstand": retained, "netto": retained, "masse": retained, "gewicht": retained, "auf dem sieb": retained,
	"voll": full, "brutto": full, "mit sieb": full, "leer": empty, "tara": empty, "sieb leer": empty,
}

// column is a heading understood.
type column struct {
	at      int
	role    role
	unit    string // "" when none stands there
	portion int    // from 1; 0 when none stands there
	word    string // as written
}

// headings are the columns of a table.
type headings struct {
	opening, stamp *column
	masses         []column // retained, full and empty
	unused         []string
}

var (
	bracketed = regexp.MustCompile(`^(.*?)\s*[(\[]\s*([^)\]]*?)\s*[)\]]\s*(.*)$`)
	trailing  = regexp.MustCompile(`^(.*\S)[ _,]+(mm|µm|μm|um|cm|m|in|inch|mg|g|kg|oz|lb|%)$`)
	numbered  = regexp.MustCompile(`^(.*\D)\s*(\d{1,3})$`)
)

// read takes a heading apart: its words, its unit, its portion.
func read(text string) (word, unit string, portion int) {
	word = strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(text, "_", " ")), " "))
	if m := bracketed.FindStringSubmatch(word); m != nil {
		word, unit = strings.TrimSpace(m[1]+" "+m[3]), m[2]
	} else if m := trailing.FindStringSubmatch(word); m != nil {
		word, unit = m[1], m[2]
	}
	if m := numbered.FindStringSubmatch(word); m != nil {
		portion, _ = strconv.Atoi(m[2]) // three digits at most
		word = m[1]
	}
	return strings.Trim(strings.TrimSpace(word), ":."), unit, portion
}

// headingOf understands a line as the heading, if it is one: it then names a
// column of openings and one of masses.
func headingOf(l line) (headings, bool) {
	var h headings
	for i, cell := range l.cells {
		if cell == "" {
			continue
		}
		word, unit, portion := read(cell)
		c := column{at: i, role: words[word], unit: unit, portion: portion, word: cell}
		switch {
		case unit == "%" || c.role == "": // shares follow from the masses
			h.unused = append(h.unused, cell)
		case c.role == opening && h.opening == nil:
			h.opening = &c
		case c.role == stamp && h.stamp == nil:
			h.stamp = &c
		case c.role == opening || c.role == stamp:
			h.unused = append(h.unused, cell)
		default:
			h.masses = append(h.masses, c)
		}
	}
	named := h.opening != nil || h.stamp != nil
	return h, named && len(h.masses)+len(h.unused) > 0
}

// weighing is where the masses of one portion stand.
type weighing struct {
	net, full, empty *column
}

// weighings sorts the columns of masses into portions. One column of empty
// weights serves all portions.
func (t *table) weighings(at int, h headings) ([]weighing, error) {
	fail := func(what, advice fact.Saying) ([]weighing, error) { return nil, t.fault(at, -1, "", what, advice) }
	var order []int
	of := map[int]*weighing{}
	var shared *column
	for i := range h.masses {
		c := &h.masses[i]
		if c.role == empty && c.portion == 0 {
			if shared != nil {
				return fail(fact.Say("exchange.two_tares", fact.Name("one", shared.word), fact.Name("other", c.word)), fact.Say("exchange.do_number_tares"))
			}
			shared = c
			continue
		}
		portion := max(c.portion, 1)
		w := of[portion]
		if w == nil {
			w = &weighing{}
			of[portion], order = w, append(order, portion)
		}
		place := map[role]**column{retained: &w.net, full: &w.full, empty: &w.empty}[c.role]
		if *place != nil {
			return fail(fact.Say("exchange.same_meaning", fact.Name("one", (*place).word), fact.Name("other", c.word)), fact.Say("exchange.do_number_portions"))
		}
		*place = c
	}
	var all []weighing
	for _, p := range order {
		w := of[p]
		if w.full != nil && w.empty == nil {
			w.empty = shared
		}
		switch {
		case w.net == nil && w.full == nil:
			return fail(fact.Say("exchange.tare_alone", fact.Name("column", w.empty.word)), fact.Say("exchange.do_add_full"))
		case w.net == nil && w.empty == nil:
			return fail(fact.Say("exchange.no_tare", fact.Name("column", w.full.word)), fact.Say("exchange.do_add_empty"))
		}
		all = append(all, *w)
	}
	if len(all) == 0 {
		return fail(fact.Say("exchange.no_masses"), fact.Say("exchange.do_add_masses"))
	}
	return all, nil
}
