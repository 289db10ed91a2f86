package web

import (
	"net/http"
	"slices"
	"time"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/polymer"
	"hopperful/shop"
)

// desk is what lies ready while a page is made: one snapshot of the shop, the
// moment, and how this shop writes numbers.
type desk struct {
	state   *shop.State
	now     time.Time
	say     *say.Printer        // the words, in the language of the shop or the browser
	palette *palette            // the lots' colours; nil: by their words
	query   func(string) string // what the address says; "" when nothing
}

func (s *server) desk(r *http.Request) *desk {
	st := s.store.State()
	q := r.URL.Query()
	p := speaks(r, st)
	return &desk{state: st, now: s.now(), say: p, palette: &s.palette, query: q.Get}
}

// speaks is the printer of words: in the language the shop chose, else the one the
// browser asks for, with the comma where language or shop has it.
func speaks(r *http.Request, st *shop.State) *say.Printer {
	p := say.For(st.Shop.Language, r.Header.Get("Accept-Language"))
	if st.Shop.DecimalComma {
		return p.WithComma()
	}
	return p
}

// materials is the table of materials with the shop's own values on top; the
// books alone when one of those is refused, so that its page can still mend it.
func (d *desk) materials() *polymer.Table {
	t, err := d.state.Table()
	if err != nil {
		return polymer.Books()
	}
	return t
}

// lotCrumb is the way back to a lot.
func (d *desk) lotCrumb(id shop.LotID) *link {
	return &link{lotPath(id), d.say.Line("go.lot_page", fact.Name("lot", string(id)))}
}

// lotOptions offers the lots that have something, of some classes.
func (d *desk) lotOptions(none string, classes ...shop.Class) []option {
	opts := []option{{"", none}}
	lots := d.state.Stock(classes...)
	lots = lots[max(0, len(lots)-mostOffered):]
	if l, ok := d.state.Lot(shop.LotID(d.query("lot"))); ok && !slices.ContainsFunc(lots, func(x *shop.Lot) bool { return x.ID == l.ID }) {
		lots = append(lots, l)
	}
	for _, l := range lots {
		if slices.Contains(classes, l.Class) {
			opts = append(opts, option{string(l.ID), lotLine(d.say, l)})
		}
	}
	return opts
}

// mostOffered is how many lots a field offers, the latest; an older one is reached from
// its page. Judgement: nobody looks through more.
const mostOffered = 200

// mostColoured is of how many of the latest lots the colours are offered.
const mostColoured = 1000

// colours are the colour words this shop has used, for suggestions.
func (d *desk) colours() []string {
	var words []string
	seen := map[string]bool{"": true}
	for _, id := range d.state.Order[max(0, len(d.state.Order)-mostColoured):] {
		if c := d.state.Lots.At(id).Colour; !seen[c] {
			seen[c] = true
			words = append(words, c)
		}
	}
	return words
}
