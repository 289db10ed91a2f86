package desk

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/forms"
	"hopperful/polymer"
	"hopperful/shop"
)

// Desk is what lies ready while a page is made: one snapshot of the shop, the
// moment, and how this shop writes numbers.
type Desk struct {
	State   *shop.State
	Now     time.Time
	Say     *say.Printer        // the words, in the language of the shop or the browser
	Palette *Palette            // the lots' colours; nil: by their words
	Query   func(string) string // what the address says; "" when nothing
}

// Speaks is the printer of words: in the language the shop chose, else the one the
// browser asks for, with the comma where language or shop has it, and with a minus where people read.
func Speaks(r *http.Request, st *shop.State) *say.Printer {
	p := say.For(st.Shop.Language, r.Header.Get("Accept-Language"))
	if !WantsJSON(r) {
		p = p.ForEyes()
	}
	if st.Shop.DecimalComma {
		return p.WithComma()
	}
	return p
}

// WantsJSON reports whether the caller is a program that asks for JSON.
func WantsJSON(r *http.Request) bool {
	accept := r.Header.Get("Accept")
	return strings.Contains(accept, "application/json") && !strings.Contains(accept, "text/html")
}

// Materials is the table of materials with the shop's own values on top; the
// books alone when one of those is refused, so that its page can still mend it.
func (d *Desk) Materials() *polymer.Table {
	t, err := d.State.Table()
	if err != nil {
		return polymer.Books()
	}
	return t
}

// LotCrumb is the way back to a lot.
func (d *Desk) LotCrumb(id shop.LotID) *address.Link {
	return &address.Link{To: address.Lot(id), Say: d.Say.Line("go.lot_page", fact.Name("lot", string(id)))}
}

// LotOptions offers the lots that have something, of some classes.
func (d *Desk) LotOptions(none string, classes ...shop.Class) []forms.Option {
	opts := []forms.Option{{Value: "", Say: none}}
	lots := d.State.Stock(classes...)
	lots = lots[max(0, len(lots)-mostOffered):]
	if l, ok := d.State.Lot(shop.LotID(d.Query("lot"))); ok && !slices.ContainsFunc(lots, func(x *shop.Lot) bool { return x.ID == l.ID }) {
		lots = append(lots, l)
	}
	for _, l := range lots {
		if slices.Contains(classes, l.Class) {
			opts = append(opts, forms.Option{Value: string(l.ID), Say: LotLine(d.Say, l)})
		}
	}
	return opts
}

// mostOffered is how many lots a field offers, the latest; an older one is reached from
// its page. Judgement: nobody looks through more.
const mostOffered = 200

// mostColoured is of how many of the latest lots the colours are offered.
const mostColoured = 1000

// Colours are the colour words this shop has used, for suggestions.
func (d *Desk) Colours() []string {
	var words []string
	seen := map[string]bool{"": true}
	for _, id := range d.State.Order[max(0, len(d.State.Order)-mostColoured):] {
		if c := d.State.Lots.At(id).Colour; !seen[c] {
			seen[c] = true
			words = append(words, c)
		}
	}
	return words
}

// Coarseness is how large a lot's grains are drawn: its largest piece, or the
// hole of the screen it last came through. Nobody said: 0.
func (d *Desk) Coarseness(l *shop.Lot) float64 {
	if l.Pieces.Largest != nil {
		return *l.Pieces.Largest
	}
	for i := len(l.Records) - 1; i >= 0; i-- {
		r, _ := d.State.Record(l.Records[i])
		g, ok := r.Body.(*shop.Ground)
		if !ok || g.Into != l.ID {
			continue
		}
		if g.Hole != nil {
			return *g.Hole
		}
		if m, ok := d.State.MillAt(r.ID); ok && m.Screen.Hole != nil {
			return *m.Screen.Hole
		}
	}
	return 0
}

// Losses are what left a lot other than into another, each name once.
func (d *Desk) Losses(id shop.LotID) []forms.Option {
	var list []forms.Option
	for _, x := range d.State.Losses.ByName(id) {
		list = append(list, forms.Option{Value: d.Say.Line("loss." + strings.ReplaceAll(x.Name, " ", "_")), Say: d.Say.Weighed(x.Mass)})
	}
	return list
}
